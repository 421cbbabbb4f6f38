"""Reading logs of readings as people have them."""
