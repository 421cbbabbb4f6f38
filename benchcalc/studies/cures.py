"""Changes that may cure what a verdict warns of: each a few fields of the sheet, the least effort first."""

from dataclasses import dataclass

import numpy as np

from ..basics.names import say
from ..chain.control.in_use import HELD
from ..chain.control.verdicts import WITHIN_REACH
from ..chain.heat.holes import with_break, with_moves
from ..chain.supply.verdicts import FOR_COIL
from ..chain.wire.coil import coil_span
from ..chain.wire.link import tail_section
from ..chain.workings import chain
from ..heater.coil import layers_needed
from ..materials.bulk import solid, solid_key
from ..materials.insulation import rating, stays_or_leaves
from ..sheet.build import Build
from ..sheet.build_control import switch_of
from ..sheet.change import change, get, item
from ..sheet.defaults import default
from ..sheet.roles import part_with_role
from ..thermal.control.law import ON_OFF, STEADY
from .reaching import reaching

STEEL, LONGER_M, THINNER_M, OFF_M, LEAST_WALL_M = "stainless-304", 0.020, 0.3e-3, 1e-3, 0.3e-3
LEAST_SHIFT_M = 5e-3  # of a winding, worth winding it anew
SHARES, MORE, MOST_STRANDS = (0.8, 0.6), (1.1, 1.2, 1.35, 1.6, 2.0), 7  # of today's watts; of the wire's strands
WANTED = "tip against the wanted temperature"
UNDER_WIRE = ("mica-plate", "phlogopite", "silica-sleeve", "ceramic-fibre")  # what is sold in sheets and sleeves
ON_TAILS = " on the tails"
SLEEVES = ("glass-sleeve-bare", "silica-sleeve", "ceramic-fibre-braid")


@dataclass(frozen=True)
class Cure:
    """One change.

    words: what to do. moves: tuple of (path, value) that does it on the sheet. effort: 1 is the least.
    """

    words: str
    moves: tuple
    effort: int

    @property
    def is_posture(self):
        """Whether it only holds as long as the tool lies as it was laid: nobody sees to that in an empty room."""
        return any(path == "room.attitude" for path, _ in self.moves)

    @property
    def of_layers(self):
        """Whether it changes nothing but insulation."""
        return all(path.startswith("layer.") for path, _ in self.moves)

    def beside(self, other):
        """This change and another one at once.  other: Cure of other fields."""
        return Cure(f"{self.words}; {other.words}", (*self.moves, *other.moves), 9)

    def on(self, build):
        """The build with this change.  build: Build.  Returns Build."""
        return with_moves(build, dict(self.moves))


NOTHING = Cure("", (), 0)


def cures_of(build: Build) -> list:
    """Changes of the heat that make sense for a tool: attitude, watts, metal, length, wall, holes, and some together.

    build: Build (floats) whose temperatures can be worked out.
    Returns list of Cure, the least effort first.
    """
    tube, handle = (part_with_role(build, role, placed=True) for role in ("tube", "handle"))
    made = []
    laid = {"room.attitude": "lying"} if build.room.attitude == "tip down" else {}
    if laid:
        made.append(Cure("laid down instead of tip down", _moves(laid), 1))
    coil = chain(build).coil
    fewer = {share: _other_watts(build, coil, share) for share in SHARES}
    by = "of the watts, by more wire in the coil"
    made += [Cure(f"{share:.0%} {by}", _moves(m), 2) for share, m in fewer.items() if m]
    if handle is not None and coil is not None:
        made += _further(build, coil, handle)
    if None not in (tube, handle) and None not in (tube.material, tube.outer_m):
        steel, longer, made_of = _tube(build, tube, handle)
        made += made_of
        first = ("tube of stainless steel", steel)
        made += _together([first], longer, fewer[SHARES[0]])
        made += _together([("laid down", laid), first], longer, fewer[SHARES[0]]) if laid else []
    return sorted(made, key=lambda cure: cure.effort)


