"""What a verdict calls not known prints no number elsewhere on the pages."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.show.page import lesson, shared_tables
from benchcalc.show.start.glance import glance
from benchcalc.show.supply.joined_tables import joined_lines

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


@pytest.mark.parametrize("name", bc.demos())
def test_the_demos_have_no_number_for_what_they_do_not_know(name):
    out = bc.work_out(bc.load_chosen(name), samples=20)
    for link, verdict in out.verdicts:
        value = getattr(out.parts.get(link), verdict.key, None)
        if verdict.state == "not known" and isinstance(value, float):
            assert np.isnan(value), (link, verdict.what)
