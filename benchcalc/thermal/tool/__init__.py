"""From parts to tracks, mesh and network."""
