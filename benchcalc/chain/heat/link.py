"""Link 4 of the chain: how hot everything gets.  No physics here, only the calls; an unknown value is nan."""

from dataclasses import dataclass, fields, replace

import numpy as np

from ...basics.fault import Fault
from ...materials.alloys import alloy_value
from ...materials.bulk import solid
from ...sheet.build import Build
from ...sheet.roles import ids_by_role, part_with_role, parts_with_role
from ...thermal.network.curves import conductivity_at
from ...thermal.network.flows import beyond_data
from ...thermal.network.steady import steady
from ...thermal.surfaces.bare_wire import Surroundings
from ...thermal.surfaces.stretched_wire import stretched_wire
from ...thermal.surfaces.wire_over_winding import wire_excess
from ...thermal.tool.model import model_of
from ...thermal.tool.parts import designs_of
from ...thermal.tool.paths import air
from ..parts import NAN, plain
from ..wire.coil import CoilPart
from ..wire.link import WirePart
from .tool_of import LAYER_C, tool_of

BEYOND_K = 30.0
FINGER_M = 0.010  # a finger slips this far beyond the handle
STEP_M = 2e-3  # either side of the handle's beginning, for the slope along the tails
JOINT_BEFORE_END_M = 0.02  # where the sheet does not say: the joint to the cable lies this far before the rear end
BARE = "bare wire in free air"


@dataclass(frozen=True)
class HeatPart:
    """Temperatures of the settled tool.  part_ids and part_hottest_c go together; model and temps_c are
    for pictures.  refused: why nothing was worked out, or "". beyond: materials that are hotter or colder
    than their conductivity table, whose end value was held. tails_c, joint_c, carried_w: hottest place of the tails, their joint to
    the cable, heat they carry into the handle. finger_c: tube 10 mm before the handle. break_c: hottest beginning of a heat break."""

    tip_c: float
    wire_c: float
    sheath_c: float
    excess_k: float
    entry_c: float
    bore_c: float
    grip_c: float
    work_c: float
    balance_w: float
    part_ids: tuple
    part_hottest_c: tuple
    model: object
    temps_c: np.ndarray | None
    refused: str = ""
    beyond: tuple = ()
    tails_c: float = NAN
    joint_c: float = NAN
    carried_w: float = NAN
    finger_c: float = NAN
    break_c: float = NAN

    def hottest(self, id):
        """Hottest place of a part, degC.

        id: part's id.
        """
        return self.part_hottest_c[self.part_ids.index(id)]


def work_heat(build: Build, wire: WirePart | None, coil: CoilPart | None, power_w=None) -> HeatPart | None:
    """The settled tool: switched on for hours at steady power.

    build: Build. wire, coil: results of the links before. power_w: power in the coil, W, instead of
    what the supply gives (float or array).
    Returns HeatPart, or None where there are no parts on an axis with a coil on one of them.  Parts
    that overlap or leave a gap, or heat with no way out: nan, and `refused` says why.
    """
    if wire is None or coil is None:
        return None
    power = coil.coil_w if power_w is None else power_w
    if np.all(np.isnan(power)):
        return None
    if build.coil.on is None and build.coil.mounting == BARE:
        return _bare(build, wire, coil, power)
    if np.any(np.isnan(power)) or np.any(np.isnan(coil.winding_m)):
        return None
    designs = designs_of(replace(build, known={}))
    try:
        tool = tool_of(build, wire, coil, power)
        if tool is None:
            return None
        designs = designs_of(tool)
        model = model_of(tool)
        found = steady(model.net)
    except Fault as told:
        return _one_by_one(build, wire, coil, power, designs) if designs > 1 else refused_heat(str(told))
    return read_heat(build, wire, coil, power, model, found)


def _bare(build, wire, coil, power_w):
    """A stretched bare wire: only the wire has a temperature.  A ribbon counts as a round wire of its circumference."""
    found = alloy_value(wire.alloy, "conductivity_w_mk") if wire.alloy else None
    shine = alloy_value(wire.alloy, "emissivity") if wire.alloy else None
    diameter_m = wire.edge_m / np.pi
    metal = wire.area_m2 / (np.pi * diameter_m**2 / 4)  # of a ribbon, as a share of that round wire
    _, temps = stretched_wire(
        coil.length_m,
        diameter_m,
        power_w,
        conductivity_w_mk=metal * (13.0 if found is None else found.value),
        around=Surroundings(
            0.8 if shine is None else shine.value + (shine.high - shine.low) / 2 * build.heat.shine_place,
            build.room.ambient_c,
            build.room.air_speed_m_s,
            build.room.attitude or "lying",
        ),
    )
    hottest = temps.max(axis=-1)
    return plain(HeatPart(NAN, hottest, hottest, 0.0 * hottest, NAN, NAN, NAN, NAN, NAN, (), (), None, None))


