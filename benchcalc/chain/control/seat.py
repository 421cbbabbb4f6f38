"""Where the sensor sits and what is watched: the tool's network with a sensor, and its places as sums of nodes."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.fault import closest, fault
from ...basics.names import say
from ...sheet.defaults import default
from ...sheet.roles import ids_by_role
from ...thermal.control.seated import SENSOR, with_sensor
from ..heat.places import entry_cells

HELD = ("work", "tip")  # what is to be held: what is melted, else the tip


@dataclass(frozen=True, eq=False)
class Seat:
    """A sensor on a tool.  net: with the node "sensor". host: number of its seat in the tool's own network. on, at_m:
    part and place. held: "tip" or "work". watch: {name: (node numbers, weights)} of net. own: the same of the tool's
    network. low_share: share of the rise that it does not see."""

    net: object
    host: int
    on: str
    at_m: float
    held: str
    watch: dict
    own: dict
    low_share: float


def seat_of(build, heat, on_share=1.0):
    """The sensor of a build on its tool.

    build: Build with a controller (floats). heat: HeatPart with a model. on_share: watts while on, as a share of the
    coil's full ones; the switch keeps the rest.
    Returns Seat.  Without a place on the sheet it sits on what is to be held.
    Raises Fault: part that is not there, place off the part, nothing to hold.
    """
    model, sensor = heat.model, build.sensor
    roles = ids_by_role(model.tool.pieces)
    held = held_role(roles)
    if held is None:
        raise fault("control", "", "has neither a tip nor work to hold.", do="Give one part the role of the tip.")
    on = sensor.on or _under(model, sensor.at_m) or roles[held]
    ids = [p.id for p in model.tool.pieces]
    if on not in ids:
        raise fault("sensor.on", on, "is no part of the tool.", closest(on, ids))
    places, numbers = model.along(on, np.arange(len(model.net.names), dtype=float))
    piece = next(p for p in model.tool.pieces if p.id == on)
    at = sensor.at_m if sensor.at_m is not None else piece.from_m
    if not piece.from_m - 1e-9 <= at <= piece.to_m + 1e-9:
        raise fault(
            "sensor.at",
            say("length_m", at, units=build.units),
            f"is off the {on}, which runs from {say('length_m', piece.from_m, units=build.units)} to "
            f"{say('length_m', piece.to_m, units=build.units)}: it would read the room, and the power would stay on.",
            do="Power stuck on is then its everyday state. Write a place on the metal.",
        )
    host = int(numbers[np.abs(places - at).argmin()])
    low = default(f"sensor.low_share/{sensor.fixed}")["value"]
    net = with_sensor(replace(model.net, power_w=model.net.power_w * on_share), host, sensor.lag_s, low)
    own = watched(model, heat, roles, held)
    watch = {SENSOR: ((host + 1,), (1.0,))} | {
        name: (tuple(n + (n > host) for n in nodes), weights) for name, (nodes, weights) in own.items()
    }
    return Seat(net, host, on, float(at), held, watch, own, low)


def held_role(roles):
    """What is to be held: what is melted, else the tip; None without both.  roles: role -> part id."""
    return next((r for r in HELD if r in roles), None)


def _under(model, at_m):
    """The outermost part at a place, None without a place; handles and what is melted aside."""
    if at_m is None:
        return None
    found = [p for p in model.tool.pieces if p.from_m <= at_m <= p.to_m and p.role not in ("handle", "work")]
    return max(found, key=lambda p: p.outer_m).id if found else None


def joint_of(model):
    """The joint of the tails to the cable, as `watched`; nothing where no tails run to the rear.  model: Model."""
    if model.tool.leads is None:
        return {}
    places, numbers = model.along("leads", np.arange(len(model.net.names), dtype=float))
    k = int(np.clip(np.searchsorted(places, model.tool.leads.joint_m), 1, len(places) - 1)) if len(places) > 1 else 0
    if k == 0:
        return {"joint": ((int(numbers[0]),), (1.0,))}
    share = float(np.clip((model.tool.leads.joint_m - places[k - 1]) / (places[k] - places[k - 1]), 0.0, 1.0))
    return {"joint": ((int(numbers[k - 1]), int(numbers[k])), (1.0 - share, share))}


def watched(model, heat, roles, held):
    """The places that a page tells of, as weights over the tool's nodes.

    model: Model. heat: HeatPart. roles: role -> part id. held: "tip", "work" or None.
    Returns {name: (node numbers, weights)}: what is held, the winding's hottest place, the handle's beginning and
    outside.
    """
    count = len(model.net.names)
    numbers = np.arange(count, dtype=float)

    def hottest(places):
        nodes = places[1].astype(int)
        return (int(nodes[heat.temps_c[nodes].argmax()]),), (1.0,)

    found = {} if held is None else {held: ((int(model.along(roles[held], numbers)[1][0]),), (1.0,))}
    found["sheath"] = hottest(model.along("coil", numbers))
    if "handle" in roles and np.isfinite(heat.entry_c):
        nodes, (before_m, behind_m) = entry_cells(model, roles)
        weights = behind_m / (before_m + behind_m), before_m / (before_m + behind_m)
        found["entry"] = tuple(int(n) for n in nodes), tuple(float(w) for w in weights)
    if "handle" in roles and np.isfinite(heat.grip_c):
        found["grip"] = hottest(model.shell(f"{roles['handle']} skin", numbers))
    return found
