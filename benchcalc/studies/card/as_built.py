"""As built: readings written on the card, typed back and held against what was expected, row by row."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.band import Band
from ...basics.fault import Fault
from ...basics.names import say, suffix_of
from ...sheet.build_as_built import CardReading
from ...sheet.typed_reading import typed_reading
from .record import Card, CardRow

AGREES, BY_METER, CONTRADICTS, NOT_JUDGED = "agrees", "agrees within the meter", "contradicts", "not judged"
INSIDE = 0.9  # share of readings that a 90 % band should hold
# What a reading past the band most likely means: (higher, lower).  Own judgement; nothing published says it.
LIKELY = {
    "gate.open_v": ("The mains are high today.", "The mains are low today, or another winding is read."),
    "line.loaded_v": (
        "A load that is not connected, or takes fewer amps; else the mains are high today.",
        "Low mains, warm copper, or a poor contact.",
    ),
    "line.source_ohm": ("Warm copper, or a poor contact in the lead.", "The loaded reading was taken too short."),
    "wire.ohm_per_m": ("Thinner wire, or an alloy of higher ohms.", "Thicker wire, or an alloy of lower ohms."),
    "winding.cold_ohm": (
        "Longer or thinner wire than planned, or a joint that adds ohms: compare section 6.",
        "Turns that touch, a shorter piece, or thicker wire: count the turns.",
    ),
    "winding.turns": ("A thinner former, or a longer piece.", "A thicker former, or a shorter piece."),
    "tails.drop_v": ("A joint adds ohms: make it again.", "Less copper in the way than planned: better."),
    "first.load_a": ("Turns touch.", "A joint adds ohms, or there is more wire."),
    "first.hot_over_cold": ("Another alloy, or a hotter wire than thought.", "Another alloy, or it had not settled."),
    "full.load_v": ("High mains, or more ohms than planned.", "Low mains, a soft supply, or fewer ohms."),
    "full.load_a": ("High mains, or turns that touch.", "Low mains, or a joint that adds ohms."),
    "full.joint_c": ("The joint heats itself.", "More air at the joint than thought."),
    "time.tip_c": (
        "A better joint to the tip, or less draught.",
        "A poor joint to the tip, draught, or a loose probe.",
    ),
    "time.entry_c": (
        "More heat goes rearward: a closer fit, hot gas in the bore.",
        "Draught on the tube, a loose probe.",
    ),
    "time.grip_c": ("Heat enters by the bore or a screw.", "A loose probe, draught."),
    "time.work_c": ("Less is in it than the sheet says.", "More is in it, a lid off, a poor joint below."),
    "soak.hot_ohm": ("A hotter winding: less load, or more air.", "It had cooled before it was read."),
}

OPEN, LOADED = "gate.open_v", "line.loaded_v"
NOT_THE_MAINS = (
    "A load that is not connected, or takes fewer amps: the volts with nothing connected are as expected, so it is not "
    "the mains.",
    "Warm copper, or a poor contact: the volts with nothing connected are as expected, so it is not the mains.",
)
SLIP, SLIP_NEAR = (
    1000.0,
    1.5,
)  # a prefix too much or too little, and how near to the band's ends it must bring the value
FINISHED = {"winding.cold_ohm": "cold_ohm", "winding.turns": "turns", "winding.winding_m": "winding_m"}


@dataclass(frozen=True)
class Compared:
    """One row held against its reading.

    row: CardRow. value, low, high: the reading and its ends by the instrument, SI. state: one of AGREES, BY_METER,
    CONTRADICTS, NOT_JUDGED. off: distance from what was expected, in half bands on that side (1: at the band's end),
    nan where there is no band. means: what that most likely means, "" where it agrees.
    """

    row: CardRow
    value: float
    low: float
    high: float
    state: str
    off: float
    means: str


@dataclass(frozen=True)
class Score:
    """How good a prediction was.  rows: readings that had a band. inside: of them inside it. chance: that so few or
    fewer lie inside if the bands were right and the rows independent, 0 to 1; they are not, so it is only a hint."""

    rows: int
    inside: int
    chance: float


def typed_back(build, row, text):
    """A reading as it was written on the card.

    build: Build, for its meters. row: CardRow. text: number with its unit.
    Returns (value, low, high), SI.  Raises Fault.
    """
    return typed_reading(build, row.what, row.key, text)


def compare(build, card: Card, readings: dict) -> tuple:
    """Every reading against its row, in the order of the card.

    build: Build; a reading that its sheet keeps is held against what was expected when it was kept. card: Card.
    readings: id of a row -> text as typed; empty ones are left out.
    Returns tuple of Compared.  Raises Fault that lists all that cannot be read.
    """
    found, wrong = [], []
    for row in card.rows():
        text = str(readings.get(row.id) or "").strip()
        row = as_kept(build, row, text)
        if not text:
            continue
        try:
            found.append(_compared(row, *typed_back(build, row, text)))
        except Fault as told:
            wrong += told.complaints
    if wrong:
        raise Fault(*wrong)
    return tuple(_beside(build, c, found) for c in found)


def as_kept(build, row, text):
    """A row with what was expected when this very reading was kept: a later change cannot make a prediction look wiser.

    build: Build. row: CardRow. text: as typed.
    Returns CardRow; unchanged where the sheet keeps no such reading, or kept no band with it.
    """
    kept = next((r for r in build.as_built.reading if r.row == row.id and r.read == text), None)
    if kept is None or kept.expected is None:
        return row
    return replace(row, expected=Band(kept.expected, kept.low, kept.high))


def _compared(row, value, low, high):
    band = row.expected
    if band is None or not np.isfinite([band.nominal, band.low, band.high]).all():
        return Compared(row, value, low, high, NOT_JUDGED, np.nan, "")
    side = band.high - band.nominal if value >= band.nominal else band.nominal - band.low
    off = (value - band.nominal) / side if side > 0 else np.nan
    if band.low <= value <= band.high:
        return Compared(row, value, low, high, AGREES, off, "")
    if low <= band.high and high >= band.low:
        return Compared(row, value, low, high, BY_METER, off, "")
    key = next((k for k in LIKELY if row.id.startswith(k)), None)
    means = row.outside if key is None else LIKELY[key][0 if value > band.nominal else 1]
    return Compared(row, value, low, high, CONTRADICTS, off, means)


def _beside(build, one, found):
    """A row that contradicts, with what it means beside the others: a slip of a thousand, or volts that the mains
    cannot explain.

    build: Build, for its units. one: Compared. found: all of them.
    """
    if one.state != CONTRADICTS:
        return one
    meant = slipped(one)
    if meant is not None:
        way = {"units": build.units, "degrees": build.degrees}
        words = f"Was {say(one.row.key, meant, **way)} meant? It is off by a factor of about a thousand."
        return replace(one, means=words)
    as_expected = any(c.row.id == OPEN and c.state in (AGREES, BY_METER) for c in found)
    if one.row.id == LOADED and as_expected:
        return replace(one, means=NOT_THE_MAINS[0 if one.value > one.row.expected.nominal else 1])
    return one


def slipped(one):
    """What was meant where a reading is off by a prefix, such as mV for V.

    one: Compared that contradicts.
    Returns SI value a thousand times larger or smaller than the reading, None where neither is near what was expected;
    never of temperatures, whose scale has no such slip.
    """
    band = one.row.expected
    if suffix_of(one.row.key) in ("", "c") or not band.low > 0:
        return None
    near = (band.low / SLIP_NEAR, band.high * SLIP_NEAR)
    return next((x for x in (one.value * SLIP, one.value / SLIP) if near[0] <= x <= near[1]), None)


def first_to_look_at(compared):
    """The first row of the bench that contradicts: what comes after it leans on it.

    compared: tuple of Compared.
    Returns Compared, or None.
    """
    return next((c for c in compared if c.state == CONTRADICTS), None)


def score(compared) -> Score:
    """The score of a prediction.

    compared: tuple of Compared.
    Returns Score.  The same ohms read again after closing, and rows without a band, are not counted.
    Method: binomial distribution, lower tail.
    """
    from scipy.stats import binom

    told = [c for c in compared if np.isfinite(c.off) and not c.row.id.startswith(("closed.", "later."))]
    inside = sum(c.state == AGREES for c in told)
    return Score(len(told), inside, float(binom.cdf(inside, len(told), INSIDE)) if told else 1.0)


def kept_readings(build):
    """The readings that a sheet keeps.  build: Build.  Returns dict: id of a row -> text as it was typed."""
    return {r.row: r.read for r in build.as_built.reading}


def finished_coil(build, card: Card, readings: dict) -> dict:
    """What the readings of the winding say of the finished coil, for the keys that its verdicts go by.

    build: Build. card: Card. readings: as compare.
    Returns dict: path of the sheet -> value, SI, None where the reading it came from was taken back.  Only where the
    sheet says nothing yet, or says what the reading kept before said: a value typed by hand stays.  Raises Fault.
    """
    found, before = {}, kept_readings(build)
    rows = {row.id: row for row in card.rows()}
    for id, key in FINISHED.items():
        if id not in rows:
            continue
        text, stands = str(readings.get(id) or "").strip(), getattr(build.as_built, key)
        last = typed_back(build, rows[id], before[id])[0] if before.get(id) else None
        if stands is not None and (last is None or abs(stands - last) > 1e-6 * abs(last)):
            continue
        value = typed_back(build, rows[id], text)[0] if text else None
        if value != stands:
            found[f"as_built.{key}"] = value
    return found


def as_card_readings(build, card, readings):
    """What a sheet keeps of a card and its readings: the prediction as it was, and what was typed.

    build: Build, whose own earlier predictions stay for readings that did not change, as do its readings of rows that
    the card has no more. card: Card. readings: as compare.
    Returns tuple of CardReading.
    """
    rows = card.rows()
    here = {row.id for row in rows}
    found = [r for r in build.as_built.reading if r.row not in here]
    for row in rows:
        text = str(readings.get(row.id) or "").strip()
        if not text:
            continue
        band = as_kept(build, row, text).expected
        known = band is not None and np.isfinite([band.nominal, band.low, band.high]).all()
        ends = (float(band.nominal), float(band.low), float(band.high)) if known else (None, None, None)
        found.append(CardReading(row.id, text, row.key or None, *ends))
    return tuple(found)
