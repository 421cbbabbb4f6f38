"""Link: the way out for the current."""
