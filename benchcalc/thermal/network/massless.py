"""Nodes without capacity: they are in balance with the others at every moment.

They are few beside the others and mostly linked to these alone, so their own equations make a narrow band.
"""

import numpy as np

from ...basics.fault import fault
from .balance import skin_slope, slot_slope

AT_ONCE = 64  # moments looked at together; more would cost memory


class Massless:
    """The nodes without capacity of a network, and what hangs on them.

    nodes: their places (m,). Entries of the balance of each, diagonals included: row (which of them), column (place
    among all nodes); inner: those whose column is one of them.
    """

    def __init__(self, banded):
        """banded: Banded."""
        self.banded, half, n = banded, banded.half, banded.free.size
        self.heavy = banded.capacity_j_k > 0
        self.nodes = np.flatnonzero(~self.heavy)
        columns = self.nodes[:, None] + np.arange(-half, half + 1)
        diagonal = half + self.nodes[:, None] - columns
        weights = [_gathered(s, columns, diagonal) for s in banded.slots]
        linked = np.any([w != 0 for w in weights], axis=0)
        linked[:, half] = True
        self.row, at = np.nonzero(linked)
        self.column, self.diagonal = columns[self.row, at], diagonal[self.row, at]
        self.weights = [w[linked] for w in weights]
        self.starts = np.searchsorted(self.row, np.arange(self.nodes.size))
        number = np.full(n, -1)
        number[self.nodes] = np.arange(self.nodes.size)
        self.inner = np.flatnonzero(number[self.column] >= 0)
        other = number[self.column[self.inner]]
        away = self.row[self.inner] - other
        self.half = int(np.abs(away).max(initial=0))
        self.places = other, 2 * self.half + away

    def step(self, slopes, push):
        """Change that brings these nodes into balance, the others staying.

        slopes: -dq/dT by diagonals, W/K (2 half + 1, n). push: W into each node (n,).
        Returns K (m,).
        """
        inner = slopes[self.diagonal[self.inner], self.column[self.inner]]
        return self._solved(inner[None], push[None, self.nodes])[0]

    def rates(self, state, rates):
        """Rates of all nodes at many moments, from those of the nodes with capacity.

        state: K (moments, n). rates: K/s (moments, n).
        Returns K/s (moments, n).
        """
        filled = np.where(self.heavy, rates, 0.0)
        for a in range(0, len(state), AT_ONCE):
            some = filled[a : a + AT_ONCE]
            slopes = self._slopes(state[a : a + AT_ONCE])
            brought = np.add.reduceat(slopes * some[:, self.column], self.starts, axis=1)
            some[:, self.nodes] = self._solved(slopes[:, self.inner], -brought)
        return filled

    def _slopes(self, state):
        """-dq/dT of all entries (moments, entries)."""
        temps, rise = self.banded.holding.temps_and_rise(state)
        slopes = np.zeros((len(state), self.row.size))
        for slot, weight in zip(self.banded.slots, self.weights):
            mine = np.flatnonzero(weight)
            if slot.kind == "straight":
                slopes += weight
            elif mine.size:
                slope = slot_slope(slot, temps[:, slot.a : slot.b])
                slopes[:, mine] += slope[:, self.column[mine] - slot.a] * weight[mine]
        own = np.flatnonzero(self.column == self.nodes[self.row])  # the diagonals: one for each node, in their order
        for skin in self.banded.skins:
            here = np.flatnonzero((self.nodes >= skin.a) & (self.nodes < skin.b))
            slopes[:, own[here]] += skin_slope(skin, temps[:, skin.a : skin.b])[:, self.nodes[here] - skin.a]
        return slopes if rise is None else slopes * rise[:, self.column]

    def _solved(self, inner, right):
        """Solutions (moments, m) of the nodes' own equations.  inner: their entries. right: (moments, m)."""
        from scipy.linalg.lapack import dgbsv

        half, found = self.half, np.empty(right.shape)
        matrix = np.zeros((*right.shape, 3 * half + 1))
        matrix[:, *self.places] = inner
        for k in range(len(right)):
            _, _, found[k], info = dgbsv(half, half, matrix[k].T, right[k], 1, 0)
            if info:
                raise fault("warming up", "", "a node without capacity has a temperature that nothing settles.")
        return found


def _gathered(slot, columns, diagonal):
    """Entries of a slot's matrix (0 outside its nodes)."""
    inside = (columns >= slot.a) & (columns < slot.b)
    return np.where(inside, slot.band[np.clip(columns, slot.a, slot.b - 1) - slot.a, diagonal], 0.0)
