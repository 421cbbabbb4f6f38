"""The chain: what follows from what, one folder for each link, and the verdicts."""
