"""What a log teaches the model, and what it cannot tell apart."""