def _one_by_one(build, wire, coil, power_w, designs):
    """Designs that do not share one structure, each on its own; nan where one cannot be."""
    singles = []
    for i in range(designs):
        pick = [nth(t, i) for t in (build, wire, coil)]
        singles.append(work_heat(*pick, nth(power_w, i)))
    columns = {
        f.name: np.array([getattr(h, f.name) for h in singles])
        for f in fields(HeatPart)
        if isinstance(getattr(singles[0], f.name), float)
    }
    ids = next((h.part_ids for h in singles if h.part_ids), ())
    hottest = tuple(np.array([h.hottest(p) if h.part_ids else NAN for h in singles]) for p in ids)
    return HeatPart(**columns, part_ids=ids, part_hottest_c=hottest, model=None, temps_c=None, refused="")


def nth(thing, i):
    """One design out of many: every array in a dataclass, tuple or value replaced by its entry.

    thing: dataclass, tuple, array or plain value. i: number of the design.
    """
    if isinstance(thing, np.ndarray):
        return thing[i].item() if thing.ndim else thing.item()
    if isinstance(thing, tuple):
        return tuple(nth(t, i) for t in thing)
    if hasattr(thing, "__dataclass_fields__"):
        return replace(thing, **{f.name: nth(getattr(thing, f.name), i) for f in fields(thing) if f.name != "known"})
    return thing


def refused_heat(why):
    """A heat part that says why nothing was worked out.

    why: sentence.
    Returns HeatPart with nan everywhere.
    """
    return HeatPart(*[NAN] * 9, (), (), None, None, why)


def read_heat(build, wire, coil, power_w, model, found):
    """Put the solver's temperatures into words of the trade.

    build, wire, coil: as work_heat. power_w: power in the coil, W. model: Model. found: Steady.
    Returns HeatPart.
    """
    temps = found.temps_c
    ids = tuple(p.id for p in model.tool.pieces)
    hottest = tuple(model.along(i, temps)[1].max(axis=-1) for i in ids)
    sheath = model.along("coil", temps)[1].max(axis=-1)
    excess = excess_of(build, wire, coil, power_w)
    roles = ids_by_role(model.tool.pieces)
    tip = model.along(roles["tip"], temps)[1][..., 0] if "tip" in roles else NAN
    work = model.along(roles["work"], temps)[1][..., 0] if "work" in roles else NAN
    entry, bore, grip = NAN, NAN, NAN
    if "handle" in roles:
        entry = entry_of(model, temps, roles)
        bore = model.shell(f"{roles['handle']} shell 1", temps)[1].max(axis=-1) if _rings(model) else NAN
        grip = model.shell(f"{roles['handle']} skin", temps)[1].max(axis=-1) if _rings(model) else NAN
    part = HeatPart(
        tip,
        sheath + excess,
        sheath,
        excess,
        entry,
        bore,
        grip,
        work,
        found.balance_w,
        ids,
        hottest,
        model,
        temps,
        "",
        _beyond(model, temps),
        *along_leads(build, model, temps),
        _finger(model, temps, roles),
        _breaks(model, temps),
    )
    part = replace(part, part_hottest_c=tuple(float(h) if np.ndim(h) == 0 else h for h in hottest))
    kept = part.model, part.temps_c
    return replace(plain(replace(part, model=None, temps_c=None)), model=kept[0], temps_c=kept[1])


def _beyond(model, temps):
    """Names of materials that are further beyond their table than its first step below room temperature."""
    if model.designs:
        return ()
    return tuple(name for name, met_c, end_c in beyond_data(model.net, temps) if abs(met_c - end_c) > BEYOND_K)


