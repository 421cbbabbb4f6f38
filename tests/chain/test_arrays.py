"""Many what-ifs side by side are the single runs stacked: for every numeric field of a build."""

from dataclasses import fields, is_dataclass

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.sheet.schema import key_of

# A made-up sheet of our own with the fields that no demo has: ribbon, measured ohms, a limit.
RICH = """
[sheet]
name = "every field"
[supply]
kind = "bench supply"
open = "20 V"
source = "0.2 ohm"
limit = "2 A"
[[wire]]
id = "tape"
alloy = "fecral-23-5"
width = "1 mm"
thickness = "0.1 mm"
measured_ohm = 14.5
leads_ohm = 0.2
measured_length = "1 m"
[coil]
wire = "tape"
on = "core"
layers = 2
length = "700 mm"
mounting = "wound on mica, open"
from = "2 mm"
to = "60 mm"
anchor_turns = 1
end_room = "2 mm"
wire_temperature = "500 degC"
[coil.tails]
length = "60 mm"
strands = 2
[[part]]
id = "core"
from = "0 mm"
to = "70 mm"
outer = "7 mm"
[[layer]]
between = ["core", "coil"]
material = "mica"
thickness = "0.3 mm"
[want]
power = "25 W"
[as_built]
cold_ohm = 10.1
"""
SHORT = (
    '[sheet]\nname = "one reading"\n[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = 16.1\namps = 1.61\n'
    '[[wire]]\nid = "w"\nalloy = "cuni-44"\ngauge = "30 SWG"\n'
    '[coil]\nwire = "w"\nwire_temperature = "200 degC"\n[want]\npower = "18 W"\n'
)
TYPED = (
    '[sheet]\nname = "typed"\n[supply]\nkind = "switching supply"\nopen = "12 V"\nlimit = "3 A"\n'
    '[[wire]]\nid = "w"\nalloy = "cuni-44"\ngauge = "30 SWG"\n'
    '[coil]\nwire = "w"\nwire_temperature = "200 degC"\n[want]\npower = "18 W"\n'
)
BUILDS = {
    **{n: bc.load_chosen(n) for n in bc.demos()},
    **{n: bc.read(t) for n, t in (("rich", RICH), ("short", SHORT), ("typed", TYPED))},
}


SINGLES_ONLY = (
    "length of the log",
    "warm-up log",
    "hot enough for the job, by the log",
    "left on, by the log",
    "conductivity of ",
    "finish of ",
    "left on and forgotten",
    "as held: ",
    "cold ohms of the finished coil",
    "fit of the ",
    "drop across the joint",
    "creep of",
    "thread of the ",
    "set point within reach",
    "held ",
    "reading against what is held",
    "power stuck on",
    "the cut-out, between use and harm",
    "contacts of the relay",
)  # told of one build at a time


def numeric_paths(holder, path=""):
    """Every path of a build that holds a number."""
    if isinstance(holder, tuple):
        for i, thing in enumerate(holder):
            if is_dataclass(thing):
                yield from numeric_paths(thing, f"{path}.{i}".strip("."))
    elif is_dataclass(holder):
        for f in fields(holder):
            if f.name != "known":
                yield from numeric_paths(getattr(holder, f.name), f"{path}.{f.name}".strip("."))
    elif isinstance(holder, (int, float)) and not isinstance(holder, bool):
        yield path


def numbers(parts):
    """Every number of the three links: (name, value)."""
    for link, part in zip(("supply", "wire", "coil"), parts):
        for f in fields(part) if part is not None else ():
            value = getattr(part, f.name)
            if isinstance(value, (float, int, np.ndarray)):
                yield f"{link}.{f.name}", value


def tried(value, path=""):
    """Three values round today's; a zero gets small ones, a count whole ones; none outside of the range of its key."""
    key = key_of(path)
    if key is not None and key.whole:
        return np.array([0.0, 1.0, 2.0]) + value
    values = np.array([0.93, 1.0, 1.04]) * value if value else np.array([0.0, 0.01, 0.02])
    return values if key is None or not key.is_quantity else np.clip(values, key.low, key.high)


