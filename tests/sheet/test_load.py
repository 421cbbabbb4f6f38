"""The sheet's own keys: all load, all round-trip, and all that is wrong with them is told at once."""

import tomllib
from dataclasses import fields

import numpy as np
import pytest
from every_key import LEFT, MAXIMAL, good

import benchcalc as bc
from benchcalc.sheet.save import as_typed
from benchcalc.sheet.schema import GONE, KEYS, LISTS, key_of

HEAD = '[sheet]\nname = "x"\n'


def faults(text):
    with pytest.raises(bc.Fault) as raised:
        bc.read(text)
    return raised.value


def test_a_sheet_with_every_key_loads_and_works_out():
    build = bc.read(MAXIMAL)
    assert build.units == "metric" and build.invented is True and build.coil.tails.strands == 2
    assert build.joint[0].between == ("a", "b") and build.supply.reading[0].loaded_s == 300
    assert build.part[0].inner_m == 0.004 and build.want.tip_c == 200 and build.wire[1].diameter_m > 0
    assert bc.work_out(build, samples=20).coil.coil_w > 0


def test_every_key_has_a_field_and_every_field_that_is_typed_is_set():
    build = bc.read(MAXIMAL)
    for section, keys in KEYS.items():
        holder = build if section == "sheet" else bc.get(build, section)
        holder = holder[0] if isinstance(holder, tuple) else holder
        names = {f.name for f in fields(holder)}
        for key in keys.values():
            assert key.field in names, (section, key)
            if key.key not in LEFT.get(section, ()):
                assert getattr(holder, key.field) is not None, (section, key)


@pytest.mark.parametrize(
    "key",
    [k for s in KEYS for k in KEYS[s].values() if s != "sheet" and k.kind != "pair"],
    ids=lambda k: f"{k.section}.{k.key}",
)
def test_every_key_round_trips(key):
    """What is read is written so that it is read as the same."""
    build = bc.read(MAXIMAL)
    which = {"gauge": "round", "diameter": "thick"}.get(key.key, "w") if key.section == "wire" else "0"
    path = f"{key.section}.{which}.{key.field}" if key.section in LISTS else f"{key.section}.{key.field}"
    value = bc.get(build, path)
    assert key_of(path) == key
    for units, degrees in (("metric", "C"), ("inch", "F")):
        typed = as_typed(path, value, bc.change(bc.change(build, "units", units), "degrees", degrees))
        written = f'"{typed}"' if isinstance(typed, str) else str(typed).lower()
        assert tomllib.loads(f"x = {written}")["x"] == typed
        again = bc.read(MAXIMAL.replace(f"{key.key} = {good(key)}\n", f"{key.key} = {written}\n"))
        assert bc.get(again, path) == (value if isinstance(value, (str, bool)) else pytest.approx(value, rel=2e-7))


@pytest.mark.parametrize("section", list(KEYS))
def test_an_unknown_key_names_the_closest(section):
    key = next(iter(KEYS[section]))
    wrong = key + "x"
    head = HEAD if section != "sheet" else ""
    opened = f"[[{section}]]" if section in LISTS else f"[{section}]"
    told = faults(f"{head}{opened}\n{wrong} = 1\n")
    mine = [c for c in told.complaints if c.where.endswith(wrong)]
    assert len(mine) == 1 and mine[0].cause.startswith("Closest: ") and key in mine[0].cause
    assert mine[0].line == (4 if head else 2)


@pytest.mark.parametrize("key", list(GONE), ids=".".join)
def test_a_key_that_is_no_more_says_what_to_do_instead(key):
    told = faults(HEAD + f"[[{key[0]}]]\n{key[1]} = true\n")
    mine = [c for c in told.complaints if c.where.endswith("." + key[1])]
    assert len(mine) == 1 and mine[0].line == 4 and mine[0].do.startswith("Leave it out"), str(told)


def test_an_unknown_section_names_the_closest():
    assert "Closest: supply" in str(faults(HEAD + "[suply]\nkind = 1\n"))
    assert "[[wire]]" in str(faults(HEAD + '[wire]\nid = "w"\n'))
    assert "[coil]" in str(faults(HEAD + '[[coil]]\nwire = "w"\n'))


NUMBERS = [k for s in KEYS for k in KEYS[s].values() if k.low is not None]


BADS = ("negative", "zero", "nan", "huge", "wrong unit", "thousands", "bare", "true")


def is_bad(key, bad):
    """A zero is bad above zero only, a bare number where a unit is needed."""
    return not (bad == "zero" and key.low <= 0 or bad == "bare" and not good(key).startswith('"'))


