"""No key is dead: altering it alters a part, a verdict, a caution, what a page shows, or it is refused."""

from dataclasses import fields, is_dataclass
from functools import cache
from pathlib import Path

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.cautions.cautions import cautions_for
from benchcalc.sheet.schema import KEYS
from benchcalc.show.control.fault_table import faults
from benchcalc.show.log.page import model_at
from benchcalc.show.page import lesson
from benchcalc.show.supply.tables import clip_result
from benchcalc.show.wire.scrap_tables import supplies
from benchcalc.studies.calibrate.probe import sheet_markers
from benchcalc.studies.card.scores import tool_score
from benchcalc.studies.holding import holding
from benchcalc.studies.touching import touch_row

PRESS = bc.load_chosen("insert_press")
TEXT = Path(PRESS.file).read_text(encoding="utf-8")


def told(thing):
    if is_dataclass(thing):
        return [(f.name, told(getattr(thing, f.name))) for f in fields(thing) if f.name != "model"]
    if isinstance(thing, (tuple, list)):
        return [told(x) for x in thing]
    if isinstance(thing, np.ndarray):
        return thing.tolist()
    return repr(thing)


def outcome(build):
    out = bc.work_out(build, samples=0)
    return repr((told(tuple(dict(out.parts).items())), told(out.verdicts), cautions_for(build, out)))


BREAK = """
[[heat_break]]
id = "ring"
on = "tube"
from = "95 mm"
rings = 2
holes = 6
diameter = "2 mm"
spacing = "4 mm"
"""
WITH_BREAK = bc.read(TEXT + BREAK)
HELD = """
[control]
set = "170 degC"
cut_out = "184 degC"
cut_out_at = "60 mm"
cut_out_hold = "144 degC"
[sensor]
at = "2 mm"
attached = "peened or embedded"
"""
WITH_CONTROL = bc.read(TEXT + HELD)
# fields that must be there too, and the value to try where a tenth more would not do
TOGETHER = {
    "supply.cable": {"supply.cable.area_m2": 1e-6, "supply.cable.length_m": 2.0},
    "coil.tails": {"coil.tails.resistance_ohm": None},
    "wire": {"wire.reel.measured_ohm": 17.6, "wire.reel.measured_length_m": 1.0},
    "part": {"part.handle.density_kg_m3": 700.0, "part.handle.moisture": 0.08},
    "lead_out": {"lead_out.joint_at_m": 0.1, "lead_out.joint": "soldered"},
}
TRY = {
    "wire.used": True,
    "wire.have": 0.5,
    "coil.wire": "thick reel",
    "supply.frequency": "60 Hz",
    "coil.on": "tip",
    "coil.from": 0.035,
    "coil.to": 0.075,
    "coil.tails.sleeve": "PTFE",
    "lead_out.joint": "crimped",
    "lead_out.solder": "solder-sn60pb40",
    "soak.amps": 0.3,
    "soak.metal": "aluminium",
    "heat_break.on": "tip",
    "soak.class": 130.0,
    "heat_break.rings": 3,
    "lead_out.cable": "PVC",
    "part.material": "copper",
    "joint.from": 0.026,
    "joint.to": 0.028,
    "layer.between": ("stem", "tube"),
    "control.way": "relay",
    "sensor.kind": "Pt100",
    "sensor.class": "1",
    "sensor.on": "stem",
    "room.attitude": "lying",
    "want.job": "wax, dipping",
}
PLACE = {"joint": "1", "part": "tip", "wire": "reel", "layer": "0", "heat_break": "ring", "supply.reading": "1"}
PLACE |= {"soak.cooling": "1", "soak.hour": "1"}

# keys that are reached by altering the text of a sheet and reading it again: names, how pages show, what a reading
# becomes when the sheet is read, what the pages of the log work with (second test)
ELSEWHERE = (
    "supply.reading.watts",
    "supply.reading.ohms",
    "wire.id",
    "part.id",
    "heat_break.id",
    "supply.reading.with",
    "supply.reading.minutes",
)
ELSEWHERE += ("supply.reading.clipped", "wire.width", "wire.thickness", "wire.used", "wire.gauge")
ELSEWHERE += ("lead_out.joint", "lead_out.solder", "lead_out.cable")
ELSEWHERE += ("control.kind", "control.band", "control.proportional_band", "control.integral", "control.touch")
ELSEWHERE += ("sensor.on", "sensor.class", "sensor.kind", "sensor.broken_reads", "sensor.lag")
READ_AGAIN = ("sheet", "log", "marker", "other_supply", "learned", "as_built.reading")
HERE = [
    k
    for section, keys in KEYS.items()
    for k in keys.values()
    if section not in READ_AGAIN and f"{section}.{k.key}" not in ELSEWHERE
]


