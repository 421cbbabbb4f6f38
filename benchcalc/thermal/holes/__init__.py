"""Holes in a tube: heat that passes, strength that is left."""
