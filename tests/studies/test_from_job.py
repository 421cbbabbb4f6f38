"""Start from the job: the first sheet reaches the temperature, its watts are conserved, and all of it is marked."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.heat.holding_lacks import holding_lacks
from benchcalc.sheet.edits import tables_of
from benchcalc.studies.first_sheet import SHAPES, FirstGuess, SaidNumber, first_text, job_shape
from benchcalc.studies.from_job import from_job, work_power

JOBS = {
    "rod in a tube with a handle": "solder, Sn60Pb40",
    "winding on the bit": "solder, Sn60Pb40",
    "pot": "wax, dipping",
    "stretched wire": "foam, cutting",
    "plate": "leather, branding",
}


@pytest.mark.parametrize("shape", SHAPES, ids=lambda s: s.word)
def test_the_first_sheet_does_the_job_by_the_model_itself(shape):
    found = from_job(shape, shape.usual_m, job=JOBS[shape.word])
    workings = bc.work_out(found.build, samples=0)
    heat, gap = workings.heat, [v for v in workings.of("coil") if v.what == "gap between turns"]
    assert all(v.value >= v.limit for v in gap) and len(gap) == (shape.at != "wire_c")
    assert getattr(heat, shape.at) == pytest.approx(found.wanted_c, abs=0.03 * (found.wanted_c - 20))
    assert getattr(heat, shape.at) >= found.wanted_c - 0.2  # it does not miss its own job
    over = [v.what for _, v in workings.verdicts if v.state == "over" and not v.advice]
    assert not over or shape.word == "pot", over  # a pot left on wants a controller, which nobody has told of
    idle_w = found.power_w.nominal - found.work_w
    assert 0.5 * idle_w < found.power_w.low - found.work_w < 0.81 * idle_w
    assert found.power_w.high - found.work_w > 1.19 * idle_w  # sizes are only assumed: no narrow band
    assert len(found.readings) == 3 and 0.3 < sum(r[2] for r in found.readings) <= 1 + 1e-9


@pytest.mark.parametrize("shape", SHAPES, ids=lambda s: s.word)
def test_everything_in_it_is_marked_assumed_at_every_size(shape):
    for size_m in np.linspace(shape.low_m, shape.high_m, 4):
        text = first_text(shape, size_m, 200.0, FirstGuess(length_m=0.5), material="paraffin wax")
        build = bc.read('[sheet]\nname = "a"\n' + text)
        assert {k.how for p, k in build.known.items() if k.line} == {"assumed"}
        for section, rows in tables_of(text).items():
            for row in rows:
                free = {"id", "role", "between", "on", "wire", "job"}
                for key, value in row.items():
                    assert key in free or not isinstance(value, str) or value.endswith(" assumed"), (section, key)
        said = bc.read('[sheet]\nname = "a"\n' + first_text(shape, SaidNumber(size_m), 200.0, FirstGuess(length_m=0.5)))
        stated = [p for p, k in said.known.items() if k.line and k.how == "stated"]
        assert 1 <= len(stated) <= 2, stated  # the maker's own size alone
        from benchcalc.show.editor.drawn import drawn

        assert not drawn(tables_of(text), build).wrong or shape.at == "wire_c", drawn(tables_of(text), build).wrong


def test_watts_into_the_work_are_those_of_a_heat_balance():
    # ice melts with 333.6 kJ/kg in every handbook; here paraffin of data/work.csv, balance by hand: m (c dT + L) / t
    assert work_power("wax, dipping", 0.010, 60.0, 80.0, 20.0) == pytest.approx(0.01 * (2200 * 60 + 170000) / 60)
    with_work, without = (from_job(SHAPES[0], 0.008, job="insert, PLA", mass_kg=m) for m in (0.001, 0.0))
    assert with_work.power_w.nominal - without.power_w.nominal == pytest.approx(with_work.work_w, rel=0.05)


def test_what_cannot_be_is_told():
    for act, says in (
        (lambda: from_job(SHAPES[0], 0.008), "what must melt"),
        (lambda: from_job(SHAPES[0], 0.3, job="insert, PLA"), "outside"),
        (lambda: from_job(SHAPES[0], 0.008, wanted_c=10.0), "outside 20 degC"),
        (lambda: from_job(SHAPES[0], 0.008, job="melting rocks"), "Closest|Known|is not|none"),
        (lambda: job_shape("sphere"), "none here"),
    ):
        with pytest.raises(bc.Fault, match=says):
            act()


def test_no_first_pot_is_over_by_its_own_choice_and_what_would_hold_it_is_named():
    found = from_job(job_shape("pot"), 0.05, job="wax, dipping", mass_kg=0.05, time_s=1200.0)
    told = {v.what: v for _, v in bc.work_out(found.build, samples=0).verdicts}
    assert told["gap between turns"].value >= told["gap between turns"].limit
    left = told["what is melted, left on"]
    assert left.state == "over" and "a control with its set point" in left.why and "a cut-out" in left.why
    held = found.text + '\n[control]\nset = "74 degC"\nkind = "on-off"\ncut_out = "85 degC"\n'
    build = bc.read('[sheet]\nname = "a"\n' + held)
    assert holding_lacks(build) == ["the part that the sensor sits on", "the sensor's place", "the cut-out's place"]