@pytest.mark.parametrize(
    "key, bad",
    [(k, b) for k in NUMBERS for b in BADS if is_bad(k, b)],
    ids=lambda x: x if isinstance(x, str) else f"{x.section}.{x.key}",
)
def test_bad_numbers_are_refused_where_they_stand(key, bad):
    unit = good(key).strip('"').partition(" ")[2]
    written = {
        "negative": "-3",
        "zero": "0",
        "nan": "nan",
        "huge": "123456789",
        "wrong unit": '"5 kg"',
        "thousands": f'"{f"1,200 {unit}".strip()}"',
        "bare": "5",
        "true": "true",
    }[bad]
    if bad in ("negative", "zero", "huge") and unit:
        written = f'"{written} {unit}"'
    if bad == "negative" and key.low < 0:
        written = '"-300 degC"' if key.kind == "c" else "-123456789"
    head = HEAD if key.section != "sheet" else ""
    opened = f"[[{key.section}]]" if key.section in LISTS else f"[{key.section}]"
    told = faults(f"{head}{opened}\n{key.key} = {written}\n")
    mine = [c for c in told.complaints if c.where.endswith("." + key.key)]
    assert mine, str(told)
    assert mine[0].line == 4 and mine[0].need
    shown = written.strip('"')
    assert shown in mine[0].text or bad in ("nan", "true") and shown.lower() in mine[0].text.lower()
    if bad == "thousands" and key.kind not in ("count", "minutes"):
        assert "two ways" in mine[0].need
    if bad in ("negative", "zero", "huge"):
        assert "outside" in mine[0].need and " to " in mine[0].need


@pytest.mark.parametrize(
    "line, says",
    [
        ('alloy = "nicrom-80-20"', "Closest: nicr-80-20"),
        ('alloy = "nichrome"', "nicr-60-15"),
        ("alloy = 5", "text in quotes"),
        ("gauge = 32", "AWG and SWG differ"),
        ('gauge = "32"', "0.202 mm, SWG 32 is 0.274 mm"),
        ('gauge = "32 AVG"', ""),
        ('gauge = "99 SWG"', "12 to 42"),
        ('measured_ohm = "1,200 ohm"\nmeasured_length = "1 m"', "two ways"),
        ('measured_length = "1 m"', "over which length"),
        ('width = "1 mm"', "a ribbon needs both"),
        ('gauge = "28 AWG"\ndiameter = "0.3 mm"', "another size"),
        ('measured_ohm = 1\nmeasured_length = "1 m"\nleads_ohm = 2', "not less than the reading"),
        ('used = "yes"', "true or false"),
        ('gauge = "-0.28 mm"', ""),
        ('gauge = "0 mm"', ""),
        ('diameter = "0.3 mm +- 200 %"', ""),
    ],
)
def test_a_wire_that_cannot_be(line, says):
    assert says in str(faults(f'{HEAD}[[wire]]\nid = "w"\n{line}\n'))


@pytest.mark.parametrize(
    "body, says",
    [
        ('[supply]\nkind = "transformr"\n', "Closest: transformer"),
        ('[supply]\nopen = "12 V"\n', "kind: is missing"),
        ('[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = 12\n', "both volts and amps"),
        (
            '[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = 12\namps = 0\n'
            "[[supply.reading]]\nvolts = 13\namps = 1\n",
            "cannot rise",
        ),
        (
            '[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = 12\namps = 1\n'
            "[[supply.reading]]\nvolts = 11\namps = 1\n",
            "two different loads",
        ),
        (
            '[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = 12\namps = 1\nwith = "cheap multimetre"\n',
            "Closest: cheap multimeter",
        ),
        (
            '[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = "12 V with kitchen scale"\namps = 1\n',
            "is not an instrument for volts",
        ),
        ('[[part]]\nid = "a"\n[[part]]\nid = "a"\n', "stands twice"),
        ('[[part]]\nrole = "tip"\n', "id"),
        ('[[part]]\nid = "1"\n', "only digits"),
        ('[[part]]\nid = "a"\nfrom = "5 mm"\nto = "2 mm"\n', "not beyond from"),
        ('[[part]]\nid = "a"\ninner = "5 mm"\nouter = "4 mm"\n', "may be swapped"),
        ('[[part]]\nid = "stem"\n[[joint]]\nbetween = ["stem", "tub"]\n', "not the id of a part"),
        ('[[joint]]\nbetween = ["stem"]\n', "two ids"),
        ('[coil]\nwire = "reel"\n', "not the id of a wire"),
        ('[[wire]]\nid = "w"\n[coil]\nlayers = 2\n', "which wire"),
        ('[coil]\nmounting = "open coil in the air"\n', "Closest: open coil in air"),
        ('[coil]\nlayers = "1.5"\n', "whole number"),
        ('[coil]\non = "stem"\n', "not the id of a part"),
        ("supply = 5\n", ""),
        ("", "name"),
    ],
)
def test_what_does_not_fit_together(body, says):
    text = body + HEAD if body == "supply = 5\n" else (HEAD + body if body else '[sheet]\nunits = "metric"\n')
    assert says in str(faults(text))


