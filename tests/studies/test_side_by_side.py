"""Two sheets side by side: a change turns what it touches and nothing else."""

import pytest

import benchcalc as bc
from benchcalc.show.card.beside import numbers_beside, verdicts_beside
from benchcalc.studies.side_by_side import differing, turned


def test_a_sheet_beside_itself_shows_nothing_and_twice_the_wire_shows_half_the_heat():
    build = bc.load_chosen("foam_bow")
    one = bc.work_out(build, samples=40)
    assert differing(one, one) == () and turned(one, one) == ()
    longer = bc.work_out(bc.change(build, "coil.length_m", 2 * build.coil.length_m), samples=40)
    found = {d.path: d for d in differing(one, longer)}
    assert found["coil.length_m"].other == pytest.approx(2 * found["coil.length_m"].one)
    assert found["heat.wire_c"].other < found["heat.wire_c"].one and found["heat.wire_c"].apart
    assert "supply.open_v" not in found and "wire.linear_ohm_per_m" not in found
    states = {t.one.what: (t.one.state, t.other.state) for t in turned(one, longer) if t.one and t.other}
    was = {v.what: v.state for _, v in one.verdicts}
    now = {v.what: v.state for _, v in longer.verdicts}
    assert states == {what: (was[what], now[what]) for what in was if what in now and was[what] != now[what]} != {}
    assert len(numbers_beside(build, one, longer).rows) == len(found)
    assert {row[0] for row in verdicts_beside(one, longer).rows} >= set(states)
