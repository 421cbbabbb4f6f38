"""What a verdict calls not known prints no number elsewhere on the pages."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.names import NAMES
from benchcalc.chain.as_told import is_untold
from benchcalc.show.page import lesson, shared_tables
from benchcalc.show.start.glance import glance
from benchcalc.show.supply.joined_tables import joined_lines
from benchcalc.studies.card.expected import band_at

ONE_READING = """[sheet]
name = "b"
[supply]
kind = "transformer"
[[supply.reading]]
volts = 12
amps = 2
[[wire]]
id = "w"
alloy = "fecral"
gauge = "30 AWG"
[want]
power = "15 W"
"""


def test_a_line_of_which_one_point_was_read_is_told_nowhere():
    build = bc.read(ONE_READING)
    out = bc.work_out(build, samples=30)
    assert {v.key for v in out.of("supply") if v.state == "not known"} == {"open_v", "source_ohm"}
    for told in (
        shared_tables.numbers(build, out, "supply.open_v", "supply.source_ohm", "supply.most_power_w"),
        lesson.summary(out, build).text.split("**supply**")[1].split("**wire**")[0],
        lesson.at_a_glance(build, out).rows[0],
        glance(build, workings=out),
        joined_lines(build, out),
    ):
        for number in (f"{out.supply.open_v:.3g} V", f"{out.supply.source_ohm:.3g} ohm"):
            assert number not in str(told)


PRESS = bc.chosen("insert_press").read_text(encoding="utf-8")
LACKING = {  # what a sheet does not tell, and a number of the chain that hangs on it
    "one loaded reading": (lambda: ONE_READING, "supply.source_in_use_ohm"),
    "a soak without its amps": (lambda: PRESS.replace("amps = 1.22", ""), "bench.winding_c"),
    "a soak at too few amps": (lambda: PRESS.replace("amps = 1.22", "amps = 0.4"), "bench.winding_c"),
    "a soak too short": (lambda: PRESS.replace("hours = 3\n", "hours = 0.1\n"), ""),
    "a wire that a magnet contradicts": (
        lambda: PRESS.replace('id = "reel"\n', 'id = "reel"\nmagnetic = "yes"\n'),
        "wire.linear_ohm_per_m",
    ),
}


@pytest.mark.parametrize("what", LACKING)
def test_a_number_that_no_verdict_vouches_for_stands_nowhere(what, capsys):
    """Not in tables of numbers, not in the chain's headlines, not on the start page, not on the card."""
    text, hidden = LACKING[what]
    build = bc.read(text())
    out = bc.work_out(build, samples=20)
    found = [
        f"{link}.{v.key}"
        for link, v in out.verdicts
        if v.state == "not known" and not v.note and isinstance(getattr(out.parts.get(link), v.key, None), float)
    ]
    paths = [path for path in {*found, hidden} - {""} if is_untold(out, *path.split("."))]
    assert not hidden or hidden in paths
    for path in paths:
        link, field = path.split(".")
        if field in NAMES:
            assert shared_tables.numbers(build, out, path).rows[0][1] == "not known yet"
        assert band_at(out, path) is None
        lesson.numbers_behind(out, path)
        assert capsys.readouterr().out == f"{path} = not known\n"
        if (
            np.isfinite(getattr(out.parts[link], field))
            and field in next(k for k in out.links if k.name == link).headline
        ):
            word = NAMES[field].word + ": "
            assert word not in str(lesson.at_a_glance(build, out)) and word not in lesson.summary(out, build).text


@pytest.mark.parametrize("name", bc.demos())
def test_the_demos_have_no_number_for_what_they_do_not_know(name):
    out = bc.work_out(bc.load_chosen(name), samples=20)
    for link, verdict in out.verdicts:
        value = getattr(out.parts.get(link), verdict.key, None)
        if verdict.state == "not known" and isinstance(value, float):
            assert np.isnan(value), (link, verdict.what)
