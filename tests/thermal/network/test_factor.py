"""Band matrices factored and solved, rows exchanged or not, against scipy's banded solver."""

import numpy as np
import pytest
from scipy.linalg import solve_banded

from benchcalc.thermal.network.factor import Factor, times_vector


@pytest.mark.parametrize("size, half", [(1, 1), (4, 1), (5, 3), (40, 3), (200, 7)])
@pytest.mark.parametrize("heaviest", [0.0, 30.0])
def test_a_band_matrix_by_scipy(size, half, heaviest):
    """Dominant by columns it exchanges no rows; without a heavy diagonal it must, and is as right."""
    draw = np.random.default_rng(size + half)
    factor, rows = Factor(size, half), np.arange(size)
    for _ in range(2):
        diagonals, more = draw.normal(size=(2 * half + 1, size)), draw.normal(size=size) + heaviest
        at = rows + np.arange(-half, half + 1)[:, None]
        diagonals[(at < 0) | (at >= size)] = 0.0
        whole = diagonals.copy()
        whole[half] += more
        wanted = draw.normal(size=size)
        right = times_vector(whole.T.copy(), wanted)
        factor.take(diagonals.T, more)
        assert factor.exchanged == (heaviest == 0 and size > 1)
        found = right.copy()
        factor.solve(found)
        assert found == pytest.approx(solve_banded((half, half), whole, right), rel=1e-8, abs=1e-8)
        assert found == pytest.approx(wanted, rel=1e-6, abs=1e-6)