def _together(first, longer, fewer):
    """Several changes at once.  first: (words, moves) of each. longer: as of _tube. fewer: moves to fewer watts."""
    made = []
    for words, more, effort in (("", {}, 6), _longer(longer, 1, 6), _longer(longer, 3, 7)):
        joined = [(w, m) for w, m in (*first, (words, more)) if m]
        if len(joined) > 1 or effort == 7:
            made.append(Cure(", ".join(w for w, _ in joined), _moves(*(m for _, m in joined)), effort))
    if fewer:
        joined.append((f"{SHARES[0]:.0%} of the watts", fewer))
        made.append(Cure(", ".join(w for w, _ in joined), _moves(*(m for _, m in joined)), 8))
    return made


def _longer(longer, steps, effort):
    return f"{1e3 * steps * LONGER_M:.0f} mm more bare tube", longer(steps), effort


def _moves(*many):
    return tuple((path, value) for moves in many for path, value in moves.items())


def _other_watts(build, coil, share):
    """Moves for a coil that takes a share of today's watts, its pitch left open so that it fills its room."""
    if coil is None or not coil.coil_w > 0 or not np.isfinite(coil.coil_w):  # a supply that trips gives none
        return {}
    wanted = change(change(build, "coil.length_m", None), "want.power_w", share * coil.coil_w)
    length_m = chain(wanted).coil.length_m
    if not np.isfinite(length_m):
        return {}
    pitch = {} if build.coil.pitch_m is None else {"coil.pitch_m": None}
    return {"coil.length_m": float(length_m), "want.power_w": float(share * coil.coil_w), **pitch}


