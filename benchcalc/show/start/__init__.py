"""Page 00: the form."""
