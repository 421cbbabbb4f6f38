"""Link: the handle, the heat break, what a hand may touch."""
