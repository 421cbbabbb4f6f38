"""The tool run with its unknowns at any values: what the readings would have been, and what the hour looks like."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.fault import Fault
from ...chain.heat.places import entry_of, excess_of, read_heat
from ...chain.heat.tool_of import tool_of
from ...sheet.build import Build
from ...sheet.roles import ids_by_role
from ...thermal.network.steady import steady
from ...thermal.network.warm_up import warm_up
from ...thermal.tool.model import model_of
from .probe import nodes_at, temps_at
from .unknowns import POWER, STORED, with_values

STEP_TOLERANCE_K = 0.1
PLACES = ("tip", "wire", "entry", "work")


@dataclass(frozen=True, eq=False)
class Trial:
    """A build, its electrical parts, its unknowns and the readings taken on it."""

    build: Build
    wire: object
    coil: object
    unknowns: tuple
    probes: tuple

    def values(self, places):
        """Values of the unknowns at places in their bands.

        places: (k,), or (designs, k).
        Returns list of k floats or arrays.
        """
        return [u.value(x) if np.ndim(x) else float(u.value(x)) for u, x in zip(self.unknowns, np.asarray(places).T)]


def tool_at(trial, places):
    """The tool with its unknowns at places in their bands.

    trial: Trial. places: (k,) or (designs, k).
    Returns (Build, power W, Tool).
    """
    build, shares = with_values(trial.build, trial.unknowns, trial.values(places))
    power_w = trial.coil.coil_w * shares[POWER]
    tool = tool_of(build, trial.wire, trial.coil, power_w)
    stored = shares[STORED]
    pieces = tuple(replace(p, heat_j_m3k=p.heat_j_m3k * stored) for p in tool.pieces)
    return build, power_w, replace(tool, pieces=pieces)


def _program(net, steps):
    if not steps:
        return None
    steps = steps if steps[0][0] <= 0 else ((0.0, 1.0), *steps)
    return [(time_s, share * float(net.power_w.sum())) for time_s, share in steps]


def true_readings(trial, places):
    """The metal's temperature at each reading, before the sensor adds its own errors.

    trial: Trial. places: (k,) in the unknowns' bands.
    Returns degC, all probes one after another. Probes with the same power steps share one run.
    """
    model = model_of(tool_at(trial, places)[2])
    found = {}
    for steps in dict.fromkeys(p.steps for p in trial.probes):
        mine = [i for i, p in enumerate(trial.probes) if p.steps == steps]
        until_s = max(max(trial.probes[i].time_s.max() for i in mine), 1.0)
        run = warm_up(model.net, until_s, power=_program(model.net, steps), tol_k=STEP_TOLERANCE_K, accounted=False)
        for i in mine:
            p = trial.probes[i]
            nodes, weights = nodes_at(model, p.at_m, p.on)
            found[i] = run.at(p.time_s, nodes) @ weights
    return np.concatenate([found[i] for i in range(len(trial.probes))])


def hour(trial, places, times_s, *, tol_k=0.5):
    """Tip, wire, handle entry and work from switching on, at the full power.

    trial: Trial. places: (k,). times_s: s (t,), the last one ends the run. tol_k: K, of a step.
    Returns degC (t, 4), nan where the tool has no such place.
    """
    build, power_w, tool = tool_at(trial, places)
    model = model_of(tool)
    run = warm_up(model.net, float(np.max(times_s)), tol_k=tol_k, accounted=False)
    heavy = np.flatnonzero(model.net.capacity_j_k > 0)  # surfaces without mass are slower to ask for, and not needed
    temps = np.full((len(times_s), len(model.net.names)), np.nan)
    temps[:, heavy] = run.at(times_s, heavy)
    roles = ids_by_role(tool.pieces)
    nothing = np.full(len(times_s), np.nan)
    tip, work = (model.along(roles[r], temps)[1][:, 0] if r in roles else nothing for r in ("tip", "work"))
    entry = entry_of(model, temps, roles) if "handle" in roles else nothing
    excess_k = excess_of(build, trial.wire, trial.coil, power_w)
    wire = model.along("coil", temps)[1].max(axis=-1) + excess_k * (np.asarray(times_s) > 0)
    return np.stack([tip, wire, np.broadcast_to(entry, tip.shape), work], axis=-1)


def settled_temps(trial, places, at=()):
    """Tip, wire, handle entry and work of the settled tool, and any other places, for many designs side by side.

    trial: Trial. places: (designs, k). at: tuple of (at_m, id of a part or None).
    Returns degC (designs, 4 + len(at)).  Designs whose places stand in another order are done one by one.
    """
    try:
        build, power_w, tool = tool_at(trial, places)
        model = model_of(tool)
        found = steady(model.net)
        heat = read_heat(build, trial.wire, trial.coil, power_w, model, found)
    except Fault:
        if len(places) == 1:
            raise
        return np.concatenate([settled_temps(trial, one[None], at) for one in places])
    count = len(places)
    columns = [heat.tip_c, heat.wire_c, heat.entry_c, heat.work_c] + [
        temps_at(model, found.temps_c, *place) for place in at
    ]
    return np.stack([np.broadcast_to(c, (count,)) for c in columns], axis=-1)