def cases():
    return [(n, p) for n, b in BUILDS.items() for p in numeric_paths(b)]


def test_no_numeric_field_is_left_out():
    paths = {p for _, p in cases()}
    for needed in (
        "supply.open_v",
        "supply.source_ohm",
        "supply.limit_a",
        "supply.source_share",
        "supply.mains",
        "supply.warming",
        "supply.reading.0.volts_v",
        "supply.reading.1.amps_a",
        "wire.0.diameter_m",
        "wire.0.width_m",
        "wire.0.thickness_m",
        "wire.0.measured_ohm",
        "wire.0.leads_ohm",
        "wire.0.measured_length_m",
        "wire.0.resistivity_ohm_m",
        "wire.0.factor_place",
        "coil.length_m",
        "coil.layers",
        "coil.pitch_m",
        "coil.from_m",
        "coil.to_m",
        "coil.wire_temp_c",
        "coil.anchor_turns",
        "coil.end_room_m",
        "coil.tails.length_m",
        "coil.tails.resistance_ohm",
        "coil.tails.strands",
        "part.0.outer_m",
        "part.0.from_m",
        "layer.0.thickness_m",
        "want.power_w",
        "room.ambient_c",
    ):
        assert needed in paths, needed
    assert len(cases()) > 150


@pytest.mark.parametrize("name, path", cases())
def test_array_runs_equal_stacked_single_runs(name, path):
    build = BUILDS[name]
    values = tried(bc.get(build, path), path)
    together = dict(numbers(bc.links(bc.change(build, path, values))))
    singles = [dict(numbers(bc.links(bc.change(build, path, float(x))))) for x in values]
    assert together.keys() == singles[0].keys()
    for key, many in together.items():
        stacked = np.array([one[key] for one in singles], float)
        got = np.broadcast_to(np.asarray(many, float), 3)
        assert np.allclose(got, stacked, rtol=1e-12, atol=0, equal_nan=True), (key, got, stacked)


@pytest.mark.parametrize("name", BUILDS)
def test_every_field_that_matters_moves_something(name):
    """Guards the test above: the three values are not three times the same run."""
    build = BUILDS[name]
    still = [
        p
        for p in numeric_paths(build)
        if p.startswith(("coil.length", "wire.0.resistivity", "part.1.outer", "supply.mains", "coil.wire_temp"))
    ]
    base = dict(numbers(bc.links(build)))
    for path in still:
        moved = dict(numbers(bc.links(bc.change(build, path, float(tried(bc.get(build, path), path)[2])))))
        if path == "part.1.outer_m" and name in ("foam_bow", "rich", "short", "typed"):
            continue
        assert any(not np.isclose(base[k], moved[k], rtol=1e-9, equal_nan=True) for k in base), path


@pytest.mark.parametrize("name", BUILDS)
def test_work_out_takes_arrays_and_judges_each(name):
    build = BUILDS[name]
    lengths = np.array([0.5, 1.0, 2.0]) * (build.coil.length_m or 0.7)
    many = bc.work_out(bc.change(build, "coil.length_m", lengths))
    assert not many.bands
    for i, length in enumerate(lengths):
        one = bc.work_out(bc.change(build, "coil.length_m", float(length)), samples=0)
        singles = {(link, v.what): v for link, v in one.verdicts}
        left_out = {what for _, what in singles} - {v.what for _, v in many.verdicts}
        assert all(w.startswith(SINGLES_ONLY) for w in left_out), left_out
        for link, several in many.verdicts:
            single = singles[link, several.what]
            state = np.broadcast_to(several.state, 3)[i]
            assert state == single.state or {state, single.state} == {"fine", "tight"}, several.what
