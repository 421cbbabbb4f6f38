"""Link: how hot tip, winding, tube and handle get, and when."""
