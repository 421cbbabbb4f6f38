"""The user's build: load, check, change, keep, work out."""
