"""Link: what a warm-up log says."""
