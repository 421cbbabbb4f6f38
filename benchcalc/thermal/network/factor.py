"""One band matrix at a time: factored and solved for many right sides, times a vector, written out."""

import numpy as np


class Factor:
    """Work space for band matrices of one size.

    A balance of heat is diagonally dominant by columns, so its factoring mostly exchanges no rows; then each solve is
    two plain sweeps, in half the time of LAPACK's routine, which follows exchanges.
    exchanged: whether the last factoring moved rows.
    """

    def __init__(self, n, half):
        """n: unknowns. half: half width of the band."""
        from scipy.linalg.blas import dtbsv
        from scipy.linalg.lapack import dgbtrf, dgbtrs

        wide = 3 * half + 1
        space = np.zeros((n + 1) * wide)  # one column more: the views below begin later in it

        def view(begin):
            return space[begin : begin + n * wide].reshape(n, wide)

        columns = view(0)
        self.core, self.middle = columns[:, half:], columns[:, 2 * half]
        self.places = np.arange(n, dtype=np.int32).tobytes()
        self.n, self.half, self.across, self.exchanged, self.pivots = n, half, columns.T, False, None
        self.lower, self.upper = view(2 * half).T, view(half).T
        self.dtbsv, self.dgbtrf, self.dgbtrs = dtbsv, dgbtrf, dgbtrs

    def take(self, band, more):
        """Factor a matrix.

        band: the entry of row r and column c at [c, half + r - c], (n, 2 half + 1). more: for the diagonal (n,).
        """
        half, n = self.half, self.n
        self.core[:] = band
        self.middle += more
        _, self.pivots, _ = self.dgbtrf(self.across, half, half, n, n, 3 * half + 1, 1)
        self.exchanged = self.pivots.tobytes() != self.places

    def solve(self, right):
        """Solve in place.  right: (n,)."""
        half = self.half
        if self.exchanged:
            self.dgbtrs(self.across, half, half, right, self.pivots, 0, self.n, 3 * half + 1, self.n, 1)
        else:
            self.dtbsv(half, self.lower, right, 1, 0, 1, 0, 1, 1)
            self.dtbsv(half, self.upper, right, 1, 0, 0, 0, 0, 1)


def times_vector(band, values):
    """A band matrix times a vector.

    band: the entry of row r and column c at [c, half + r - c], (n, 2 half + 1). values: (n,).
    Returns array (n,).
    """
    from scipy.linalg.blas import dgbmv

    n, half = values.size, band.shape[1] // 2
    if n < band.shape[1]:  # the band routine wants at least as many nodes as diagonals
        return full(band, half) @ values
    return dgbmv(n, n, half, half, 1.0, band.T, values)


def full(band, half):
    """A band matrix written out in full.

    band: (column, diagonal) array (n, 2 half + 1). half: half width.
    Returns array (n, n).
    """
    n = band.shape[0]
    matrix = np.zeros((n, n))
    for column in range(n):
        for row in range(max(0, column - half), min(n, column + half + 1)):
            matrix[row, column] = band[column, half + row - column]
    return matrix
