"""What asks the chain many times."""
