"""Nodes without capacity: they are in balance with the others at every moment."""

import numpy as np

from ...basics.fault import fault


def own_rows(heavy, half):
    """Which entries of a band belong to rows of nodes without capacity.

    heavy: True where a node has capacity (n,). half: half width of the band.
    Returns array (2 half + 1, n), 1 in those rows and 0 in the others: a row of the matrix lies aslant in the band.
    """
    rows = np.arange(heavy.size) + np.arange(-half, half + 1)[:, None]
    inside = (rows >= 0) & (rows < heavy.size)
    return np.where(inside, ~heavy[np.clip(rows, 0, heavy.size - 1)], True).astype(float)


def massless_step(heavy, own, slopes, into):
    """Change of the nodes without capacity that brings them into balance, the others being given.

    heavy: True where a node has capacity (n,). own: of own_rows. slopes: -dq/dT by diagonals, used up. into: W (n,)
    where there is no capacity, elsewhere the change given, K.
    Returns K (n,).
    """
    from scipy.linalg.lapack import dgbsv

    half = own.shape[0] // 2
    slopes *= own
    slopes[half, heavy] = 1.0
    matrix = np.zeros((heavy.size, 3 * half + 1))
    matrix[:, half:] = slopes.T
    _, _, change, info = dgbsv(half, half, matrix.T, into, 1, 0)
    if info:
        raise fault("warming up", "", "a node without capacity has a temperature that nothing settles.")
    return change
