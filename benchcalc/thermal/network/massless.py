"""Nodes without capacity: they are in balance with the others at every moment."""

import numpy as np

from ...basics.fault import fault


def massless_step(heavy, half, slopes, into):
    """Change of the nodes without capacity that brings them into balance, the others being given.

    heavy: True where a node has capacity (n,). half: half width of the band. slopes: -dq/dT by
    diagonals, used up. into: W (n,) where there is no capacity, elsewhere the change given, K.
    Returns K (n,).
    """
    from scipy.linalg.lapack import dgbsv

    places = np.flatnonzero(heavy)
    for d in range(-half, half + 1):  # a row of the matrix lies aslant in the band
        columns = places - d
        there = (columns >= 0) & (columns < heavy.size)
        slopes[half + d, columns[there]] = 0.0
    slopes[half, places] = 1.0
    matrix = np.zeros((heavy.size, 3 * half + 1))
    matrix[:, half:] = slopes.T
    _, _, change, info = dgbsv(half, half, matrix.T, into, 1, 0)
    if info:
        raise fault("warming up", "", "a node without capacity has a temperature that nothing settles.")
    return change
