"""Link of the metals: what each part is made of against its heat, what drops where, how plugs sit in tubes.

No physics here, only the calls; an unknown value is nan.
"""

from dataclasses import dataclass

import numpy as np

from ...basics.band import band_of
from ...basics.fault import Fault
from ...materials.bulk import joint_row, solid_key
from ...materials.metals import mean_between, metal_key, metal_value
from ...sheet.build import Build
from ...sheet.change import item
from ...thermal.network.flows import flows
from ...thermal.surfaces.fins import tube_section
from ...thermal.surfaces.press_fit import COLD_C, PressFit, screw_tightening, will_it_split
from ...thermal.tool.watts_between import temps_at_joint, watts_across, watts_along
from ..heat.part import HeatPart
from ..parts import NAN, as_floats

TOUCHING = ("pressed", "clearance", "threaded", "cemented", "soldered")
SITS_M = 5e-4  # two diameters further apart than this are no fit


@dataclass(frozen=True)
class PartDrop:
    """The drop along a metal part, from its hottest place to the end towards the tip (or, where it is hottest there,
    to the other end): length, section, mean conductivity and mean watts that pass."""

    id: str
    metal: str
    part_length_m: float
    section_m2: float
    conductivity_w_mk: float
    through_w: float
    drop_k: float


@dataclass(frozen=True)
class JointDrop:
    """What crosses a joint and what it costs: watts, drop, that drop as a share of the hot part's rise, and how hot the
    joint's hotter side is (degC)."""

    first: str
    second: str
    made: str
    through_w: float
    drop_k: float
    share: float
    hot_c: float


@dataclass(frozen=True)
class FitRow:
    """A plug in a tube, cold and at the temperatures of the settled tool.

    pressed: True where the sheet calls it a press fit. typed: False where both diameters are the same on the
    sheet, which then says nothing of the squeeze. bite_m: how much deeper its set screw bites when hot, a screw of
    mild steel taken (below 0: it loosens); nan where there is none.
    """

    tube: str
    plug: str
    pressed: bool
    typed: bool
    fit_m: float
    outer_m: float
    cold: PressFit
    hot: PressFit
    bite_m: float = NAN


@dataclass(frozen=True)
class MetalsPart:
    """The metal parts of the tool: ids, metals, hottest places (degC), limits (degC).

    margin_k: smallest margin to the cautious service limit. melt_margin_k: smallest to the beginning of melting.
    drop_k, through_w: of the part that carries the coil, towards the tip. drops, joints, fits: rows, empty
    for many designs at once.
    """

    ids: tuple
    metals: tuple
    hottest_c: tuple
    service_c: tuple
    melting_c: tuple
    margin_k: float
    melt_margin_k: float
    drop_k: float
    through_w: float
    drops: tuple
    joints: tuple
    fits: tuple


def work_metals(build: Build, heat: HeatPart | None) -> MetalsPart | None:
    """What each metal part stands at its hottest, and where the kelvins go.

    build: Build. heat: result of the heat link.
    Returns MetalsPart, or None where no temperatures were worked out or no part is of metal.
    """
    if heat is None or heat.refused or not heat.part_ids:
        return None
    ids = tuple(i for i in heat.part_ids if solid_key(item(build.part, i).material)[0] == "metals")
    if not ids:
        return None
    metals = tuple(metal_key(item(build.part, i).material) for i in ids)
    hottest = tuple(_float(heat.hottest(i)) for i in ids)
    service = tuple(metal_value(m, "service_limit_c").value for m in metals)
    melting = tuple(metal_value(m, "melting_low_c").low for m in metals)
    drops, joints, fits = (), (), ()
    if heat.model is not None and not heat.model.designs:
        flow = flows(heat.model.net, heat.temps_c)
        drops = tuple(d for d in (part_drop(heat, i, m, flow) for i, m in zip(ids, metals)) if d is not None)
        joints = tuple(j for j in (_joint(build, heat, j, ids, flow) for j in build.joint) if j is not None)
        fits = tuple(f for f in (_fit(build, heat, j, ids) for j in build.joint) if f is not None)
    own = next((d for d in drops if build.coil is not None and d.id == build.coil.on), None)
    nowhere = NAN * hottest[0]
    return as_floats(
        MetalsPart(
            ids,
            metals,
            hottest,
            service,
            melting,
            np.min([s - h for s, h in zip(service, hottest)], axis=0),
            np.min([m - h for m, h in zip(melting, hottest)], axis=0),
            nowhere if own is None else own.drop_k,
            nowhere if own is None else own.through_w,
            drops,
            joints,
            fits,
        )
    )