@cache
def context(section):
    build = WITH_BREAK if section in ("heat_break", "use") else PRESS
    build = WITH_CONTROL if section in ("control", "sensor") else build
    for path, value in TOGETHER.get(section, {}).items():
        build = bc.change(build, path, value)
    return build, outcome(build)


def another(key, now):
    name = f"{key.section}.{key.key}"
    if name in TRY:
        return TRY[name]
    if key.is_quantity:
        return 1.1 * now if now else (key.low + key.high) / 3
    if key.kind == "flag":
        return not now
    words = {"alloy": "fecral", "material": "copper", "finish": "bright", "joint": "crimped", "pair": ("stem", "tube")}
    words |= {"mounting": "open coil in air", "text": "tube"}
    return next(c for c in key.choices if c != now) if key.choices else words[key.kind]


@pytest.mark.parametrize("key", HERE, ids=lambda k: f"{k.section}.{k.key}")
def test_altering_a_key_alters_what_is_told_or_is_refused(key):
    build, before = context(key.section)
    place = "handle" if key.key in ("density", "moisture") else PLACE.get(key.section, "")
    path = ".".join(name for name in (key.section, place, key.field) if name)
    now = bc.get(build, path)
    value = another(key, now)
    assert value != now
    try:
        after = outcome(bc.change(build, path, value))
    except bc.Fault as refused:
        assert str(refused)
    else:
        assert after != before, f"{key.section}.{key.key} is read and then used nowhere"


def shown(text, folder):
    """All that a sheet leads to: its chain with bands, its cautions, and the words of the pages; or its fault."""
    path = folder / "own.toml"
    path.write_text(text, encoding="utf-8")
    try:
        build = bc.load(path)
        out = bc.work_out(build, samples=40)
        words = [lesson.introduce(build).text, lesson.at_a_glance(build, out), clip_result(build), sheet_markers(build)]
        words += [supplies(build), tool_score(build)]
        words += [model_at(build, out.heat, log) for log in build.log]
        words += held_words(build)
        return repr((told(tuple(dict(out.parts).items())), told(out.verdicts), cautions_for(build, out), words))
    except bc.Fault as refused:
        return str(refused)


def held_words(build):
    """What the page of control tells of a build that holds something."""
    found = holding(build) if build.control is not None else None
    if found is None or found.refused:
        return [] if found is None else [found.refused]
    return [found.law, found.held, touch_row(build)["words"], faults(build, found)]


