"""Nodes without capacity: they are in balance with the others at every moment.

They are few beside the others and mostly linked to these alone, so their own equations make a narrow band.
"""

from functools import lru_cache

import numpy as np

from ...basics.fault import fault
from .structure import marked


def massless_of(banded):
    """The nodes without capacity of a network; None where each has some.

    banded: Banded.
    Returns Massless, the same one for networks of one structure whose nodes without capacity are the same.
    """
    light = banded.capacity_j_k == 0
    return _massless(banded.structure, light.tobytes()) if light.any() else None


@lru_cache(maxsize=16)
def _massless(structure, light):
    return Massless(structure, np.flatnonzero(np.frombuffer(light, dtype=bool)))


class Massless:
    """The nodes without capacity of a network, and how they hang on each other.

    nodes: their places (m,). half: half width of the band of their own equations.
    """

    def __init__(self, structure, nodes):
        """structure: Structure. nodes: as above."""
        n, half = structure.free.size, structure.half
        self.nodes = nodes
        number = np.full(n, -1)
        number[self.nodes] = np.arange(self.nodes.size)
        column, diagonal = np.divmod(marked(n * (2 * half + 1), structure.slopes_at), 2 * half + 1)
        row = column + diagonal - half
        inner = (number[row] >= 0) & (number[column] >= 0) & (row != column)
        own = self.nodes, np.full(self.nodes.size, half)  # a node may have no way but a surface of its own
        self.entries = tuple(np.concatenate(pair) for pair in zip((column[inner], diagonal[inner]), own))
        row, column = (np.concatenate([number[x[inner]], number[self.nodes]]) for x in (row, column))
        self.half = int(np.abs(row - column).max(initial=0))
        self.places = column, 2 * self.half + row - column

    def step(self, slopes, push):
        """Change that brings these nodes into balance, the others staying.

        slopes: -dq/dT as a band, W/K (n, 2 half + 1). push: W into each node (n,).
        Returns K (m,).
        """
        from scipy.linalg.lapack import dgbsv

        matrix = np.zeros((self.nodes.size, 3 * self.half + 1))
        matrix[self.places] = slopes[self.entries]
        _, _, change, info = dgbsv(self.half, self.half, matrix.T, push[self.nodes], 1, 1)
        if info:
            raise fault("warming up", "", "a node without capacity has a temperature that nothing settles.")
        return change
