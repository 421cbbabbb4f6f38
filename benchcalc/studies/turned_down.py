"""A tool turned down: settled at fewer watts, its wire in a pulse, and the box that its supply and switch warm."""

from dataclasses import dataclass, replace

import numpy as np

from ..chain.bench.link import rise_of
from ..chain.control.link import line_of
from ..chain.heat.link import work_heat
from ..chain.heat.part import HeatPart
from ..chain.heat.places import excess_of, read_heat
from ..heater.box import vented_rise
from ..heater.soak import rise_at_load
from ..heater.ways_down import WayDown, full_watts, way_down
from ..sheet.build import Build
from ..sheet.build_control import switch_of
from ..sheet.defaults import default
from ..thermal.control.modes import pulse_over_mean
from ..thermal.network.steady import steady
from ..thermal.network.warm_up import warm_up
from .holding import HeldTool

NEAR_K = 5.0
WARM_S = 4 * 3600.0


def at_share(build: Build, parts: tuple, share: float) -> tuple[HeatPart, float]:
    """The tool settled at a share of the coil's own watts.

    build: Build. parts: (supply, wire, coil, heat) of the chain (floats). share: above 0.
    Returns (HeatPart, minutes until what is held is within 5 K of its end).
    """
    return at_watts(build, parts, share * parts[2].coil_w)


def at_watts(build: Build, parts: tuple, watts: float) -> tuple[HeatPart, float]:
    """The tool settled at some watts in its coil.

    build: Build. parts: (supply, wire, coil, heat) of the chain (floats). watts: above 0.
    Returns as at_share.
    """
    _, wire, coil, heat = parts
    if coil.coil_w > 0:
        model = heat.model
        net = replace(model.net, power_w=model.net.power_w * watts / coil.coil_w)
        end = read_heat(build, wire, coil, watts, model, steady(net))
    else:  # its supply trips at full power
        end = work_heat(build, wire, coil, watts)
        model, net = end.model, end.model.net
    time_s = np.linspace(0.0, WARM_S, 1441)
    temps = warm_up(net, WARM_S, accounted=False).at(time_s)
    role = next((r for r in ("work", "tip") if any(p.role == r for p in model.tool.pieces)), None)
    id = next((p.id for p in model.tool.pieces if p.role == role), build.coil.on)  # without either: what it is wound on
    curve = model.along(id, temps)[1][:, 0]
    near = np.flatnonzero(curve >= curve[-1] - NEAR_K)
    return end, time_s[near[0]] / 60


def window_of(build: Build, way: str) -> float:
    """The window of a switch, s: the sheet's own for its own switch, else the usual one.

    build: Build. way: key of data/ways_down.csv.
    """
    if build.control is not None and build.control.window_s is not None and switch_of(build) == way:
        return build.control.window_s
    return default(f"control.window_s/{way}")["value"]


def pulse_rise(build: Build, found: HeldTool, way: WayDown) -> float:
    """How far the winding rises over its mean in a pulse, K; 0 where power is not switched, or nothing is held.

    build: Build. found: its HeldTool. way: WayDown that serves.
    """
    control = found.control
    if control is None or control.standing is None or not way.on_w > 1.001 * way.coil_w:
        return 0.0
    place = list(control.standing.seat.watch).index("sheath")
    duty = way.coil_w / way.on_w
    top_k = pulse_over_mean(control.standing.kept_modes, place, duty, window_of(build, way.key))
    return top_k * way.on_w / control.on_w


def wire_in_pulse(build: Build, parts: tuple, end: HeatPart, pulse_k: float, on_w: float) -> float:
    """The hottest wire while the switch is on, degC: its winding's mean, the rise of a pulse, the wire's own excess.

    build: Build. parts: (supply, wire, coil, heat). end: HeatPart of the tool turned down. pulse_k: K, of `pulse_rise`.
    on_w: watts while the switch is on.
    """
    return end.sheath_c + pulse_k + excess_of(build, parts[1], parts[2], on_w)


@dataclass(frozen=True)
class SupplyBox:
    """What warms a box with supply and switch.  amps_a: r.m.s. copper_w, iron_w, switch_w: W. idle: row of
    data/defaults.csv that the second is taken from. area_m2, vent_m2, height_m: outside of the box, a row of holes, and
    between two rows."""

    amps_a: float
    copper_w: float
    iron_w: float
    switch_w: float
    idle: dict
    area_m2: float
    vent_m2: float
    height_m: float

    @property
    def loss_w(self):
        """All of it, W."""
        return self.copper_w + self.iron_w + self.switch_w

    def air_rise(self, build, vented):
        """How far its air stands over the room, K.  build: Build. vented: whether it has holes below and above."""
        vent_m2 = self.vent_m2 if vented else 0.0
        return vented_rise(self.loss_w, self.area_m2, vent_m2, self.height_m, build.room.ambient_c)


def supply_box(build: Build, found: HeldTool) -> SupplyBox:
    """The losses of supply and switch while the tool is held.

    build: Build with a controller. found: its HeldTool; where nothing is held the switch is on all the time.
    Returns SupplyBox.  Equation: Joule's law for the copper, by the r.m.s. current; the supply's own loss is a share of
    its full watts (data/defaults.csv, common practice).
    """
    supply, wire, coil, _ = found.parts
    line = line_of(supply, wire, coil)
    full_w, full_a = full_watts(line)
    share = 1.0 if found.refused else min(found.control.hold_w / full_w, 1.0)
    switch = way_down(line, switch_of(build), share)
    amps, lost_w = (full_a, 0.0) if switch.why_not else (switch.equal_a, switch.elsewhere_w)
    kind = supply.kind if supply.kind in ("transformer", "battery") else "other"
    idle = default(f"control.idle_share/{kind}")
    sizes = (default(f"control.box_{k}")["value"] for k in ("m2", "vent_m2", "height_m"))
    return SupplyBox(amps, amps**2 * line.source_ohm, idle["value"] * full_w, lost_w, idle, *sizes)


def winding_in_box(build: Build, box: SupplyBox, air_k: float) -> float:
    """The supply's winding in a box, degC, by the cautious end of its iron's share; nan without a soak test.

    build: Build. box: SupplyBox. air_k: K, of SupplyBox.air_rise.
    """
    rise, room = rise_of(build)
    if build.soak.load_a is None or not np.isfinite(rise):
        return float("nan")
    return float(rise_at_load(rise, build.soak.load_a, box.amps_a, default("soak.iron_share")["high"]) + room + air_k)