TAILS = TEXT.replace('ohm = "0.1 ohm +- 0.05 ohm"', 'length = "8 cm"').replace('"nickel"', '"copper"')
SOLDERED = TAILS.replace('joint = "crimped"', 'joint_at = "125 mm"\njoint = "soldered"\nsolder = "solder-sn63pb37"')
MARKED = TEXT + '\n[[marker]]\nmaterial = "tin"\nat = "40 mm"\ntime = "5 min"\n'
LOGGED = "time,a degC,b degF\n" + "".join(f"{30 * i},{20 + 300 * (1 - 0.9**i):.1f},{70 + 9 * i}\n" for i in range(60))
SMALL = """[sheet]
name = "small"
[supply]
kind = "transformer"
[[supply.reading]]
volts = 15
amps = 0
[[supply.reading]]
volts = 14
amps = 1
minutes = 1
clipped = "1 m"
with = "better multimeter"
[[supply.reading]]
volts = 13.1
amps = 2
clipped = "48 cm"
[[wire]]
id = "w"
alloy = "nicr-80-20"
gauge = "28 AWG"
used = true
[coil]
wire = "w"
length = "1 m"
"""
WATTS = SMALL.replace("volts = 13.1\namps = 2\n", "watts = 26\nohms = 6.5\n")
RIBBON = SMALL.replace('gauge = "28 AWG"', 'width = "1 mm"\nthickness = "0.1 mm"')
ONE_LOG = SMALL + '[[log]]\nfile = "one.csv"\nat = "1 mm"\nattached = "pressed bead"\nchannel = "a degC"\ntime = "s"\n'
ONE_LOG += 'reads = "degC"\npower = "20 W"\n'
PRESS_LOG = TEXT.split("[[log]]")[0] + ONE_LOG[len(SMALL) :].replace('at = "1 mm"', 'at = "41 mm"')
OTHER = (
    SMALL.replace("used = true", 'used = true\nmeasured_ohm = "81 ohm"\nmeasured_length = "6 m"')
    + """[want]
power = "20 W"
[[other_supply]]
id = "lump"
kind = "transformer"
output = "AC"
open = "20 V"
source = "1 ohm"
[[other_supply]]
id = "block"
kind = "transformer"
rectifier = "bridge"
open = "24 V"
volts = 18
amps = 1.5
[[other_supply]]
id = "brick"
kind = "switching supply"
open = "18 V"
source = "0.1 ohm"
limit = "3 A"
[[other_supply]]
id = "pack"
kind = "battery"
open = "20 V"
source = "0.2 ohm"
charge = "4 Ah"
"""
)
LEARNED = """
[[learned]]
input = "air speed"
log = "one.csv"
of = "0.15 (0.05 to 0.35)"
value = 0.11
low = 0.07
high = 0.2
[[learned]]
input = "the room that day"
log = "one.csv"
of = "20 (15 to 25)"
value = 22
low = 21
high = 23
that_day = true
"""
CARDED = SMALL + '[[as_built.reading]]\nrow = "full.load_a"\nread = "2 A"\nquantity = "load_a"\n'
CARDED += "expected = 2.05\nlow = 1.9\nhigh = 2.2\n"
TAUGHT = SMALL + LEARNED
PRESS_TAUGHT = TEXT + LEARNED.replace("the room that day", "emissivity, tube").replace(
    "20 (15 to 25)", "mild steel, tinted"
)
PRESS_TAUGHT = PRESS_TAUGHT.replace(
    "value = 22\nlow = 21\nhigh = 23\nthat_day = true", "value = 0.3\nlow = 0.2\nhigh = 0.4"
)
PRESS_TAUGHT += 'goes_with = "-0.9"\n'
STEADY = TEXT + HELD.replace("[control]", '[control]\nkind = "proportional-integral"\nproportional_band = "30 K"')
STEADY = STEADY.replace('set = "170 degC"', 'set = "170 degC"\nintegral = "100 s"\ntouch = "joint"')
STEADY += 'on = "tip"\nkind = "type K"\nclass = "2"\nbroken_reads = "cold"\nlag = "2 s"\n'
BANG = STEADY.replace("proportional-integral", "on-off").replace("[sensor]", 'band = "4 K"\n[sensor]')
TEXTS = {
    "as_built.reading.row": (CARDED, '"full.load_a"', '"full.load_v"'),
    "as_built.reading.read": (CARDED, '"2 A"', '"2.1 A"'),
    "as_built.reading.quantity": (CARDED, '"load_a"', '"load_v"'),
    "as_built.reading.expected": (CARDED, "expected = 2.05", "expected = 2.06"),
    "as_built.reading.low": (CARDED, "low = 1.9", "low = 2.02"),
    "as_built.reading.high": (CARDED, "high = 2.2", "high = 2.1"),
    "learned.input": (TAUGHT, '"air speed"', '"air sped"'),
    "learned.log": (TAUGHT, "one.csv", "two.csv"),
    "learned.of": (TAUGHT, "0.15 (", "0.16 ("),
    "learned.value": (TAUGHT, "value = 0.11", "value = 0.12"),
    "learned.low": (TAUGHT, "low = 0.07", "low = 0.08"),
    "learned.high": (TAUGHT, "high = 0.2\n", "high = 0.18\n"),
    "learned.that_day": (TAUGHT, "that_day = true\n", ""),
    "learned.goes_with": (PRESS_TAUGHT, "-0.9", "0.9"),
    "control.kind": (BANG, '"on-off"', '"proportional-integral"'),
    "control.band": (BANG, '"4 K"', '"9 K"'),
    "control.proportional_band": (STEADY, '"30 K"', '"60 K"'),
    "control.integral": (STEADY, '"100 s"', '"300 s"'),
    "control.touch": (STEADY, '"joint"', '"insert"'),
    "sensor.on": (STEADY, 'on = "tip"\nkind', 'on = "stem"\nkind'),
    "sensor.kind": (STEADY, 'kind = "type K"\nclass = "2"', 'kind = "Pt100"\nclass = "B"'),
    "sensor.class": (STEADY, 'class = "2"', 'class = "1"'),
    "sensor.broken_reads": (STEADY, '"cold"', '"hot"'),
    "sensor.lag": (STEADY, '"2 s"', '"9 s"'),
    "other_supply.id": (OTHER, '"lump"', '"lamp"'),
    "other_supply.kind": (OTHER, 'kind = "transformer"\noutput = "AC"', 'kind = "switching supply"'),
    "other_supply.output": (OTHER, 'output = "AC"', 'output = "DC"'),
    "other_supply.rectifier": (OTHER, '"bridge"', '"half"'),
    "other_supply.open": (OTHER, '"20 V"', '"55 V"'),
    "other_supply.source": (OTHER, '"1 ohm"', '"2 ohm"'),
    "other_supply.limit": (OTHER, '"3 A"', '"0.5 A"'),
    "other_supply.charge": (OTHER, '"4 Ah"', '"2 Ah"'),
    "other_supply.energy": (OTHER.replace('charge = "4 Ah"', 'energy = "72 Wh"'), '"72 Wh"', '"36 Wh"'),
    "other_supply.volts": (OTHER, "volts = 18", "volts = 23"),
    "other_supply.amps": (OTHER, "amps = 1.5", "amps = 0.2"),
    "wire.gauge": (SMALL, '"28 AWG"', '"30 AWG"'),
    "wire.width": (RIBBON, '"1 mm"\nthick', '"2 mm"\nthick'),
    "wire.thickness": (RIBBON, '"0.1 mm"', '"0.2 mm"'),
    "wire.used": (SMALL, "used = true\n", ""),
    "wire.id": (SMALL, 'id = "w"', 'id = "v"'),
    "part.id": (TEXT, 'id = "stem"', 'id = "rod"'),
    "heat_break.id": (
        TEXT + BREAK + BREAK.replace('"ring"', '"belt"').replace("95", "110"),
        'id = "belt"',
        'id = "ring"',
    ),
    "supply.reading.with": (SMALL, '"better multimeter"', '"cheap multimeter"'),
    "supply.reading.minutes": (SMALL, "minutes = 1\n", "minutes = 30\n"),
    "supply.reading.clipped": (SMALL, '"48 cm"', '"60 cm"'),
    "supply.reading.watts": (WATTS, "watts = 26", "watts = 27"),
    "supply.reading.ohms": (WATTS, "ohms = 6.5", "ohms = 6.6"),
    "lead_out.joint": (SOLDERED, '"soldered"', '"crimped"'),
    "lead_out.solder": (SOLDERED, "sn63pb37", "sac305"),
    "lead_out.cable": (TAILS, '"silicone rubber"', '"PVC"'),
    "sheet.name": (TEXT, 'name = "', 'name = "another '),
    "sheet.units": (TEXT, "invented = true", 'invented = true\nunits = "inch"'),
    "sheet.degrees": (TEXT, "invented = true", 'invented = true\ndegrees = "F"'),
    "sheet.begun_from": (TEXT.replace("invented = true", 'begun_from = "foil_iron"'), '"foil_iron"', '"insert_press"'),
    "sheet.invented": (TEXT, "invented = true\n", ""),
    "marker.material": (MARKED, '"tin"', '"lead"'),
    "marker.at": (MARKED, 'at = "40 mm"\ntime', 'at = "50 mm"\ntime'),
    "marker.time": (MARKED, '"5 min"', '"7 min"'),
    "log.file": (ONE_LOG, "one.csv", "two.csv"),
    "log.at": (PRESS_LOG, 'at = "41 mm"', 'at = "1 mm"'),
    "log.attached": (ONE_LOG, "pressed bead", "taped bead"),
    "log.channel": (ONE_LOG, "a degC", "b degF"),
    "log.time": (ONE_LOG, 'time = "s"', 'time = "min"'),
    "log.reads": (ONE_LOG, 'reads = "degC"', 'reads = "degF"'),
    "log.power": (ONE_LOG, '"20 W"', '"30 W"'),
}


def test_every_key_is_altered_by_one_of_the_two_tests():
    here = {f"{k.section}.{k.key}" for k in HERE}
    every = {f"{section}.{k.key}" for section, keys in KEYS.items() for k in keys.values()}
    assert every == here | set(TEXTS)


@pytest.mark.parametrize("name", TEXTS)
def test_altering_a_key_in_the_text_alters_what_is_shown(name, tmp_path):
    text, old, new = TEXTS[name]
    (tmp_path / "one.csv").write_text(LOGGED, encoding="utf-8")
    assert text.count(old) >= 1
    before, after = shown(text, tmp_path), shown(text.replace(old, new), tmp_path)
    assert before.startswith("("), before  # worked out, no fault
    assert after != before
