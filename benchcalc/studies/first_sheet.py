"""A first sheet from the job: what must get hot, how big, which shape; what the maker did not say is marked assumed.

Proportions are common practice of such tools, without a source; the maker replaces them one by one.
"""

from dataclasses import dataclass

from ..basics.fault import fault
from ..basics.names import say

MICA_M, SLEEVE_M, PLAY_M, WALL_M = 0.25e-3, 0.4e-3, 0.1e-3, 1e-3
HANDLE_M, GRIP_M = 0.09, 0.026
MICA, GLASS, CLOTH = "mica", "bare glass sleeve", "glass fibre"
HOTTER = {MICA: "phlogopite", GLASS: "silica sleeve", CLOTH: "ceramic fibre"}  # the next that bears more


@dataclass(frozen=True)
class JobShape:
    """A kind of tool: what it is called, what its size is, from and to (m), and where the wanted temperature is.

    at: temperature of HeatPart ("tip_c", "work_c", "wire_c").
    """

    word: str
    size: str
    low_m: float
    high_m: float
    usual_m: float
    at: str


SHAPES = (
    JobShape("rod in a tube with a handle", "diameter of the tip", 0.005, 0.025, 0.008, "tip_c"),
    JobShape("winding on the bit", "diameter of the bit", 0.004, 0.02, 0.008, "tip_c"),
    JobShape("pot", "inside diameter of the pot", 0.02, 0.15, 0.057, "work_c"),
    JobShape("stretched wire", "length of the wire", 0.05, 1.5, 0.4, "wire_c"),
    JobShape("plate", "diameter of the plate", 0.01, 0.08, 0.03, "tip_c"),
)


class SaidNumber(float):
    """A number the maker gave himself: it stands on the sheet as stated, what is worked out from it as assumed."""


class SaidWord(str):
    """A word the maker gave himself, as `SaidNumber`."""


@dataclass(frozen=True)
class FirstGuess:
    """What is guessed of supply and wire: open volts, source ohms, wire diameter (m), power (W), wire in the coil (m).

    under, over: insulation below and above the coil, "" for the shape's own. reach_m: bare tube before the handle
    beyond the usual (m).
    """

    open_v: float = 18.0
    source_ohm: float = 1.0
    wire_m: float = 0.3e-3
    power_w: float = 20.0
    length_m: float | None = None
    under: str = ""
    over: str = ""
    reach_m: float = 0.0


def job_shape(word: str) -> JobShape:
    """The shape of a name.  word: of SHAPES.  Raises Fault with the names there are."""
    for shape in SHAPES:
        if shape.word == word:
            return shape
    raise fault("shape", word, "is none here: " + "; ".join(s.word for s in SHAPES) + ".")


def first_text(
    shape: JobShape, size_m: float, wanted_c: float, guess: FirstGuess, *, job: str = "", material: str = ""
) -> str:
    """The text of a first sheet, without its name.

    shape: JobShape. size_m: its size. wanted_c: temperature of what must be hot, degC. guess: FirstGuess. job: of
    data/work.csv, or "". material: what is melted, for a pot.
    Returns TOML; each value ends in the word assumed, but for a SaidNumber or SaidWord that was given.  Raises Fault:
    a size outside the shape's range.
    """
    if not shape.low_m <= size_m <= shape.high_m:
        ends = " to ".join(say("length_m", x) for x in (shape.low_m, shape.high_m))
        raise fault(shape.size, say("length_m", size_m), f"is outside {ends}, where a {shape.word} is usual.")
    make = {"pot": _pot, "stretched wire": _bow, "winding on the bit": _bit}.get(shape.word, _rod)
    body = make(size_m, guess, material) if make is not _rod else _rod(size_m, guess, shape.word == "plate")
    want = _table("want", power=_q(guess.power_w, "W"), **({"job": f'"{job}"'} if job else {}))
    if shape.at == "tip_c":
        want += f"temperature = {_q(wanted_c, 'degC')}\n"
    use = _table("use", hours_per_year=_q(50, "h"))
    return "\n".join((_supply(guess), _wire(guess), body, use, want))


def _q(value, unit, spread=""):
    """A quantity marked assumed unless the maker said it, as TOML."""
    return f'"{value:.6g} {unit}"' if isinstance(value, SaidNumber) else f'"{value:.4g} {unit}{spread} assumed"'


def _mm(value_m):
    return _q(SaidNumber(value_m * 1000) if isinstance(value_m, SaidNumber) else value_m * 1000, "mm")


def _s(word):
    return f'"{word}"' if isinstance(word, SaidWord) else f'"{word} assumed"'


def _table(name, many=False, **keys):
    head = f"[[{name}]]" if many else f"[{name}]"
    return "\n".join([head, *(f"{k.rstrip('_')} = {v}" for k, v in keys.items())]) + "\n"


def _part(id, role, material, place, outer_m, inner_m=None, finish=None):
    start_m, end_m = place
    keys = {"id": f'"{id}"', "role": f'"{role}"', "material": _s(material), "from": _mm(start_m), "to": _mm(end_m)}
    keys |= {} if inner_m is None else {"inner": _mm(inner_m)}
    keys |= {"outer": _mm(outer_m)} | ({} if finish is None else {"finish": _s(finish)})
    return _table("part", True, **keys)


def _joint(one, two, made):
    return _table("joint", True, between=f'["{one}", "{two}"]', made=_s(made))


