"""Link 4 of the chain: how hot everything gets.  No physics here, only the calls; an unknown value is nan."""

from collections.abc import Callable, Generator
from dataclasses import fields, replace

import numpy as np

from ...basics.fault import Fault
from ...basics.slices import finished
from ...sheet.build import Build
from ...thermal.network.steady import steady
from ...thermal.surfaces.bare_wire import Surroundings
from ...thermal.surfaces.stretched_wire import stretched_wire
from ...thermal.tool.alike import Nominal
from ...thermal.tool.model import model_of, orders_of
from ...thermal.tool.parts import Tool, designs_of
from ..parts import NAN, as_floats
from ..wire.coil import TRIPPED, CoilPart, trips_on
from ..wire.link import WirePart
from .part import HeatPart, refused_heat
from .places import read_heat
from .tool_of import tool_of
from .wire_metal import wire_conducts, wire_shine

BARE = "bare wire in free air"
AT_ONCE = 512  # designs that are worked out together; more are taken in turn, so that memory does not grow with them


def work_heat(
    build: Build,
    wire: WirePart | None,
    coil: CoilPart | None,
    power_w: float | None = None,
    of: Callable[[Tool], Tool] | None = None,
    near: Nominal | None = None,
) -> HeatPart | None:
    """The settled tool: switched on for hours at steady power.

    build: Build. wire, coil: results of the links before. power_w: power in the coil, W, instead of
    what the supply gives (float or array). of: which part of the tool is worked out, Tool -> Tool; None: all of it.
    near: a settled tool, of `nominal_heat`. Samples about it are worked out by what they differ from it; one design
    that differs from it in power alone, or in holes alone, goes on from it. None: each design on its own.
    Returns HeatPart, or None where there are no parts on an axis with a coil on one of them.  Parts
    that overlap or leave a gap, heat with no way out, a supply that trips on this coil: nan, and `refused` says why.
    """
    return finished(heat_steps(build, wire, coil, power_w, of, near))


