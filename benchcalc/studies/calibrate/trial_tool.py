"""The tool run with its unknowns at any values: what the readings would have been, and what the hour looks like."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.fault import Fault
from ...chain.heat.in_time import places_in_time
from ...chain.heat.places import excess_of, read_heat
from ...chain.heat.tool_of import tool_of
from ...sheet.build import Build
from ...thermal.network.steady import steady
from ...thermal.network.warm_up import warm_up
from ...thermal.tool.model import model_of
from .probe import nodes_at, temps_at
from .unknowns import POWER, STORED, with_values

STEP_TOLERANCE_K, HOUR_TOLERANCE_K = 0.1, 0.5
PLACES = ("tip", "wire", "entry", "work")


@dataclass(frozen=True, eq=False)
class Trial:
    """A build, its electrical parts, its unknowns and the readings taken on it.  measured_w: ends of the watts in the
    coil that day where they were measured, else None."""

    build: Build
    wire: object
    coil: object
    unknowns: tuple
    probes: tuple
    measured_w: tuple | None = None

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
    return _readings_of(trial, model_of(tool_at(trial, places)[2]))


def each_readings(trial, places):
    """The same at many places: the networks are built side by side on one mesh, then each is run as if alone.

    trial: Trial. places: (designs, k). Designs whose places stand in another order are built one by one.
    Yields degC (readings,) for each of places.
    """
    try:
        model = model_of(tool_at(trial, places)[2])
    except Fault:
        yield from (true_readings(trial, one) for one in places)
        return
    for number in range(len(places)):
        yield _readings_of(trial, model, number)


def _readings_of(trial, model, number=0):
    net, found = model.alone(number), {}
    for steps in dict.fromkeys(p.steps for p in trial.probes):
        mine = [i for i, p in enumerate(trial.probes) if p.steps == steps]
        until_s = max(max(trial.probes[i].time_s.max() for i in mine), 1.0)
        run = _run(net, until_s, STEP_TOLERANCE_K, _program(net, steps))
        for i in mine:
            p = trial.probes[i]
            nodes, weights = nodes_at(model, p.at_m, p.on, number)
            found[i] = run.at(p.time_s, nodes) @ weights
    return np.concatenate([found[i] for i in range(len(trial.probes))])


def _run(net, until_s, tol_k, power=None):
    start_c = float(np.nanmean(net.held_c))  # the room's, of this design
    return warm_up(net, until_s, start_c=start_c, power=power, tol_k=tol_k, accounted=False)


def hour(trial, places, times_s, *, tol_k=HOUR_TOLERANCE_K):
    """Tip, wire, handle entry and work from switching on, at the full power.

    trial: Trial. places: (k,). times_s: s (t,), the last one ends the run. tol_k: K, of a step.
    Returns degC (t, 4), nan where the tool has no such place.
    """
    build, power_w, tool = tool_at(trial, places)
    model = model_of(tool)
    excess_k = excess_of(build, trial.wire, trial.coil, power_w)
    return told_in_time(model, _temps_in_time(model.net, times_s, tol_k), excess_k, times_s)


def each_hour(trial, places, times_s, *, tol_k=HOUR_TOLERANCE_K):
    """The same at many places: the networks are built side by side on one mesh, then each is run as if alone.

    trial: Trial. places: (designs, k). times_s, tol_k: as hour.
    Yields () after each run.  Returns degC (designs, t, 4).
    """
    try:
        build, power_w, tool = tool_at(trial, places)
        model = model_of(tool)
    except Fault:
        found = []
        for one in places:
            found.append(hour(trial, one, times_s, tol_k=tol_k))
            yield ()
        return np.array(found)
    temps = []
    for number in range(len(places)):
        temps.append(_temps_in_time(model.alone(number), times_s, tol_k))
        yield ()
    excess_k = excess_of(build, trial.wire, trial.coil, power_w)
    return np.moveaxis(told_in_time(model, np.stack(temps, axis=1), excess_k, times_s), 1, 0)


def _temps_in_time(net, times_s, tol_k):
    """degC (t, nodes); of surfaces without mass, slower to ask for and not needed, nan."""
    run, heavy = _run(net, float(np.max(times_s)), tol_k), np.flatnonzero(net.capacity_j_k > 0)
    temps = np.full((len(times_s), len(net.names)), np.nan)
    temps[:, heavy] = run.at(times_s, heavy)
    return temps


def told_in_time(model, temps_c, excess_k, times_s):
    """Tip, wire, handle entry and work of temperatures in time.

    model: Model. temps_c: degC (t, nodes), or (t, designs, nodes) of many. excess_k: K, of the wire over its winding
    once switched on, a number or (designs,). times_s: s (t,).
    Returns degC (t, 4) or (t, designs, 4).
    """
    on = (np.asarray(times_s) > 0).reshape(-1, *[1] * (temps_c.ndim - 2))
    found = places_in_time(model, temps_c, np.asarray(excess_k) * on)
    return np.stack([found[f"{place}_c"] for place in PLACES], axis=-1)


def settled_temps(trial, places, at=()):
    """Tip, wire, handle entry and work of the settled tool, and any other places, for many designs side by side.

    trial: Trial. places: (designs, k). at: tuple of (at_m, id of a part or None).
    Returns degC (designs, 4 + len(at)).  Designs whose places stand in another order are done one by one.
    """
    try:
        build, power_w, tool = tool_at(trial, places)
        model = model_of(tool)
        return settled_of(trial, (build, power_w), model, steady(model.net), at)
    except Fault:
        if len(places) == 1:
            raise
        return np.concatenate([settled_temps(trial, one[None], at) for one in places])


def settled_of(trial, given, model, found, at=()):
    """The same of tools that are settled.

    trial: Trial. given: (Build, power W) of the designs. model: Model of them. found: Steady. at: as settled_temps.
    """
    heat = read_heat(given[0], trial.wire, trial.coil, given[1], model, found)
    columns = [heat.tip_c, heat.wire_c, heat.entry_c, heat.work_c] + [
        temps_at(model, found.temps_c, *place) for place in at
    ]
    return np.stack([np.broadcast_to(c, (len(found.temps_c),)) for c in columns], axis=-1)
