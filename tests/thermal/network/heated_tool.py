"""A test problem, invented for checking solvers: a heated tool as three coaxial tracks.

Nothing in it is a default of the project; its loss law and couplings are simplified on purpose.

Along x (mm from the tip's end): copper tip 0-40, 6 diameter; steel stem 40-100, 4 diameter; wire sleeve
55-100 over the stem, no conduction along it; stainless tube 40-190, 10 outside, wall 0.6; joint
stem-tube 40-55; heat break 110-122 (metal section x 0.35); wooden handle 130-190.  40 W in the sleeve,
from cold, for an hour.
"""

import numpy as np

from benchcalc.thermal.network.curves import STEFAN_BOLTZMANN_W_M2K4 as SIGMA
from benchcalc.thermal.network.curves import conductivity, loss_curve
from benchcalc.thermal.network.network import Bars, Links, Network, Rays, Skins

AMBIENT_C, POWER_W = 20.0, 40.0
HOUR_S = 3600.0
COPPER = conductivity("copper", 390.0)
STEEL = conductivity("steel", (50.0, 50.0 - 0.03 * 1400), (20.0, 1420.0))
STAINLESS = conductivity("stainless", (15.0, 15.0 + 0.015 * 1400), (20.0, 1420.0))


def surface(diameter_m):
    """The problem's loss law, W/m2."""

    def loss(temp_c):
        over = temp_c - AMBIENT_C
        return 1.32 * (np.abs(over) / diameter_m) ** 0.25 * over + 0.6 * SIGMA * (
            (temp_c + 273.15) ** 4 - (AMBIENT_C + 273.15) ** 4
        )

    return loss


def uniform(cell_mm):
    return np.arange(0, 220 + cell_mm / 2, cell_mm)


GRADED = np.concatenate([np.arange(0, 36, 2.0), np.arange(36, 66, 1.0), np.arange(66, 221, 2.0)])


def covered(edges_mm, a_mm, b_mm):
    """Length of each cell between a and b, in m."""
    return np.clip(np.minimum(edges_mm[1:], b_mm) - np.maximum(edges_mm[:-1], a_mm), 0, None) * 1e-3


