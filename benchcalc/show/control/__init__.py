"""What the control page draws and tells."""
