"""Page 06: calibrating."""