def _finger(model, temps, roles):
    """Tube where a finger slips to."""
    tube = part_with_role(model.tool.pieces, "tube")
    if tube is None or "handle" not in roles:
        return NAN
    handle = next(p for p in model.tool.pieces if p.id == roles["handle"])
    return _at(model, tube.id, np.asarray(handle.from_m) - FINGER_M, temps)


def _breaks(model, temps):
    found = [_at(model, b.on, b.from_m, temps) for b in model.tool.narrow]
    return np.max(found, axis=0) if found else NAN


def _at(model, id, place_m, temps):
    """Temperature of a part at a place, of one or many designs."""
    return along_at(*model.along(id, temps), place_m)


def _rings(model):
    return any(p.rings > 1 for p in parts_with_role(model.tool.pieces, "handle"))


def entry_of(model, temps_c, roles):
    """Temperature of the tube where the handle begins, between the two cells that meet there.

    model: Model. temps_c: (..., nodes). roles: role -> part id.
    Returns degC (...,), nan without a tube under the handle.
    """
    handle = next(p for p in model.tool.pieces if p.id == roles["handle"])
    inside = part_with_role(model.tool.pieces, "tube")
    if inside is None:
        return NAN
    at = model.mesh.span(handle.from_m, handle.to_m).start
    i = next(k for k, t in enumerate(model.tracks) if t.name == inside.id)
    if at == 0 or model.node[i, at] < 0 or model.node[i, at - 1] < 0:
        return NAN
    a, b = temps_c[..., model.node[i, at - 1]], temps_c[..., model.node[i, at]]
    step = model.mesh.step_m if model.designs else model.mesh.step_m[0]
    da, db = step[..., at - 1], step[..., at]
    return (a * db + b * da) / (da + db)


def excess_of(build, wire, coil, power_w):
    """How much hotter the wire is than the mean of its winding.

    build, wire, coil: as work_heat. power_w: power in the coil, W.
    Returns K, at least 0.
    """
    excess_k = wire_excess(
        power_w / coil.length_m, _under(build), conductivity_at(air(), LAYER_C), coil.pitch_m, wire.diameter_m
    )
    return np.maximum(excess_k, 0.0)


def _under(build):
    """Conductivity of the layer under the winding, W/(m K); of air where there is none."""
    for y in build.layer:
        if y.between == (build.coil.on, "coil") and y.material is not None:
            material = solid(y.material)
            return float(np.interp(LAYER_C, material.temps_c, material.conductivity_w_mk)) * y.conductivity_scale
    return float(conductivity_at(air(), LAYER_C))


def joint_place(build):
    """Where the tails meet the cable: as the sheet says, or 20 mm before the rear end of the tool.

    build: Build.
    Returns m, nan without parts.
    """
    if build.lead_out.joint_at_m is not None:
        return build.lead_out.joint_at_m
    ends = [np.asarray(p.to_m, float) for p in build.part if p.to_m is not None and p.role != "frame"]
    return np.max(np.broadcast_arrays(*ends), axis=0) - JOINT_BEFORE_END_M if ends else NAN


def along_leads(build, model, temps_c):
    """Hottest place of the tails, their joint to the cable, and the heat they carry past the beginning of the handle.

    build: Build. model: Model. temps_c: (..., nodes).
    Returns (tails_c, joint_c, carried_w); nan where no tails run to the rear.
    """
    if not any(t.owner == "leads" for t in model.tracks):
        return NAN, NAN, NAN
    places, temps = model.along("leads", temps_c)
    carried, handle = NAN, part_with_role(build, "handle")
    if handle is not None:
        fall = along_at(places, temps, handle.from_m - STEP_M) - along_at(places, temps, handle.from_m + STEP_M)
        carried = model.tool.leads.conduction_w_m_k * fall / (2 * STEP_M)
    return temps.max(axis=-1), along_at(places, temps, joint_place(build)), carried


def along_at(places_m, temps_c, at_m):
    """Temperature at a place along a part.

    places_m, temps_c: as Model.along gives them. at_m: float or array (designs,).
    Returns degC, () or (designs,).
    """
    if temps_c.ndim == 1:
        return float(np.interp(float(at_m), places_m, temps_c))
    return np.array(
        [
            np.interp(p, x, t)
            for p, x, t in zip(np.broadcast_to(at_m, len(temps_c)), np.broadcast_to(places_m, temps_c.shape), temps_c)
        ]
    )
