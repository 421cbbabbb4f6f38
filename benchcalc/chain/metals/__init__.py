"""Link: which metals stand the heat and carry it."""