def _float(value):
    return float(value) if np.ndim(value) == 0 else value


def hottest_bands(part, drawn, n):
    """Bands of the hottest places of the metal parts.

    part, drawn: MetalsPart of the build and of its samples, or None. n: number of samples.
    Returns dict: part's id -> Band.
    """
    if part is None or drawn is None:
        return {}
    return {i: band_of(h, np.broadcast_to(d, (n,))) for i, h, d in zip(part.ids, part.hottest_c, drawn.hottest_c)}


def part_drop(heat, id, metal, flow=None):
    """The drop along a metal part of a settled tool, from its hottest place towards the tip.

    heat: HeatPart of one design. id: part. metal: its key. flow: flows of the tool, if at hand.
    Returns PartDrop, or None for a part of one or two slices.
    """
    model = heat.model
    piece = next(p for p in model.tool.pieces if p.id == id)
    x, t = model.along(id, heat.temps_c)
    if x.size < 3 or piece.work:
        return None
    along = watts_along(model, heat.temps_c, id, flow)
    top = int(np.argmax(t))
    stretch = slice(0, top + 1) if top > 1 else slice(top, x.size)
    through = along.rearward_w[stretch.start : stretch.stop - 1]  # with its sign: it may turn on the way
    apart = np.diff(x[stretch])
    ends = t[stretch][0], t[stretch][-1]
    k = mean_between(
        metal, "conductivity_w_mk", *(min(e, metal_value(metal, "melting_low_c").value - 1.0) for e in ends)
    )
    return PartDrop(
        id,
        metal,
        float(apart.sum()),
        float(tube_section(piece.outer_m, piece.inner_m)),
        k * float(piece.conductivity_scale),
        abs(float(np.sum(through * apart) / apart.sum())),
        float(max(ends) - min(ends)),
    )


def _joint(build, heat, joint, ids, flow):
    first, second = joint.between
    if first not in ids or second not in ids or not joint.made:
        return None
    ends = temps_at_joint(heat.model, heat.temps_c, first, second)
    drop = ends[0] - ends[1]
    if np.isnan(drop):
        return None
    watts = watts_across(heat.model, heat.temps_c, first, second, flow)
    if drop < 0:
        first, second, drop, watts = second, first, -drop, -watts
    rise = heat.hottest(first) - build.room.ambient_c
    return JointDrop(
        first, second, joint_row(joint.made)["made"], watts, drop, float(drop / rise) if rise > 1.0 else NAN, max(ends)
    )


def _fit(build, heat, joint, ids):
    """A plug in a tube, where the joint is of a kind that touches and both diameters are on the sheet."""
    if not joint.made or not all(i in ids for i in joint.between):
        return None
    made = joint_row(joint.made)["made"]
    a, b = (item(build.part, i) for i in joint.between)
    for tube, plug in ((a, b), (b, a)):
        sits = tube.inner_m and plug.outer_m and abs(tube.inner_m - plug.outer_m) < SITS_M
        if not sits or not made.startswith(TOUCHING) or min(tube.to_m, plug.to_m) - max(tube.from_m, plug.from_m) <= 0:
            continue
        low, high = max(tube.from_m, plug.from_m), min(tube.to_m, plug.to_m)
        hot_c = [_mean_at(heat, p.id, low, high) for p in (tube, plug)]
        shape = tube.inner_m - plug.outer_m, plug.outer_m, tube.outer_m
        try:
            cold = will_it_split(tube.material, plug.material, *shape, COLD_C, COLD_C)
            hot = will_it_split(tube.material, plug.material, *shape, *hot_c)
        except Fault:
            return None
        bite = _bite(tube, plug, np.mean(hot_c) - COLD_C) if "set screw" in made else NAN
        return FitRow(
            tube.id,
            plug.id,
            made.startswith("pressed"),
            bool(shape[0] != 0),
            plug.outer_m,
            tube.outer_m,
            cold,
            hot,
            bite,
        )
    return None


def _bite(tube, plug, rise_k):
    grow = [metal_value(m, "expansion_per_k").value for m in (tube.material, plug.material, "mild-steel")]
    return float(screw_tightening(plug.outer_m, (tube.outer_m - tube.inner_m) / 2, rise_k, *grow))


def _mean_at(heat, id, from_m, to_m):
    x, t = heat.model.along(id, heat.temps_c)
    here = (x >= from_m) & (x <= to_m)
    return float(np.mean(t[here])) if np.any(here) else float(np.interp((from_m + to_m) / 2, x, t))
