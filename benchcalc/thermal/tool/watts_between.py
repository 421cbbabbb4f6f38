"""Which watts pass where in a worked-out tool: along a part, and from one part straight into another."""

from dataclasses import dataclass

import numpy as np

from ..network.flows import flows


@dataclass(frozen=True, eq=False)
class Along:
    """Heat along a part: places between its slices (m from the tip), watts there towards the rear."""

    place_m: np.ndarray
    rearward_w: np.ndarray


def watts_along(model, temps_c, owner, flow=None):
    """Heat along a part, through the faces between its slices.

    model: Model of one design. temps_c: degC of every node (n,). owner: part's id. flow: flows(model.net, temps_c), if
    already at hand.
    Returns Along; empty for a part of one slice.
    """
    flow = flows(model.net, temps_c) if flow is None else flow
    bars, place, watts = model.net.bars, None, 0.0
    for i, t in enumerate(model.tracks):
        if t.owner != owner or not t.mass:
            continue
        cells = model.node[i][model.node[i] >= 0]
        own = np.full(model.net.power_w.size, -1)
        own[cells] = np.arange(cells.size)
        a, b = own[bars.first], own[bars.second]
        between = np.zeros(max(cells.size - 1, 0))
        metal = np.array([m.name != "air" for m in model.net.materials], bool)[
            bars.material
        ]  # air in its bore is not it
        forward, backward = metal & (a >= 0) & (b == a + 1), metal & (b >= 0) & (a == b + 1)
        np.add.at(between, a[forward], flow.bar_w[forward])
        np.add.at(between, b[backward], -flow.bar_w[backward])
        place, watts = model.mesh.edges_m[0, t.first + 1 : t.last], watts + between
    return Along(np.zeros(0), np.zeros(0)) if place is None else Along(place, watts)


def watts_across(model, temps_c, first, second, flow=None):
    """Heat from one part straight into another, by contact, gas and radiation together.

    model, temps_c, flow: as watts_along. first, second: ids of two parts that touch.
    Returns W, above 0 from first to second.
    """
    flow = flows(model.net, temps_c) if flow is None else flow
    own = np.zeros(model.net.power_w.size, int)
    for i, t in enumerate(model.tracks):
        cells = model.node[i][model.node[i] >= 0]
        for side, id, other in ((1, first, second), (2, second, first)):
            if t.owner == id or t.name in (f"face of {id} at {id}-{other}", f"face of {id} at {other}-{id}"):
                own[cells] = side
    total = 0.0
    for paths, heat in ((model.net.links, flow.link_w), (model.net.bars, flow.bar_w), (model.net.rays, flow.ray_w)):
        a, b = own[paths.first], own[paths.second]
        total += heat[(a == 1) & (b == 2)].sum() - heat[(a == 2) & (b == 1)].sum()
    return float(total)


def temps_at_joint(model, temps_c, first, second):
    """The two parts' temperatures where they touch, each the mean over the place.

    model, temps_c: as watts_along. first, second: ids of two parts.
    Returns (degC of first, degC of second); nan where they do not touch.
    """
    faces = {t.name: i for i, t in enumerate(model.tracks)}
    for pair in (f"{first}-{second}", f"{second}-{first}"):
        names = [f"face of {id} at {pair}" for id in (first, second)]
        if all(n in faces for n in names):
            return tuple(float(temps_c[model.node[faces[n]][model.node[faces[n]] >= 0][0]]) for n in names)
    here = [next((i for i, t in enumerate(model.tracks) if t.owner == id and t.mass), None) for id in (first, second)]
    if None in here:
        return float("nan"), float("nan")
    both = (model.node[here[0]] >= 0) & (model.node[here[1]] >= 0)
    step = model.mesh.step_m[0][both]
    if not np.any(both):
        return float("nan"), float("nan")
    return tuple(float(np.sum(temps_c[model.node[i][both]] * step) / np.sum(step)) for i in here)
