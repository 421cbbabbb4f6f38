"""Link: which wire, how long, how many turns, will it fit."""
