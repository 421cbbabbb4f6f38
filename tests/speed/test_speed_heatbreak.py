"""Speed of the two-dimensional wall of a heat break against an open finite-element library, rounds alternated in one run.

About as many unknowns each; meshing is not counted for the library, all of ours is.  Equal error: both within 0.5 % of a
fine solution.
"""

import numpy as np
from speed.test_speed_network import race
from thermal.holes.plate_fem import extra_by_fem, half_cell, solve_mesh

from benchcalc.thermal.holes.pattern import Pattern
from benchcalc.thermal.holes.solved_wall import solve_wall

CELL = (10e-3, 8.8e-3, 6, 3e-3, 2, 4e-3, True)


def test_a_cell_of_four_thousand_unknowns():
    """Aim 8, limit 4; and fast enough to follow a slider."""
    exact = extra_by_fem(*CELL, fine=2.0)
    mesh, long, half = half_cell(*CELL, fine=0.55)
    wall = solve_wall(Pattern(*CELL))
    assert 3000 < wall.rise.size < 6000
    assert abs(wall.extra_m / exact - 1) < 5e-3 and abs(solve_mesh(mesh, long, half) / exact - 1) < 5e-3
    print(f"\n{wall.rise.size} cells against {mesh.nvertices + mesh.nfacets} quadratic unknowns")
    assert mesh.nvertices + mesh.nfacets < 1.8 * wall.rise.size
    ratios = race(
        {
            "finite volumes on half a pitch": lambda: solve_wall(Pattern(*CELL)),
            "scikit-fem, assemble and solve, mesh ready": lambda: solve_mesh(mesh, long, half),
        }
    )
    assert np.isfinite(list(ratios.values())).all()
    assert ratios["scikit-fem, assemble and solve, mesh ready"] > 4
