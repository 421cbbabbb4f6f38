"""The solver: networks of nodes, settled or in time."""
