"""Inside the tool: the leads to the rear, and what is melted or held."""

import numpy as np

from ...basics.fault import fault
from ..network.curves import STEFAN_BOLTZMANN_W_M2K4, melting
from .surface_curves import Round, shed
from .tracks import column, innermost, is_work

END_M = 1e-3  # of a winding, from which a wire's end draws: about a turn, and the width of its layers


def leads(tool, tracks, node, mesh, paths):
    """Leads: joined to the winding's rear end, and to the innermost hollow part around them.

    They draw on the last millimetre of the winding, however fine it is cut: were it the last cell alone, that would
    grow the colder the shorter it is, and tails with it.

    tool: Tool. tracks: list of Track. node: node numbers (tracks, stations). mesh: Mesh. paths: Paths, added to.
    """
    if tool.leads is None:
        return
    designs = mesh.step_m.shape[0]
    names = [t.name for t in tracks]
    i = names.index("leads")
    cells = np.flatnonzero(node[i] >= 0)
    if "coil" in names:
        coil = names.index("coil")
        before = np.arange(tracks[coil].first, min(tracks[coil].last, cells[0] + 1))
        if not before.size:
            raise fault("coil", "", "lies behind the place where its leads begin.", "", "Place it on its former.")
        shares = _shares(mesh.step_m[:, before])
        used = np.flatnonzero(shares.any(axis=0))
        through = shares[:, used] * _through(tool, mesh.step_m[:, cells[:1]])
        paths.link(node[coil, before[used]], np.repeat(node[i, cells[0]], used.size), through)
    around = [
        j
        for j, t in enumerate(tracks)
        if t.mass and t.owner not in ("coil", "leads") and np.all(t.inner_m > 0) and not is_work(tool, t)
    ]
    near = innermost(node[np.ix_(around, cells)])
    found = near >= 0
    step_m = mesh.step_m[:, cells[found]]
    paths.link(node[i, cells[found]], near[found], column(tool.leads.to_tube_w_mk, designs) * step_m)


def _through(tool, first_m):
    """From the wire in the winding to the middle of the leads' first cell, W/K.  first_m: its length (designs, 1)."""
    along_m, end = (column(x, len(first_m)) for x in (tool.leads.conduction_w_m_k, tool.leads.end_k_w))
    return 1 / (first_m / 2 / along_m + end)


def heat_at_the_end(tool, tracks, node, mesh, power):
    """The heat of the wire's last few millimetres leaves by the tails where these are cooler than the wire.

    tool: Tool. tracks: list of Track. node: node numbers (tracks, stations). mesh: Mesh. power: W (designs, nodes), of
    which a share is moved from the winding's end into the leads.
    The leads are linked to the winding's mean, and the wire is hotter than that by what its own watts make of it.
    """
    names = [t.name for t in tracks]
    if tool.leads is None or "coil" not in names:
        return
    coil, first = names.index("coil"), tracks[names.index("leads")].first
    before = np.arange(tracks[coil].first, min(tracks[coil].last, first + 1))
    designs = len(power)
    made = column(tool.winding.power_w, designs) * column(tool.leads.over_k_w, designs)
    moved = made * _through(tool, mesh.step_m[:, first : first + 1])
    power[:, node[coil, before]] -= moved * _shares(mesh.step_m[:, before])
    power[:, node[names.index("leads"), first]] += moved[:, 0]


def _shares(step_m):
    """Of the last END_M of a winding, the share that lies in each of its cells.

    step_m: lengths of its cells (designs, cells).
    Returns (designs, cells), 1 in all.
    """
    behind = np.cumsum(step_m[:, ::-1], axis=1)[:, ::-1]
    reach = np.minimum(END_M, behind[:, :1])
    return (np.minimum(behind, reach) - np.minimum(behind - step_m, reach)) / reach


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
