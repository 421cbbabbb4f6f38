"""Nodes without capacity: they are in balance with the others at every moment.

They are few beside the others and mostly linked to these alone, so their own equations make a narrow band.
"""

import numpy as np

from ...basics.fault import fault


class Massless:
    """The nodes without capacity of a network, and how they hang on each other.

    nodes: their places (m,). half: half width of the band of their own equations.
    """

    def __init__(self, banded):
        """banded: Banded."""
        half = banded.half
        self.nodes = np.flatnonzero(banded.capacity_j_k == 0)
        number = np.full(banded.free.size, -1)
        number[self.nodes] = np.arange(self.nodes.size)
        columns = self.nodes[:, None] + np.arange(-half, half + 1)
        diagonal = half + self.nodes[:, None] - columns
        inside = (columns >= 0) & (columns < number.size)
        linked = inside & (number[np.clip(columns, 0, number.size - 1)] >= 0)
        linked &= np.any([_gathered(s, columns, diagonal) != 0 for s in banded.slots], axis=0) | (diagonal == half)
        row, at = np.nonzero(linked)
        self.entries = diagonal[row, at], columns[row, at]
        other = number[columns[row, at]]
        self.half = int(np.abs(row - other).max(initial=0))
        self.places = other, 2 * self.half + row - other

    def step(self, slopes, push):
        """Change that brings these nodes into balance, the others staying.

        slopes: -dq/dT by diagonals, W/K (2 half + 1, n). push: W into each node (n,).
        Returns K (m,).
        """
        from scipy.linalg.lapack import dgbsv

        matrix = np.zeros((self.nodes.size, 3 * self.half + 1))
        matrix[self.places] = slopes[self.entries]
        _, _, change, info = dgbsv(self.half, self.half, matrix.T, push[self.nodes], 1, 1)
        if info:
            raise fault("warming up", "", "a node without capacity has a temperature that nothing settles.")
        return change


def _gathered(slot, columns, diagonal):
    """Entries of a slot's matrix (0 outside its nodes)."""
    inside = (columns >= slot.a) & (columns < slot.b)
    return np.where(inside, slot.band[np.clip(columns, slot.a, slot.b - 1) - slot.a, diagonal], 0.0)