FIVE = """# five faults
[sheet]
name = "five"

[supply]
kind = "transformator"

[[supply.reading]]
volts = "16,500 V"
amps = 0

[[wire]]
id = "reel"   # a comment
aloy = "nicr-80-20"
gauge = 28

[coil]
wire = "reel"
length = 733
"""


def test_five_faults_are_all_told_with_their_lines():
    told = faults(FIVE)
    assert [c.line for c in told.complaints] == [6, 9, 14, 15, 19]
    text = str(told)
    assert text.startswith("5 things to mend:")
    for part in (
        "Closest: transformer",
        "two ways",
        "Closest: alloy",
        "AWG and SWG differ",
        "needs a unit",
        "'16,500 V'",
        "'733'",
    ):
        assert part in text


@pytest.mark.parametrize(
    "text",
    [
        HEAD + '[coil]\nlength = "733 m',
        HEAD + "[[wire",
        HEAD + "[coil]\nlength = \n",
        HEAD + "[coil]\nlength = 733 mm\n",
    ],
)
def test_a_half_written_file_is_told_as_such(text, tmp_path):
    path = tmp_path / "half.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(bc.Fault, match=r"half.toml.*not complete TOML.*(line \d|end of document)"):
        bc.load(path)


def test_files_that_are_not_there_or_no_text(tmp_path):
    (tmp_path / "mine.toml").write_text(HEAD, encoding="utf-8")
    with pytest.raises(bc.Fault, match="Sheets there: mine.toml"):
        bc.load(tmp_path / "nine.toml")
    (tmp_path / "word.toml").write_bytes(b"\xff\xfe\x00\x80")
    with pytest.raises(bc.Fault, match="UTF-8"):
        bc.load(tmp_path / "word.toml")
    (tmp_path / "bom.toml").write_bytes(b"\xef\xbb\xbf" + HEAD.encode())
    assert bc.load(tmp_path / "bom.toml").name == "x"


def test_inches_and_other_units_are_the_same_build():
    one = bc.read(
        HEAD
        + '[[wire]]\nid = "w"\ndiameter = "0.02 in"\n[coil]\nwire = "w"\nlength = "22 1/2 in"\n'
        + 'wire_temperature = "1112 degF"\n'
    )
    two = bc.read(
        HEAD
        + '[[wire]]\nid = "w"\ndiameter = "0,508 mm"\n[coil]\nwire = "w"\nlength = "571.5 mm"\n'
        + 'wire_temperature = "600 degC"\n'
    )
    assert one.wire[0].diameter_m == pytest.approx(two.wire[0].diameter_m) and one.coil.length_m == pytest.approx(
        two.coil.length_m
    )
    assert one.coil.wire_temp_c == pytest.approx(two.coil.wire_temp_c)


def test_a_spread_and_an_instrument_become_known_ends():
    build = bc.read(
        HEAD + '[[wire]]\nid = "w"\ndiameter = "0.30 mm with caliper"\n[coil]\nwire = "w"\nlength = "500 mm +- 2 mm"\n'
    )
    k = build.known["wire.w.diameter_m"]
    assert (k.low, k.high, k.how, k.line) == (pytest.approx(0.25e-3), pytest.approx(0.35e-3), "measured", 5)
    k = build.known["coil.length_m"]
    assert (k.low, k.high, k.text, k.line) == (pytest.approx(0.498), pytest.approx(0.502), "500 mm +- 2 mm", 8)
    assert build.known["room.ambient_c"].how == "assumed" and np.isfinite(build.room.ambient_c)


def test_nothing_is_as_long_in_every_unit_and_a_comma_is_a_point_where_the_key_names_the_unit():
    sheet = lambda start, ohm: bc.read(  # noqa: E731
        f'[sheet]\nname = "x"\n[[wire]]\nid = "w"\ndiameter = "0.3 mm"\nmeasured_ohm = {ohm}\nmeasured_length = "1 m"\n'
        f'[[part]]\nid = "tip"\nfrom = {start}\nto = "20 mm"\nouter = "8 mm"\n'
    )
    for start in ("0", '"0"', '"0.0"', '"0 mm"'):
        assert sheet(start, '"5,6"').part[0].from_m == 0.0 and sheet(start, 5.6).wire[0].measured_ohm == 5.6
    assert sheet("0", '"5,6"').wire[0].measured_ohm == 5.6
    for start, ohm in (("12", "5.6"), ('"12"', "5.6"), ("0", '"1,128"')):
        with pytest.raises(bc.Fault, match="unit|two ways"):
            sheet(start, ohm)