def build(edges_mm, *, face_node=True, with_curves=True, scale=None):
    """The tool on cells between these edges, numbered cell by cell: core, sleeve, tube.

    scale: {"power", "joint", "handle", "skin", "sleeve": factor, float or (designs,)} or None.
    Returns Network, and dict of node numbers: tip (two cells), sleeve, entry (two cells).
    """
    scale = {k: np.asarray(v)[..., None] if np.ndim(v) else v for k, v in (scale or {}).items()}
    f = {"power": 1.0, "joint": 1.0, "handle": 1.0, "skin": 1.0, "sleeve": 1.0} | scale
    dx = np.diff(edges_mm) * 1e-3
    x = (edges_mm[:-1] + edges_mm[1:]) / 2
    tip_mm, stem, sleeve, tube = x < 40, (x > 40) & (x < 100), covered(edges_mm, 55, 100), (x > 40) & (x < 190)
    core = tip_mm | stem
    names, number = [], {"core": {}, "sleeve": {}, "tube": {}}
    face = int(np.flatnonzero(stem)[0])
    for c in range(x.size):
        if face_node and c == face:
            names.append("face")
        for track, there in (("core", core), ("sleeve", sleeve > 0), ("tube", tube)):
            if there[c]:
                number[track][c] = len(names)
                names.append(f"{track} {x[c]:g}")
    names.append("room")
    n, room = len(names), len(names) - 1
    tip_m2, stem_m2 = np.pi * 9e-6, np.pi * 4e-6
    wall_m2 = np.pi / 4 * (10e-3**2 - 8.8e-3**2)
    capacity, power = np.zeros(n), np.zeros(n)
    broken = covered(edges_mm, 110, 122) / dx
    section = wall_m2 * (1 - 0.65 * broken)
    links, bars, rays, skins = [], [], [], []
    for c, k in number["core"].items():
        copper = c < face
        capacity[k] = (tip_m2 * 3.45e6 if copper else stem_m2 * 3.9e6) * dx[c]
        if copper:
            skins.append((k, np.pi * 6e-3 * dx[c] + (tip_m2 if c == 0 else 0.0), 0))
        before = number["core"].get(c - 1)
        if before is None:
            continue
        if c == face:
            a, b = tip_m2 / (dx[c - 1] / 2), stem_m2 / (dx[c] / 2)
            if face_node:
                bars += [(before, k - 1, a, 0), (k - 1, k, b, 1)]
            else:
                links.append((before, k, 1 / (1 / (390 * a) + 1 / (42.6 * b))))
        else:
            area = tip_m2 if copper else stem_m2
            bars.append((before, k, area / ((dx[c - 1] + dx[c]) / 2), 0 if copper else 1))
    for c, k in number["sleeve"].items():
        capacity[k], power[k] = 3.0 * sleeve[c] / 45e-3, POWER_W * sleeve[c] / 45e-3
        links += [(k, number["core"][c], 0.6 * sleeve[c] * f["sleeve"]), (k, number["tube"][c], 0.25 * sleeve[c])]
        rays.append((k, number["tube"][c], 0.5 * SIGMA * np.pi * 6e-3 * sleeve[c]))
    joint, handle = covered(edges_mm, 40, 55), covered(edges_mm, 130, 190)
    for c, k in number["tube"].items():
        capacity[k] = 3.9e6 * section[c] * dx[c]
        if x[c] < 130:
            skins.append((k, np.pi * 10e-3 * dx[c], 1))
        if joint[c]:
            links.append((number["core"][c], k, 2.0 * joint[c] / 15e-3 * f["joint"]))
        if handle[c]:
            links.append((k, room, 0.35 * handle[c] * f["handle"]))
        if c - 1 in number["tube"]:
            shape = 1 / (dx[c - 1] / 2 / section[c - 1] + dx[c] / 2 / section[c])
            bars.append((number["tube"][c - 1], k, shape, 2))

    def values(rows, at):
        found = [np.asarray(r[at], dtype=float) for r in rows]
        return (
            np.concatenate(np.broadcast_arrays(*[np.atleast_1d(v) for v in found])).reshape(len(found), -1).T
            if any(v.ndim for v in found)
            else np.array(found)
        )

    held = np.full(n, np.nan)
    held[room] = AMBIENT_C
    number_of = [np.array([r[k] for r in rows], dtype=int) for rows in (links, bars, rays) for k in (0, 1)]
    net = Network(
        tuple(names),
        capacity,
        power * f["power"],
        held,
        links=Links(number_of[0], number_of[1], values(links, 2)),
        bars=Bars(number_of[2], number_of[3], values(bars, 2), np.array([r[3] for r in bars])),
        rays=Rays(number_of[4], number_of[5], values(rays, 2)),
        skins=Skins(
            np.array([s[0] for s in skins]),
            np.array([s[1] for s in skins]) * f["skin"],
            np.array([s[2] for s in skins]),
        ),
        materials=(COPPER, STEEL, STAINLESS),
        curves=(loss_curve("tip", surface(6e-3), AMBIENT_C), loss_curve("tube", surface(10e-3), AMBIENT_C)),
        station_by_station=True,
    )
    entry = int(np.flatnonzero(np.isclose(edges_mm, 130))[0])
    return net, {
        "tip": [number["core"][0], number["core"][1]],
        "sleeve": list(number["sleeve"].values()),
        "entry": [number["tube"][entry - 1], number["tube"][entry]],
    }


def outputs(temps_c, at):
    """Tip, hottest wire, handle entry (degC) from temperatures (..., nodes)."""
    first, second = at["tip"]
    return np.stack(
        [
            1.5 * temps_c[..., first] - 0.5 * temps_c[..., second],
            temps_c[..., at["sleeve"]].max(axis=-1),
            temps_c[..., at["entry"]].mean(axis=-1),
        ],
        axis=-1,
    )
