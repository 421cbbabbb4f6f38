"""What else keeps a handle cool: each remedy worked out alone on the same tool, to stand side by side."""

from dataclasses import dataclass, replace

from ..basics.tables import rows
from ..chain.heat.holes import narrow_of, with_break
from ..chain.heat.link import work_heat
from ..chain.wire.link import tail_section
from ..chain.workings import SAMPLES, chain, work_out
from ..materials.bulk import solid_key
from ..sheet.build import Build
from ..sheet.change import change, get, item
from ..sheet.roles import ids_by_role, part_with_role
from ..thermal.holes.strength import bare_of, bending_of, stiffness_left, tip_give

LONGER_M, THINNER_M, GAP_M, LESS = 0.020, 0.3e-3, 1e-3, 0.8
LEAST_WALL_M = 0.3e-3


@dataclass(frozen=True)
class Remedy:
    """One remedy: words, what it asks of the maker, temperatures, stiffness at the tip over that of today's tool."""

    words: str
    effort: str
    entry_c: float
    bore_c: float
    grip_c: float
    tip_c: float
    stiffness: float
    note: str = ""


def longer(build, by_m):
    """The build with more bare tube before its handle, the handle as long as before.

    build: Build with a tube and a handle. by_m: m.
    Returns Build.
    """
    ids = ids_by_role(build)
    for path in (f"part.{ids['handle']}.from_m", f"part.{ids['handle']}.to_m", f"part.{ids['tube']}.to_m"):
        build = change(build, path, get(build, path) + by_m)
    return build


def without_holes(build):
    """The build with its tube whole.

    build: Build.
    Returns Build.
    """
    return replace(build, heat_break=())


def drilled(build, rings):
    """The build with rings of holes: its own break, or the one that a page proposes.

    build: Build. rings: number of rings.
    Returns Build.
    """
    build = with_break(build)
    return change(build, f"heat_break.{build.heat_break[0].id}.rings", float(rings))


def remedies(build: Build) -> tuple:
    """The remedies that make sense for a tool, each alone, then some together.

    build: Build (floats) with tube, handle and heat.
    Returns tuple of Remedy; the first is the tool without holes as it is, the last two go together.
    """
    whole = without_holes(build)
    ids = ids_by_role(build)
    tube, handle = item(whole.part, ids["tube"]), item(whole.part, ids["handle"])
    wall = (tube.outer_m - tube.inner_m) / 2
    tried = [("as it is, no holes", "none", whole)]
    if build.room.attitude == "tip down":
        tried.append(("laid down instead of tip down", "a cradle", change(whole, "room.attitude", "lying")))
    tried.append((f"{1e3 * LONGER_M:.0f} mm more bare tube", "a longer tube", longer(whole, LONGER_M)))
    if wall - THINNER_M >= LEAST_WALL_M:
        thin = change(whole, f"part.{tube.id}.inner_m", tube.inner_m + 2 * THINNER_M)
        tried.append((f"wall thinner by {1e3 * THINNER_M:.1f} mm", "a reamer, or another tube", thin))
    if "stainless" not in solid_key(tube.material)[1]:
        tried.append(
            (
                "tube of stainless steel",
                "another tube; hard to drill",
                change(whole, f"part.{tube.id}.material", "stainless-304"),
            )
        )
    if handle.inner_m is not None and handle.outer_m is not None and handle.outer_m - handle.inner_m > 6 * GAP_M:
        stood = change(whole, f"part.{handle.id}.inner_m", handle.inner_m + 2 * GAP_M)
        tried.append((f"handle {1e3 * GAP_M:.0f} mm off the tube", "two rings of cord or mica", stood))
    if build.coil.tails.material is None:
        tried.append(("tails of copper", "two joints that stay hot: weld or crimp", _copper_tails(whole)))
    fits = with_break(whole).heat_break
    if fits:
        tried += [
            ("one ring of holes", "an hour with the drill", drilled(build, 1)),
            ("two rings of holes", "two hours with the drill", drilled(build, 2)),
            (f"two rings and {1e3 * LONGER_M:.0f} mm more tube", "tube and drill", longer(drilled(build, 2), LONGER_M)),
            (
                f"the same, laid down, {2e3 * LONGER_M:.0f} mm more",
                "tube, drill, cradle",
                change(longer(drilled(build, 2), 2 * LONGER_M), "room.attitude", "lying"),
            ),
        ]
    base = tip_give_of(whole)
    made = [_one(words, effort, one, base) for words, effort, one in tried]
    made.insert(2, _less_power(whole, base))
    if build.coil.on != tube.id:
        plugged = change(whole, "heat.bore_open", 0.0)
        made.insert(3, _one("bore plugged behind the coil", "a wad of fibre", plugged, base))
    return tuple(made)


