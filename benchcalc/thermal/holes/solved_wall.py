"""The unrolled wall of a heat break in two dimensions: any rings of holes or slots, and the lines of heat flow.

Half a pitch is enough: heat does not cross the middle of a hole, nor the middle of the web.  Cells cut by a hole keep
the open part of each of their faces (worked out exactly from the shape of the hole).
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from .pattern import Pattern, middle_of_wall, sizes_of

PLAIN_PITCHES = 1.5  # of undisturbed tube on each side
CELLS_IN_WEB = 4  # across half of the narrowest web
FEWEST_ACROSS, MOST_ACROSS = 32, 72
GROWTH, LONGEST = 1.3, 6.0  # cells grow away from the holes, up to this many times


@dataclass(frozen=True, eq=False)
class Wall:
    """A solved half-pitch cell.  around_m, along_m: cell edges, along_m from the middle of the first ring.

    rise: temperature between 1 (hot end) and 0 (cold end), (around, along), nan inside holes. stream: heat that passes
    between the middle of a hole and each corner, as a share of all, (around + 1, along + 1). extra_m: the answer.
    """

    around_m: np.ndarray
    along_m: np.ndarray
    rise: np.ndarray
    stream: np.ndarray
    extra_m: float


@lru_cache(maxsize=512)
def solved_extra(p: Pattern):
    """Extra length of plain tube that a break is worth, from the two-dimensional solve.

    p: Pattern.
    Returns m, within 0.5 % of a fine finite-element solution.
    Not covered: taper of a hole through the wall, heat shed inside the break, radiation through the holes.
    """
    return wall_of(p).extra_m


@lru_cache(maxsize=32)
def wall_of(p: Pattern):
    """The solved wall of a pattern, kept for a while: a page draws what the model has just used.

    p: Pattern.
    Returns Wall.
    """
    return solve_wall(p)


def solve_wall(p, across=None):
    """Solve the heat flow along the unrolled wall.

    p: Pattern that leaves webs. across: number of cells in half a pitch, None: as many as the narrowest web needs.
    Returns Wall.
    Equation: div(k grad T) = 0 with no flow into holes; finite volumes on a plain grid with open shares of faces.
    """
    from scipy.sparse import diags_array
    from scipy.sparse.linalg import splu

    pitch, hole_round = sizes_of(p)
    half = pitch / 2
    if across is None:
        web = (pitch - hole_round) / 2
        across = int(np.clip(np.ceil(half / web * CELLS_IN_WEB), FEWEST_ACROSS, MOST_ACROSS))
    dy = half / across
    y = np.linspace(0.0, half, across + 1)
    z = _along(p, dy, pitch)
    dz = np.diff(z)
    middle_y, middle_z = (y[1:] + y[:-1]) / 2, (z[1:] + z[:-1]) / 2
    open_y = _open(p, z[1:-1], y, along=False)  # faces across the tube's axis: (around, inner z edges)
    open_z = _open(p, y[1:-1], z, along=True)  # faces along it: (inner y edges, along)
    g_z = open_y / ((dz[1:] + dz[:-1]) / 2)
    g_y = open_z / dy
    g_hot, g_cold = dy / (dz[0] / 2) * np.ones(across), dy / (dz[-1] / 2) * np.ones(across)
    diagonal = np.zeros((across, len(dz)))
    diagonal[:, :-1] += g_z
    diagonal[:, 1:] += g_z
    diagonal[:-1] += g_y
    diagonal[1:] += g_y
    diagonal[:, 0] += g_hot
    diagonal[:, -1] += g_cold
    hollow = diagonal <= 1e-12 * np.max(diagonal)
    up = np.zeros((len(dz), across))  # numbered across first
    up[:, 1:] = -g_y.T
    up, far, right = up.ravel()[1:], -g_z.T.ravel(), np.zeros((len(dz), across))
    right[0] = g_hot
    matrix = diags_array(
        [far, up, np.where(hollow, 1.0, diagonal).T.ravel(), up, far], offsets=[-across, -1, 0, 1, across], format="csc"
    )
    solver = splu(matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
    rise = solver.solve(right.ravel()).reshape(len(dz), across).T
    flow = np.concatenate(
        [(g_hot * (1 - rise[:, 0]))[:, None], g_z * (rise[:, :-1] - rise[:, 1:]), (g_cold * rise[:, -1])[:, None]],
        axis=1,
    )
    total = float(flow[:, 0].sum())
    stream = np.concatenate([np.zeros((1, len(z))), np.cumsum(flow, axis=0)]) / total
    inside = _inside(p, middle_y[:, None], middle_z[None, :])
    return Wall(y, z, np.where(hollow | inside, np.nan, rise), stream, half / total - (z[-1] - z[0]))


def _along(p, dy, pitch):
    """Edges of the cells along the tube: even where holes are, growing beyond."""
    first, last = -p.hole_m / 2 - 2 * dy, (p.rings - 1) * p.spacing_m + p.hole_m / 2 + 2 * dy
    even = np.linspace(first, last, int(np.ceil((last - first) / dy)) + 1)
    steps, reach = [], 0.0
    while reach < PLAIN_PITCHES * pitch:
        steps.append(dy * min(GROWTH ** (len(steps) + 1), LONGEST))
        reach += steps[-1]
    grown = np.cumsum(steps)
    return np.concatenate([first - grown[::-1], even, last + grown])


def _rows(p):
    """For each ring: its place along the tube, and where its holes stand in the half pitch."""
    half = sizes_of(p)[0] / 2
    for ring in range(p.rings):
        yield ring * p.spacing_m, half if p.staggered and ring % 2 else 0.0


def _open(p, at, edges, along):
    """Open length of each face.  at: coordinate of the faces, edges: their ends, along: faces that run along z."""
    middle = middle_of_wall(p.outer_m, p.inner_m)
    taken = np.zeros((len(at), len(edges) - 1))
    for z0, y0 in _rows(p):
        if along:  # faces at y = at, running along z: half height of the hole there
            out = np.maximum(np.abs(at - y0) - p.slot_m / 2, 0.0)
            chord = middle / 2 * np.sin(np.minimum(2 * out / middle, np.pi / 2))
            half, centre = np.sqrt(np.maximum((p.hole_m / 2) ** 2 - chord**2, 0.0)), z0
        else:  # faces at z = at, running along y: half width of the hole there
            inner = (p.hole_m / 2) ** 2 - (at - z0) ** 2
            half = np.where(
                inner > 0, middle / 2 * np.arcsin(2 * np.sqrt(np.maximum(inner, 0.0)) / middle) + p.slot_m / 2, 0.0
            )
            centre = y0
        low, high = (centre - half)[:, None], (centre + half)[:, None]
        taken += np.clip(np.minimum(edges[1:], high) - np.maximum(edges[:-1], low), 0.0, None)
    left = np.maximum(np.diff(edges)[None, :] - taken, 0.0)
    return left if along else left.T


def _inside(p, y, z):
    middle = middle_of_wall(p.outer_m, p.inner_m)
    found = np.zeros(np.broadcast(y, z).shape, bool)
    for z0, y0 in _rows(p):
        x = middle / 2 * np.sin(2 * np.maximum(np.abs(y - y0) - p.slot_m / 2, 0.0) / middle)
        found |= x**2 + (z - z0) ** 2 < (p.hole_m / 2) ** 2
    return found


def outline(p, points=48):
    """The edge of one hole on the unrolled wall, about its middle.

    p: Pattern. points: number of points.
    Returns (around_m, along_m).
    """
    middle = middle_of_wall(p.outer_m, p.inner_m)
    turn = np.linspace(0.0, 2 * np.pi, points)
    around = middle / 2 * np.arcsin(p.hole_m / middle * np.cos(turn))
    return around + np.sign(np.round(np.cos(turn), 9)) * p.slot_m / 2, p.hole_m / 2 * np.sin(turn)