def _tube(build, tube, handle):
    """Changes of the tube and handle: (moves to stainless steel, function of steps of length -> moves, Cures)."""
    steel = {} if "stainless" in solid_key(tube.material)[1] else {f"part.{tube.id}.material": STEEL}

    def longer(steps):
        paths = (f"part.{handle.id}.from_m", f"part.{handle.id}.to_m", f"part.{tube.id}.to_m")
        return {path: get(build, path) + steps * LONGER_M for path in paths}

    made = [Cure("tube of stainless steel", _moves(steel), 3)] if steel else []
    made += [Cure(f"{1e3 * n * LONGER_M:.0f} mm more bare tube", _moves(longer(n)), 3 + n // 2) for n in (1, 2)]
    if tube.inner_m is not None and (tube.outer_m - tube.inner_m) / 2 - THINNER_M >= LEAST_WALL_M:
        thin = {f"part.{tube.id}.inner_m": tube.inner_m + 2 * THINNER_M}
        made.append(Cure(f"a tube with {1e3 * THINNER_M:.1f} mm less wall", _moves(thin), 4))
    if handle.inner_m is not None and handle.outer_m is not None and handle.outer_m - handle.inner_m > 6 * OFF_M:
        off = {f"part.{handle.id}.inner_m": handle.inner_m + 2 * OFF_M}
        made.append(Cure(f"the handle {1e3 * OFF_M:.0f} mm off the tube, on two rings", _moves(off), 4))
    holes = with_break(build).heat_break
    if holes and not build.heat_break:
        made.append(Cure("two rings of holes", ((f"heat_break.{holes[0].id}.rings", 2.0),), 5))
    return steel, longer, made


def and_layer(build, cure, verdict):
    """A cure with another insulation beside it, where after it a layer or a sleeve is what comes nearest to its limit.

    build: Build (floats). cure: Cure, NOTHING for none. verdict: Verdict as it stands with it.
    Returns list of Cure, none where its place is no insulation of the sheet.
    """
    if verdict.key not in ("hottest_c", "temp_c") or not verdict.place:
        return []
    hot_c = verdict.value if verdict.band is None else verdict.band.high
    places = [(" between {} and {}".format(*y.between), solid(y.material), f"layer.{i}.material", UNDER_WIRE)
              for i, y in enumerate(build.layer) if y.between and y.material is not None]  # fmt: skip
    if build.coil.tails.sleeve is not None:
        places.append((ON_TAILS, rating(build.coil.tails.sleeve), "coil.tails.sleeve", SLEEVES))
    made = []
    for where, own, path, keys in places:
        if verdict.place.endswith(where):
            made += _other_insulation(cure, (where, own, path), keys, hot_c)
    return made


def _other_insulation(cure, place, keys, hot_c):
    """A cure with each insulation of some kinds beside it that holds at a place, instead of what the cure put there."""
    where, own, path = place
    names = {r.key: f"{_apart(r.name, own.name)}{where}" for r in map(rating, keys)}
    told = [words for words in cure.words.split("; ") if words and words not in names.values()]
    kept = tuple(move for move in cure.moves if move[0] != path)
    return [
        Cure("; ".join([*told, names[r.key]]), (*kept, (path, r.key)), 9)
        for r in _that_hold(hot_c, keys)
        if r.key not in (own.key, dict(cure.moves).get(path))
    ]


def own_cures(build, workings, verdict):
    """Cures of one verdict alone: more layers, another pitch, a winding spread out, better tails, more watts, the
    calmer law, another insulation.

    build: Build (floats). workings: Workings. verdict: Verdict.
    Returns list of Cure.
    """
    made, coil = [], workings.coil
    if verdict.what.startswith(("length of the winding", "turns side by side", "gap between")):
        wire = item(build.wire, build.coil.wire)
        thick, across = (wire.thickness_m, wire.width_m) if wire.width_m is not None else (wire.diameter_m,) * 2
        pitch = (1 + default("coil.gap_wire_diameters")["value"]) * across
        layers = layers_needed(coil.length_m, coil.former_m, thick, coil.room_m - across, pitch)
        if layers is not None:
            moves = {"coil.layers": float(layers), "coil.pitch_m": float(pitch)}
            apart = "wire" if wire.width_m is None else "width of the ribbon"
            words = f"{layers} layer{'s, insulated from each other' if layers > 1 else ''}, turns one {apart} apart"
            made.append(Cure(words, _moves(moves), 2))
        made += _spread(build)
    if verdict.what == WITHIN_REACH:
        made += [Cure(w, _moves(m), effort) for w, m, effort in reaching(build, workings, _other_watts)]
    if verdict.what in (FOR_COIL, WANTED):
        made += _better_tails(build)
    if verdict.what == WANTED:
        more = {share: _other_watts(build, coil, share) for share in MORE}
        by = "of the watts, by less wire in the coil"
        made += [Cure(f"{share:.0%} {by}", _moves(m), 2) for share, m in more.items() if m]
    if verdict.key == "temp_c":
        made += and_layer(build, NOTHING, verdict)
    if verdict.what.startswith(HELD) and build.control.law == ON_OFF and switch_of(build) != "relay":
        made.append(Cure(f"{STEADY} instead of on-off", (("control.kind", STEADY),), 1))
    if np.isfinite(verdict.value) and verdict.key == "hottest_c":
        hot_c, tails = verdict.value if verdict.band is None else verdict.band.high, build.coil.tails
        if verdict.what.endswith(ON_TAILS) and tails.sleeve is not None:
            made += _other_insulation(NOTHING, (ON_TAILS, rating(tails.sleeve), "coil.tails.sleeve"), SLEEVES, hot_c)
        for i, layer in enumerate(build.layer):
            ends = "-", "-"
            if layer.between:
                ends = tuple(words.format(*layer.between) for words in (", {} to {}", " between {} and {}"))
            if verdict.what.endswith(ends) and layer.material is not None:
                place = " there instead", solid(layer.material), f"layer.{i}.material"
                made += _other_insulation(NOTHING, place, UNDER_WIRE, hot_c)
    return made


def _further(build, coil, handle):
    """Cures that wind the coil further from the handle on its part: by all the room that there is, and by half of it.

    build: Build. coil: CoilPart. handle: Part.  Of a tip half of what is bare in front of the winding stays so, to work
    with.  Layers go with the coil.
    """
    part = next((p for p in build.part if p.id == build.coil.on), None)
    near_m, far_m = (None, None) if part is None else coil_span(build.coil, part)
    if None in (near_m, far_m, part and part.from_m) or far_m > handle.from_m or not np.isfinite(coil.spare_m):
        return []
    needed_m = far_m - near_m - (0.0 if build.coil.pitch_m is None else max(coil.spare_m, 0.0))
    start_m, way = (near_m + far_m - needed_m) / 2, {"units": build.units}
    most_m, made = (start_m - part.from_m) * (0.5 if part.role == "tip" else 1.0), []
    for share in (0.5, 1.0):
        by_m = float(np.floor(1e3 * share * most_m + 1e-6)) / 1e3
        if by_m < LEAST_SHIFT_M:
            continue
        moves = {f"coil.{end}_m": round(float(start_m - by_m + x), 4) for end, x in (("from", 0.0), ("to", needed_m))}
        if build.coil.tails.length_m is not None:
            moves["coil.tails.length_m"] = build.coil.tails.length_m + by_m
        where = " to ".join(say("length_m", moves[f"coil.{end}_m"], **way) for end in ("from", "to"))
        made.append(
            Cure(f"wound {say('length_m', by_m, **way)} further from the handle, from {where}", _moves(moves), 2)
        )
    return made


def _better_tails(build):
    """Tails of fewer ohms, where the sheet tells their length: more strands, or copper; of metal already: thicker."""
    tails = build.coil.tails
    if tails.length_m is None or tails.resistance_ohm is not None:
        return []
    section_m2 = tail_section(tails)
    size = say("area_m2", section_m2 if tails.material is None else 2 * section_m2, units=build.units)
    if tails.material is not None:
        return [Cure(f"tails of twice the section, {size}", (("coil.tails.section_m2", 2 * section_m2),), 1)]
    made = []
    if 2 * tails.strands <= MOST_STRANDS:
        words = f"tails of {2 * tails.strands} strands twisted together instead of {tails.strands}"
        made.append(Cure(words, (("coil.tails.strands", float(2 * tails.strands)),), 1))
    copper = {"coil.tails.material": "copper", "coil.tails.section_m2": section_m2}
    return [*made, Cure(f"copper tails of {size}, crimped on behind the coil", _moves(copper), 2)]


def _spread(build):
    """Cures that move the typed ends of a winding outwards on its part, the handle left alone: halfway, and all."""
    coil = build.coil
    part = next((p for p in build.part if p.id == coil.on), None)
    if part is None or None in (coil.from_m, coil.to_m, part.from_m, part.to_m) or coil.pitch_m is not None:
        return []
    starts = [p.from_m for p in build.part if p.role == "handle" and p.from_m is not None]
    lowest, highest = min(part.from_m, coil.from_m), max(coil.to_m, min([part.to_m, *starts]))
    if coil.from_m - lowest + highest - coil.to_m < OFF_M:
        return []
    made = []
    for share in (0.5, 1.0):
        ends = coil.from_m - share * (coil.from_m - lowest), coil.to_m + share * (highest - coil.to_m)
        moves = {"coil.from_m": round(ends[0], 4), "coil.to_m": round(ends[1], 4)}
        where = " to ".join(say("length_m", x, units=build.units) for x in moves.values())
        made.append(Cure(f"the winding spread out on the {part.id}, from {where}", _moves(moves), 1))
    return made


def _apart(name, own):
    """A material's name in short, in full where the one that is there is called the same in short."""
    short = name.split(" (")[0]
    return name if short == own.split(" (")[0] else short


def _that_hold(hot_c, keys):
    """Ratings that stay at a temperature, the lowest first."""
    if not hot_c >= -60:
        return []
    return [r for r, word in stays_or_leaves(hot_c, keys) if word == "stays"][::-1]
