"""Which reading to take first: what each would firm, before it is taken."""