def heat_steps(
    build: Build,
    wire: WirePart | None,
    coil: CoilPart | None,
    power_w: float | None = None,
    of: Callable[[Tool], Tool] | None = None,
    near: Nominal | None = None,
) -> Generator:
    """As `work_heat`, in slices, so that whatever else there is to do comes in between.

    build, wire, coil, power_w, of, near: as `work_heat`.
    Yields () between slices; returns as `work_heat`.
    """
    if wire is None or coil is None:
        return None
    if power_w is None and trips_on(build.supply.kind, coil):
        return refused_heat(TRIPPED)
    power = coil.coil_w if power_w is None else power_w
    if np.all(np.isnan(power)):
        return None
    if build.coil.on is None and build.coil.mounting == BARE:
        return _bare(build, wire, coil, power)
    if np.any(np.isnan(power)) or np.any(np.isnan(coil.winding_m)):
        return None
    designs = designs_of(build)
    try:
        tool = tool_of(build, wire, coil, power)
        if tool is None:
            return None
        tool = tool if of is None else of(tool)
        designs = designs_of(tool)
        if designs > AT_ONCE:
            return _joined((build, wire, coil, power), np.arange(designs) // AT_ONCE, of, near)
        model, found = yield from _settling(tool, near)
    except Fault as told:
        if designs > 1:
            return _in_groups((build, wire, coil, power), designs, of, near)
        return refused_heat(str(told))
    return read_heat(build, wire, coil, power, model, found)


def nominal_heat(heat):
    """What samples about a settled tool are worked out by.

    heat: HeatPart of one design, or None.
    Returns Nominal, or None where no tool was worked out.
    """
    if heat is None or heat.model is None or heat.model.designs:
        return None
    return Nominal(heat.model, heat.temps_c)


def _settling(tool, near):
    """(Model, Steady) of a tool, in slices; of samples about a nominal without its network."""
    if near is not None and designs_of(tool) <= 1:
        model = near.model.with_power(tool) or near.model.with_holes(tool)
        if model is not None:
            return model, steady(model.net, start_c=near.temps_c)
    elif near is not None:
        try:
            found = yield from near.settling(tool)
        except Fault:  # told again below, where it is not the coarse mesh's own
            found = None
        if found is not None:
            return found
    model = model_of(tool)
    return model, steady(model.net)


def _bare(build, wire, coil, power_w):
    """A stretched bare wire: only the wire has a temperature.  A ribbon counts as a round wire of its circumference."""
    diameter_m = wire.edge_m / np.pi
    metal = wire.area_m2 / (np.pi * diameter_m**2 / 4)  # of a ribbon, as a share of that round wire
    _, temps = stretched_wire(
        coil.length_m,
        diameter_m,
        power_w,
        conductivity_w_mk=metal * wire_conducts(build, wire),
        around=Surroundings(
            wire_shine(build, wire), build.room.ambient_c, build.room.air_speed_m_s, build.room.attitude or "lying"
        ),
    )
    hottest = temps.max(axis=-1)
    return as_floats(HeatPart(NAN, hottest, hottest, 0.0 * hottest, NAN, NAN, NAN, NAN, NAN, (), (), None, None))


def _in_groups(given, designs, of, near):
    """Designs whose places lie in different orders: all that have one order along the axis at a time, or where even
    those cannot be worked out side by side, each alone.  given: build, wire, coil, power_w.
    """
    alone = np.arange(designs)
    try:
        tool = tool_of(*given)
        labels = alone if tool is None else orders_of(tool, designs)
    except Fault:
        labels = alone
    return _joined(given, labels if labels.max() else alone, of, near)


def _joined(given, labels, of, near):
    """Designs group by group, put together; nan where one cannot be worked out.

    given: build, wire, coil, power_w. labels: number of each design's group (designs,), from 0 on. of, near: as
    work_heat.
    """
    many, found = labels.size > AT_ONCE, []
    for label in range(labels.max() + 1):
        numbers = np.flatnonzero(labels == label)
        pick = numbers if numbers.size > 1 else int(numbers[0])
        heat = work_heat(*(nth(t, pick) for t in given), of, near)
        found.append((numbers, _without_network(heat) if many and heat is not None else heat))
    ids = next((h.part_ids for _, h in found if h is not None and h.part_ids), ())

    def joined(read):
        whole = np.full(labels.size, NAN)
        for numbers, heat in found:
            whole[numbers] = NAN if heat is None else read(heat)
        return whole

    like = refused_heat("")
    names = [f.name for f in fields(HeatPart) if isinstance(getattr(like, f.name), float)]
    columns = {name: joined(lambda h, name=name: getattr(h, name)) for name in names}
    hottest = tuple(joined(lambda h, p=p: h.hottest(p) if h.part_ids else NAN) for p in ids)
    groups = []
    for numbers, heat in found:
        if heat is not None and heat.model is not None:
            groups.append((numbers, heat))
        groups += [] if heat is None else [(numbers[inner], one) for inner, one in heat.groups]
    return HeatPart(
        **columns, part_ids=ids, part_hottest_c=hottest, model=None, temps_c=None, refused="", groups=tuple(groups)
    )


def _without_network(heat):
    """A heat part that keeps temperatures and places, not the network that gave them: of very many designs."""
    groups = tuple((numbers, _without_network(one)) for numbers, one in heat.groups)
    return replace(heat, model=None if heat.model is None else replace(heat.model, net=None), groups=groups)


def nth(thing, i):
    """One design out of many, or several: every array in a dataclass, tuple or value replaced by its entries.

    thing: dataclass, tuple, array or plain value. i: number of the design, or numbers (k,).
    """
    if isinstance(thing, np.ndarray):
        if np.ndim(i) and thing.ndim:
            return thing[i]
        return thing[i].item() if thing.ndim else thing.item()
    if isinstance(thing, tuple):
        return tuple(nth(t, i) for t in thing)
    if hasattr(thing, "__dataclass_fields__"):
        return replace(thing, **{f.name: nth(getattr(thing, f.name), i) for f in fields(thing) if f.name != "known"})
    return thing
