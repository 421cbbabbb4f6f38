"""Page 06: logs."""
