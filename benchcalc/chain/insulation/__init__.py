"""Link: which insulation lasts."""
