"""The two-dimensional wall of a heat break against an open finite-element library.

Equal error: both within 0.5 % of a fine solution. About as many unknowns each; in the table meshing is not counted for
the library, all of ours is.
"""

import numpy as np
import scipy.sparse.linalg
from thermal.holes.plate_fem import extra_by_fem, half_cell, solve_mesh

from benchcalc.thermal.holes.pattern import Pattern
from benchcalc.thermal.holes.solved_wall import solve_wall

CELL = (10e-3, 8.8e-3, 6, 3e-3, 2, 4e-3, True)


def test_a_cell_of_four_thousand_unknowns(race, monkeypatch):
    """One factorisation and one solve, with no more unknowns than the library and a factor that stays sparse."""
    exact = extra_by_fem(*CELL, fine=2.0)
    mesh, long, half = half_cell(*CELL, fine=0.55)
    wall, theirs = race(
        {
            "finite volumes on half a pitch": lambda: solve_wall(Pattern(*CELL)),
            "scikit-fem, assemble and solve, mesh ready": lambda: solve_mesh(mesh, long, half),
        }
    ).values()
    assert abs(wall.extra_m / exact - 1) < 5e-3 and abs(theirs / exact - 1) < 5e-3
    assert 3000 < wall.rise.size < 6000
    assert mesh.nvertices + mesh.nfacets < 1.8 * wall.rise.size
    factors, splu = [], scipy.sparse.linalg.splu
    monkeypatch.setattr(scipy.sparse.linalg, "splu", lambda *a, **k: factors.append(splu(*a, **k)) or factors[-1])
    solve_wall(Pattern(*CELL))
    assert len(factors) == 1 and factors[0].shape[0] == wall.rise.size
    assert factors[0].L.nnz < 12 * wall.rise.size
    assert np.isfinite(wall.extra_m)
