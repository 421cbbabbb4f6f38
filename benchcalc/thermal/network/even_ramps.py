"""Conductivity integrals as quadratic pieces on even grids: one look-up, however many points a material has.

A material's conductivity is straight between its points, so its integral is a parabola in each cell of any grid that
all points lie on.  The table is exact, and a material of thirty points (air) takes no longer than one of two.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from .curves import ramps

MOST_CELLS = 4000  # of a material's grid


@dataclass(frozen=True, eq=False)
class EvenRamps:
    """Ramps of all materials as quadratic pieces on even grids (ramp_pieces), side by side in one table; the
    last material is one without ramps.  first_c, per_k, offset, last: of each material's grid (k + 1,)."""

    table: np.ndarray
    first_c: np.ndarray
    per_k: np.ndarray
    offset: np.ndarray
    last: np.ndarray


@lru_cache(maxsize=256)
def ramp_pieces(material):
    """The sum of a material's ramps and its integral, in quadratic pieces on an even grid: as exact, and one look-up.

    material: Conductivity.
    Returns (first_c, step_k, pieces (3, cells + 2)): with x = 0..1 across a cell the integral is
    p0 + x (p1 + x p2) W/m beyond that of the base value, and the sum is (p1 + 2 x p2) / step_k W/(m K).  The first cell
    is all that lies below the grid, the last all that lies above.  None where its temperatures fit no grid of at most
    MOST_CELLS cells.
    """
    _, low_c, width_k, slope = ramps(material)
    if not slope.size:
        return 0.0, 1.0, np.zeros((3, 2))
    corners = np.concatenate([low_c, low_c + width_k])
    hundredths = np.round(100 * corners).astype(int)
    step = int(np.gcd.reduce(hundredths - hundredths.min()))
    count = int(np.ptp(hundredths)) // step
    if np.abs(100 * corners - hundredths).max() > 1e-6 or count > MOST_CELLS:
        return None
    first_c, step_k = hundredths.min() / 100, step / 100
    at = first_c + step_k * np.arange(count + 1)
    over = at[:, None] - low_c
    risen = np.clip(over, 0.0, width_k)
    value, rise = (slope * risen * (over - risen / 2)).sum(axis=1), (slope * risen).sum(axis=1)
    pieces = np.zeros((3, count + 2))
    pieces[0, 1:], pieces[1, 1:] = value, rise * step_k
    pieces[2, 1:-1] = np.diff(rise) * step_k / 2
    return first_c, step_k, pieces


@lru_cache(maxsize=64)
def even_ramps(materials):
    """The ramps of materials as even pieces.

    materials: tuple of Conductivity.
    Returns EvenRamps; None where one of them has no even grid.
    """
    found = [ramp_pieces(m) for m in materials]
    if any(f is None for f in found):
        return None
    found.append((0.0, 1.0, np.zeros((3, 2))))
    cells = np.array([f[2].shape[1] for f in found])
    table = np.ascontiguousarray(np.concatenate([f[2] for f in found], axis=1))
    first_c, step_k = (np.array([f[k] for f in found]) for k in (0, 1))
    return EvenRamps(table, first_c, 1.0 / step_k, np.cumsum(cells) - cells, cells - 1)
