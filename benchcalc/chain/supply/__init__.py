"""Link: what the supply can really give."""
