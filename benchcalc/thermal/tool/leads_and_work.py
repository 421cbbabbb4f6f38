"""Inside the tool: the leads to the rear, and what is melted or held."""

import numpy as np

from ...basics.fault import fault
from ..network.curves import STEFAN_BOLTZMANN_W_M2K4, melting
from .surface_curves import Round, shed
from .tracks import column, innermost, is_work


def leads(tool, tracks, node, mesh, paths):
    """Leads: joined to the winding's rear cell, and to the innermost hollow part around them.

    tool: Tool. tracks: list of Track. node: node numbers (tracks, stations). mesh: Mesh. paths: Paths, added to.
    """
    if tool.leads is None:
        return
    designs = mesh.step_m.shape[0]
    names = [t.name for t in tracks]
    i = names.index("leads")
    cells = np.flatnonzero(node[i] >= 0)
    along = column(tool.leads.conduction_w_m_k, designs)
    if "coil" in names:
        coil = names.index("coil")
        before = [s for s in range(tracks[coil].first, tracks[coil].last) if s <= cells[0]]
        if not before:
            raise fault("coil", "", "lies behind the place where its leads begin.", "", "Place it on its former.")
        near = before[-1]
        paths.link(node[coil, near], node[i, cells[0]], along / (mesh.step_m[:, cells[:1]] / 2))
    around = [
        j
        for j, t in enumerate(tracks)
        if t.mass and t.owner not in ("coil", "leads") and np.all(t.inner_m > 0) and not is_work(tool, t)
    ]
    near = innermost(node[np.ix_(around, cells)])
    found = near >= 0
    step_m = mesh.step_m[:, cells[found]]
    paths.link(node[i, cells[found]], near[found], column(tool.leads.to_tube_w_mk, designs) * step_m)


def workpiece(tool, tracks, node, mesh, paths, capacity, room):
    """What is melted or held: one temperature, coupled to the wall and bottom around it; its top loses heat.

    tool: Tool. tracks: list of Track. node: node numbers (tracks, stations). mesh: Mesh. paths: Paths,
    added to. capacity: J/K (designs, nodes), filled in. room: node number of the room.
    Returns {node number: (degC where melting begins, where it ends, J to melt it (designs,))} of what melts.
    """
    melts, designs = {}, mesh.step_m.shape[0]
    for p in tool.pieces:
        if not p.work:
            continue
        i = next(k for k, t in enumerate(tracks) if t.owner == p.id)
        mine = int(node[i][node[i] >= 0][0])
        span = mesh.span(p.from_m, p.to_m)
        volume = (
            np.pi
            / 4
            * (column(p.outer_m, designs) ** 2 - column(p.inner_m, designs) ** 2)
            * (column(p.to_m, designs) - column(p.from_m, designs))
        )
        capacity[:, mine] = (column(p.heat_j_m3k, designs) * volume)[:, 0]
        if p.melts is not None:
            low_c, high_c, latent_j_m3 = p.melts
            melts[mine] = low_c, high_c, latent_j_m3 * volume[:, 0]
        h = column(tool.place.work_w_m2k, designs)
        wall = [
            k
            for k, t in enumerate(tracks)
            if t.mass
            and t.owner not in ("coil", "leads", p.id)
            and np.all(t.inner_m >= column(p.outer_m, designs) / 2 - 1e-4)
        ]
        near = innermost(node[wall, span])
        step_m = mesh.step_m[:, span][:, near >= 0]
        nodes = np.full(step_m.shape[1], mine)
        paths.link(nodes, near[near >= 0], h * np.pi * column(p.outer_m, designs) * step_m)
        floor = next(
            (
                k
                for k, t in enumerate(tracks)
                if t.mass
                and span.start > 0
                and node[k, span.start - 1] >= 0
                and t.owner not in ("coil", "leads", p.id)
                and np.all(t.inner_m == 0)
            ),
            None,
        )
        top = np.pi / 4 * column(p.outer_m, designs) ** 2
        if floor is not None:
            paths.link(mine, node[floor, span.start - 1], h * top)
        shed(tool, paths, mine, top, Round(f"top of {p.id}", column(p.outer_m, designs), flat=True))
        paths.ray(mine, room, STEFAN_BOLTZMANN_W_M2K4 * column(p.emissivity, designs) * top)
    return melts


def melting_in(melts, capacity, number):
    """What melts in one design.

    melts: as workpiece gives it. capacity: J/K (designs, nodes). number: of the design.
    Returns {node number: HeatContent}.
    """
    return {
        node: melting(float(capacity[number, node]), low_c, high_c, float(latent_j[number]))
        for node, (low_c, high_c, latent_j) in melts.items()
    }
