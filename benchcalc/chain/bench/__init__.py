"""Link: soak, fuse, cable, leakage: what is measured and protected at the bench."""