@dataclass(frozen=True)
class AdviceStep:
    """One step of the advice: words, the build after it, its band at the handle, states of wood and hand."""

    words: str
    build: object
    entry: object
    wood: str
    hand: str

    @property
    def done(self):
        """Whether wood and hand are fine with their whole bands."""
        return self.wood == "fine" and self.hand in ("fine", "")


def advice(build: Build, samples: int = SAMPLES) -> tuple:
    """What to do, in order of effort, until wood and hand are fine: lay it down, two rings of holes, more bare tube.

    build: Build (floats) with tube, handle and heat. samples: behind the bands.
    Returns tuple of AdviceStep; the first is today's tool, the last is fine, or the most that was tried.
    """
    steps = [_step("today", build, samples)]
    ways = (
        []
        if build.room.attitude != "tip down"
        else [("laid down instead of tip down", lambda b: change(b, "room.attitude", "lying"))]
    )
    ways += (
        [("two rings of holes", lambda b: drilled(b, 2))]
        if not build.heat_break and with_break(build).heat_break
        else []
    )
    ways += [("10 mm more bare tube", lambda b: longer(b, 0.010))] * 6
    for words, way in ways:
        if steps[-1].done:
            break
        steps.append(_step(words, way(steps[-1].build), samples))
    return tuple(steps)


def _step(words, build, samples):
    workings = work_out(replace(build, begun_from=None), samples=samples)  # as if what was borrowed were measured
    states = {v.what: v.state for v in workings.of("handle")}
    return AdviceStep(
        words,
        build,
        workings.bands["handle.entry_c"],
        states.get("wood at the tube, for years", "fine"),
        states.get("handle in the hand", ""),
    )


def _one(words, effort, build, base):
    heat = chain(build)[3]
    if heat.refused:
        nan = float("nan")
        return Remedy(words, effort, nan, nan, nan, nan, nan, heat.refused)
    return Remedy(words, effort, heat.entry_c, heat.bore_c, heat.grip_c, heat.tip_c, base / tip_give_of(build))


def _less_power(build, base):
    _, wire, coil, _, _ = chain(build)
    heat = work_heat(build, wire, coil, LESS * coil.coil_w)
    return Remedy(
        f"{LESS:.0%} of the power",
        "more wire in the coil",
        heat.entry_c,
        heat.bore_c,
        heat.grip_c,
        heat.tip_c,
        base / tip_give_of(build),
    )


def tip_give_of(build):
    """How far the tip gives for each newton: the tube from its front to the handle, holes and all.

    build: Build (floats) with a tube and a handle.
    Returns m for each newton; the parts in front of the tube count as stiff.
    """
    tube = part_with_role(build, "tube", placed=True)
    handle = part_with_role(build, "handle", placed=True)
    tip = min(p.from_m for p in build.part if p.from_m is not None)
    topic, key = solid_key(tube.material)
    found = next(
        (
            r
            for r in rows("metal_values")
            if topic == "metals" and r["key"] == key and r["quantity"] == "elastic_modulus_pa"
        ),
        {"value": 2e11},
    )
    bending = bending_of(found["value"], tube.outer_m, tube.inner_m)
    give = tip_give([tube.from_m, handle.from_m], [bending], tip)
    for b in narrow_of(build):
        bare, middle = bare_of(b.from_m, b.to_m, handle.from_m)
        give /= stiffness_left(give, bare * b.extra_m, middle - tip, bending)
    return float(give)


def _copper_tails(build):
    """The build with copper tails of the usual section, from the coil to the end of the handle."""
    _, wire, coil, heat, _ = chain(build)
    start = heat.model.tool.winding.to_m
    rear = max(p.to_m for p in build.part if p.to_m is not None)
    found = next(r for r in rows("metal_values") if r["key"] == "copper" and r["quantity"] == "resistivity_ohm_m")
    build = change(build, "coil.tails.material", "copper")
    return change(
        build, "coil.tails.resistance_ohm", 2 * found["value"] * (rear - start) / tail_section(build.coil.tails)
    )