def _layer(one, two, material, thickness_m):
    return _table("layer", True, between=f'["{one}", "{two}"]', material=_s(material), thickness=_mm(thickness_m))


def _supply(guess):
    return _table(
        "supply",
        kind=_s("transformer"),
        open=_q(guess.open_v, "V", " +- 10 %"),
        source=_q(guess.source_ohm, "ohm", " +- 50 %"),
    )


def _wire(guess):
    return _table("wire", True, id='"reel"', alloy=_s("nickel-chromium 80/20"), diameter=_mm(guess.wire_m))


def _coil(guess, on, mounting, start_m=None, end_m=None):
    keys = {"wire": '"reel"', **({} if on is None else {"on": f'"{on}"'}), "mounting": _s(mounting)}
    if start_m is not None:
        keys |= {"from": _mm(start_m), "to": _mm(end_m)}
    if guess.length_m is not None:
        keys["length"] = _mm(guess.length_m)
    return _table("coil", **keys)


def _room(attitude):
    return _table("room", ambient='"20 degC +- 5 K assumed"', attitude=_s(attitude))


def _rod(size_m, guess, plate=False):
    """A tip on a stem that the coil is wound on, in a tube that goes into a wooden handle."""
    tip_m = 0.012 if plate else size_m
    stem_m = max(0.004, tip_m - 2 * (MICA_M + SLEEVE_M) - 2 * guess.wire_m)
    bore_m = max(tip_m, stem_m + 2 * (MICA_M + SLEEVE_M + guess.wire_m)) + PLAY_M
    face_m, tube_m = 0.006 if plate else 0.0, bore_m + 2 * WALL_M
    front_m = face_m + 3 * min(tip_m, 0.012)
    back_m, seat_m = front_m + 0.05, front_m - 0.006
    grip_m = back_m + 0.04 + guess.reach_m
    parts = [_part("plate", "disc", "brass", (0, face_m), size_m, finish="used")] if plate else []
    parts += [
        _part("tip", "tip", "brass", (face_m, front_m), tip_m, finish="used"),
        _part("stem", "stem", "mild steel", (front_m, back_m), stem_m),
        _part("tube", "tube", "stainless steel", (seat_m, grip_m + 0.06), tube_m, bore_m, "tinted"),
        _part("handle", "handle", "beech", (grip_m, grip_m + HANDLE_M), max(GRIP_M, bore_m + 0.016), tube_m),
    ]
    joints = [_joint("plate", "tip", "one piece")] if plate else []
    joints += [_joint("tip", "stem", "threaded"), _joint("tip", "tube", "clearance with set screw")]
    under, over = guess.under or MICA, guess.over or GLASS
    layers = [_layer("stem", "coil", under, MICA_M), _layer("coil", "tube", over, SLEEVE_M)]
    coil = _coil(guess, "stem", "bench tool core in a tube")
    return "\n".join((coil, *parts, *joints, *layers, _room("tip down")))


def _bit(size_m, guess, _=""):
    """A winding on the bit itself, under a fibre wrap, with a tube behind that goes into a wooden handle."""
    start_m, end_m = 2.5 * size_m, 2.5 * size_m + 0.045
    rear_m, tube_m = end_m + 0.015, size_m + PLAY_M + 2 * WALL_M
    grip_m = rear_m + 0.07 + guess.reach_m
    parts = (
        _part("bit", "tip", "copper", (0, rear_m), size_m, finish="used"),
        _part("tube", "tube", "stainless steel", (end_m + 0.003, grip_m + 0.06), tube_m, size_m + PLAY_M),
        _part("handle", "handle", "beech", (grip_m, grip_m + HANDLE_M), GRIP_M + size_m / 2, tube_m),
    )
    under, over = guess.under or MICA, guess.over or GLASS
    layers = _layer("bit", "coil", under, MICA_M), _layer("coil", "room", over, 2 * SLEEVE_M)
    coil = _coil(guess, "bit", "wound on mica, enclosed", start_m, end_m)
    return "\n".join((coil, *parts, _joint("bit", "tube", "clearance with set screw"), *layers, _room("tip down")))


def _pot(size_m, guess, material):
    """A pot as wide as it is deep, nine tenths full, with a belt of wire round it under fibre."""
    wall_m, floor_m = 0.0015, 0.0015
    outer_m, deep_m = size_m + 2 * wall_m, floor_m + size_m
    parts = (
        _part("bottom", "disc", "aluminium", (0, floor_m), outer_m),
        _part("cup", "cup", "aluminium", (floor_m, deep_m), outer_m, size_m, "commercial sheet"),
        _part("filling", "work", material or "paraffin wax", (floor_m, floor_m + 0.9 * size_m), size_m),
    )
    layers = _layer("cup", "coil", guess.under or CLOTH, 0.001), _layer("coil", "room", "ceramic fibre", 0.005)
    coil = _coil(guess, "cup", "belt round a pot, on fibre")
    return "\n".join((coil, *parts, _joint("bottom", "cup", "one piece"), *layers, _room("tip down")))


def _bow(size_m, guess, _=""):
    """A wire stretched between two clamps of a wooden bow."""
    frame = _part("bow", "frame", "beech", (0, size_m), 0.025)
    return "\n".join((_coil(guess, None, "bare wire in free air"), frame, _room("lying")))
