"""What a tool stores: which nodes take more heat as they warm, and the heat of layers, halved to both neighbours."""

import numpy as np

from .tracks import column


def stores_of(tool, tracks, node, count):
    """Which nodes' heat capacity changes with temperature.

    tool: Tool. tracks: list of Track. node: node numbers (tracks, stations). count: number of nodes.
    Returns dict of the Network's fields stores (tuple of SpecificHeat) and stored_by (each node's own or -1).
    """
    by = {p.id: p.store for p in tool.pieces if p.store is not None and not p.work}
    stores = tuple(dict.fromkeys(by.values()))
    which = np.full(count, -1)
    for i, t in enumerate(tracks):
        if t.mass and t.owner in by:
            which[node[i][node[i] >= 0]] = stores.index(by[t.owner])
    return {"stores": stores, "stored_by": which}


def add_layers(tool, tracks, node, mesh, capacity):
    """Half of what each layer stores goes to the neighbour inside it, half to the one outside.

    tool: Tool. tracks: list of Track. node: node numbers (tracks, stations). mesh: Mesh. capacity: J/K (designs,
    nodes), added to.  A layer's half in a metal's node is taken to change with temperature as that metal does.
    """
    designs = mesh.step_m.shape[0]
    for b in tool.between:
        inner = _track(tracks, b.inner, last=True)
        outer = _track(tracks, "layer") if b.inner == "coil" and b.outer != "room" else None
        outer = _track(tracks, "cover" if b.outer == "room" else b.outer) if outer is None else outer
        if not b.layers_j_m3k or inner is None or outer is None:
            continue
        here = np.flatnonzero((node[inner] >= 0) & (node[outer] >= 0))
        radius = tracks[inner].outer_m
        for (thickness, _), heat in zip(b.layers, b.layers_j_m3k):
            further = radius + column(thickness, designs)
            half = np.pi / 2 * (further**2 - radius**2) * column(heat, designs) * mesh.step_m[:, here]
            capacity[:, node[inner, here]] += half
            capacity[:, node[outer, here]] += half
            radius = further


def _track(tracks, owner, last=False):
    """Number of an owner's outermost (or innermost) track, None where there is none."""
    found = [i for i, t in enumerate(tracks) if t.owner == owner and (t.mass or owner in ("cover", "layer"))]
    return None if not found else found[-1 if last else 0]
