"""The heated tool once more, as a scientist would write it for scipy: fluxes with k at each cell's own temperature.

Independent of the package: it shares only the description at the head of heated_tool.py (and its grids).
"""

import numpy as np

SIGMA, AMBIENT_C = 5.670374419e-8, 20.0


def overlap(edges_mm, a_mm, b_mm):
    return np.clip(np.minimum(edges_mm[1:], b_mm) - np.maximum(edges_mm[:-1], a_mm), 0, None) * 1e-3


def plain(edges_mm, power_w=40.0):
    """Right-hand side dT/dt, sparsity, and which unknowns are outputs."""
    dx = np.diff(edges_mm) * 1e-3
    x = (edges_mm[:-1] + edges_mm[1:]) / 2
    core, tube = np.flatnonzero(x < 100), np.flatnonzero((x > 40) & (x < 190))
    sleeve_m = overlap(edges_mm, 55, 100)
    sleeve = np.flatnonzero(sleeve_m > 0)
    # numbered cell by cell
    order = sorted([(c, 0) for c in core] + [(c, 1) for c in sleeve] + [(c, 2) for c in tube])
    place = {key: k for k, key in enumerate(order)}
    ic, ih, it = (np.array([place[c, t] for c in cells]) for t, cells in enumerate((core, sleeve, tube)))
    n = len(order)
    copper = x[core] < 40
    a_core = np.where(copper, np.pi * 3e-3**2, np.pi * 2e-3**2)
    a_tube = np.pi * (5e-3**2 - 4.4e-3**2) * (1 - 0.65 * overlap(edges_mm, 110, 122)[tube] / dx[tube])
    capacity = np.empty(n)
    capacity[ic] = a_core * dx[core] * np.where(copper, 3.45e6, 3.9e6)
    capacity[it] = a_tube * dx[tube] * 3.9e6
    capacity[ih] = 3.0 * sleeve_m[sleeve] / 45e-3
    area_core = np.where(copper, np.pi * 6e-3 * dx[core], 0.0)
    area_core[0] += np.pi * 3e-3**2
    area_tube = np.where(x[tube] < 130, np.pi * 10e-3 * dx[tube], 0.0)
    handle = 0.35 * overlap(edges_mm, 130, 190)[tube]
    joint = 2.0 / 15e-3 * overlap(edges_mm, 40, 55)
    joined = np.flatnonzero(joint > 0)
    jc, jt = (np.array([place[c, t] for c in joined]) for t in (0, 2))
    hc, ht = (np.array([place[c, t] for c in sleeve]) for t in (0, 2))
    g_core, g_tube, rad = 0.6 * sleeve_m[sleeve], 0.25 * sleeve_m[sleeve], 0.5 * SIGMA * np.pi * 6e-3 * sleeve_m[sleeve]
    heat = power_w * sleeve_m[sleeve] / 45e-3

    def loss(t, diameter_m):
        over = t - AMBIENT_C
        return 1.32 * (np.abs(over) / diameter_m) ** 0.25 * over + 0.6 * SIGMA * (
            (t + 273.15) ** 4 - (AMBIENT_C + 273.15) ** 4
        )

    def along(t, k, area, length):
        resistance = length / (2 * k * area)
        return (t[:-1] - t[1:]) / (resistance[:-1] + resistance[1:])

    def rhs(_, t):
        q = np.zeros(n)
        tc, th, tt = t[ic], t[ih], t[it]
        f = along(tc, np.where(copper, 390.0, 50 - 0.03 * (tc - 20)), a_core, dx[core])
        q[ic[:-1]] -= f
        q[ic[1:]] += f
        f = along(tt, 15 + 0.015 * (tt - 20), a_tube, dx[tube])
        q[it[:-1]] -= f
        q[it[1:]] += f
        q[ic] -= area_core * loss(tc, 6e-3)
        q[it] -= area_tube * loss(tt, 10e-3) + handle * (tt - AMBIENT_C)
        f = joint[joined] * (t[jc] - t[jt])
        q[jc] -= f
        q[jt] += f
        to_core = g_core * (th - t[hc])
        to_tube = g_tube * (th - t[ht]) + rad * ((th + 273.15) ** 4 - (t[ht] + 273.15) ** 4)
        q[ih] += heat - to_core - to_tube
        q[hc] += to_core
        q[ht] += to_tube
        return q / capacity

    pairs = np.concatenate(
        [np.stack(p) for p in ((ic[:-1], ic[1:]), (it[:-1], it[1:]), (jc, jt), (ih, hc), (ih, ht))], 1
    )
    from scipy.sparse import coo_array

    full = coo_array((np.ones(pairs.shape[1]), (pairs[0], pairs[1])), shape=(n, n))
    sparsity = ((full + full.T).toarray() + np.eye(n) > 0).astype(float)
    entry = int(np.flatnonzero(np.isclose(edges_mm, 130))[0])
    return rhs, sparsity, {"tip": [ic[0], ic[1]], "sleeve": list(ih), "entry": [place[entry - 1, 2], place[entry, 2]]}
