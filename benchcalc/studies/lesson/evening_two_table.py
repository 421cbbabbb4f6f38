"""What evening two asks of its boxes, its lamps and its adults, and the invented readings for where boxes fail."""

from dataclasses import dataclass

from ...basics.fault import fault
from ...basics.tables import rows
from ...heater.protection import fuse_rating
from ...heater.soak import class_limit
from ...heater.windings import COLD_LAMP

LAMP_V, LAMP_W, LAMPS = 12.0, 5.0, 2  # printed on each lamp; side by side at the most
LEAST_VA, MOST_VA = 12.0, 20.0  # of a box that the class may look at
MOST_DROP = 0.25  # share of the unloaded volts that one lamp may take before no second one goes on
MOST_OPEN = 1.5  # unloaded volts over those printed on the lamps, from where on no lamp goes on: own judgement
BOX_MIN = 7.0  # minutes of the teacher's hand at each box: own judgement, read aloud
BENCHES_A_BOX = 2  # that can stand round one box and read it in turn: own judgement
BENCHES_AN_ADULT = 3  # whose switches one adult can watch: own judgement
PEOPLE_A_BENCH = (2, 3)
HOME_S = 7200.0  # the trial at home: own judgement
HOME_RESERVE_K = 20.0  # below the limit of class 105 at its end: own judgement
MOST_BENCHES = 15


@dataclass(frozen=True)
class BoxLamps:
    """What the lamps ask.  one_a, all_a: amps. all_va: volt-amperes. fuse_a: rating of the slow fuse in the low lead.
    first_a: asked by cold filaments."""

    one_a: float
    all_a: float
    all_va: float
    fuse_a: float
    first_a: float


def box_lamps() -> BoxLamps:
    """Amps of the lamps at their printed volts, and the fuse for them.  Equation: I = P/U."""
    one_a = LAMP_W / LAMP_V
    all_a = LAMPS * one_a
    return BoxLamps(one_a, all_a, LAMPS * LAMP_W, fuse_rating(all_a), all_a / COLD_LAMP)


def warmest_at_home() -> float:
    """Mean temperature, degC, that the soak's winding may reach at home to be brought along: that of class 105 less a
    reserve."""
    return class_limit(105)[0] - HOME_RESERVE_K


@dataclass(frozen=True)
class Staffing:
    """What a number of benches needs.  benches. least, most: people. adults: who watch switches. boxes: of evening two.
    round_a_box: benches at each. line_min: minutes of the teacher's hand. halves: whether evening two is held twice."""

    benches: int
    least: int
    most: int
    adults: int
    boxes: int
    round_a_box: int
    line_min: float
    halves: bool


def staffing(benches: int) -> Staffing:
    """How many adults and boxes a number of benches needs.

    benches: 1 to 15.
    Returns Staffing.  Raises Fault: fewer or more.
    """
    if not 1 <= benches <= MOST_BENCHES:
        raise fault("benches", benches, f"must be 1 to {MOST_BENCHES}.")
    fit = boxes_that_fit()
    halves = benches > fit * BENCHES_A_BOX
    at_once = -(-benches // 2) if halves else benches
    boxes = min(fit, at_once)
    return Staffing(
        benches,
        PEOPLE_A_BENCH[0] * benches,
        PEOPLE_A_BENCH[1] * benches,
        -(-benches // BENCHES_AN_ADULT),
        boxes,
        -(-at_once // boxes),
        boxes * BOX_MIN,
        halves,
    )


def boxes_that_fit() -> int:
    """How many boxes the teacher can plug in, one after the other, in the part of evening two that is kept for it."""
    line = next(r for r in rows("class_minutes") if r["evening"] == "2" and "one lamp, two lamps" in r["what"])
    return int(float(line["minutes"]) // BOX_MIN)


@dataclass(frozen=True)
class ChalkedBox:
    """The invented box.  line: pairs of V and A, unloaded first. cold_ohm, cold_room_c: before its soak. soak: triples
    of s under load, ohm, room in degC."""

    line: tuple
    cold_ohm: float
    cold_room_c: float
    soak: tuple


def chalked_box() -> ChalkedBox:
    """Invented readings for the board, of a box and a soak that fit the evening."""
    found = {kind: [r for r in rows("class_chalk") if r["kind"] == kind] for kind in ("line", "cold", "soak")}
    (cold,) = found["cold"]
    return ChalkedBox(
        tuple((float(r["volts_v"]), float(r["amps_a"])) for r in found["line"]),
        float(cold["winding_ohm"]),
        float(cold["room_c"]),
        tuple((60 * float(r["minutes"]), float(r["winding_ohm"]), float(r["room_c"])) for r in found["soak"]),
    )
