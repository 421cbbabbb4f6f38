"""Which two a joint or a layer lies between, where the coil lies on its former, and parts whose place nobody typed."""

from pathlib import Path

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.slices import finished
from benchcalc.chain.metals.verdicts import melting_checks
from benchcalc.chain.supply.link import nothing_sized
from benchcalc.chain.wire.coil import coil_span
from benchcalc.show.heat import panel
from benchcalc.studies.cures import cures_of

PRESS = Path(bc.load_chosen("insert_press").file).read_text(encoding="utf-8")


def with_(old, new):
    assert old in PRESS
    return PRESS.replace(old, new, 1)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('["tip", "stem"]', '["coil", "stem"]', "joint 1.between: 'coil' is not the id of a part"),
        ('["tip", "stem"]', '["tip", "tip"]', "joint 1.between: 'tip' stands twice"),
        ('["stem", "coil"]', '["coil", "coil"]', "layer 1.between: 'coil' stands twice"),
        ('["coil", "tube"]', '["room", "coil"]', "layer 2.between: 'room' comes last"),
        ('["coil", "tube"]', '["room", "room"]', "layer 2.between: 'room' stands twice"),
        ('["stem", "coil"]', '["tip", "coil"]', "layer 1.between: 'tip' is not what the coil is on: stem"),
        ('["coil", "tube"]', '["tube", "coil"]', 'written between = ["coil", "tube"]'),
        ('["coil", "tube"]', '["tube", "stem"]', "layer 2.between: 'tube' lies around the stem"),
        ("layers = 1\n", 'to = "400 mm"\n', "coil.to: '400 mm' is not on the stem, which lies from 30.0 mm to 80.0 mm"),
        ("layers = 1\n", 'from = "0 mm"\n', "coil.from: '0 mm' is not on the stem"),
    ],
)
def test_what_cannot_lie_there_is_told(old, new, says):
    with pytest.raises(bc.Fault) as told:
        bc.read(with_(old, new))
    assert says in str(told.value)


def test_a_pair_is_refused_where_it_is_altered_too():
    press = bc.read(PRESS)
    for path, pair in (("layer.0.between", ("coil", "coil")), ("joint.0.between", ("tip", "coil"))):
        with pytest.raises(bc.Fault, match="coil"):
            bc.change(press, path, pair)


def test_a_coil_never_lies_past_its_former():
    """A slider may drag a coil off its stem (30 to 80 mm): the room for it ends there, and beside it there is none."""
    press = bc.read(PRESS)
    half = bc.change(bc.change(press, "coil.from_m", 0.05), "coil.to_m", 0.2)
    assert coil_span(half.coil, half.part[1]) == (0.05, 0.08)
    room = bc.links(half).coil.room_m
    assert room == pytest.approx(0.03 - 2 * (0.003 + 2 * 0.28e-3))
    beside = bc.work_out(bc.change(bc.change(press, "coil.from_m", 0.1), "coil.to_m", 0.2), samples=0)
    assert "beside its former" in beside.heat.refused
    assert next(v for _, v in beside.verdicts if v.what == "length of the winding").state == "over"


def test_a_handle_without_a_place_takes_no_part_in_the_heat():
    out = bc.work_out(bc.read(with_('from = "120 mm"\nto = "210 mm"\n', "")), samples=0)
    assert np.isfinite(out.heat.tip_c) and np.isnan(out.heat.carried_w) and np.isnan(out.heat.entry_c)


def test_parts_without_an_outside_leave_the_bore_unjudged():
    out = bc.work_out(bc.read(with_('outer = "6 mm"\n', "")), samples=0)
    assert next(v for _, v in out.verdicts if v.what == "wound coil in the bore of the tube").state == "not known"


def test_wire_shorter_than_its_room_has_no_turn_and_no_ohms_of_one():
    coil = bc.links(bc.change(bc.change(bc.read(PRESS), "coil.length_m", 0.03), "coil.pitch_m", None)).coil
    assert coil.turns == 0 and np.isnan(coil.one_turn_ohm)


def test_cures_of_a_tool_whose_handle_has_no_place_leave_it_alone():
    build = bc.read(with_('from = "120 mm"\nto = "210 mm"\n', ""))
    assert not any("handle" in path for cure in cures_of(build) for path, _ in cure.moves)


def test_on_a_supply_without_readings_nothing_is_sized_and_the_words_say_why():
    readings = PRESS[PRESS.index("[[supply.reading]]") : PRESS.index("# Soak test")]
    why = nothing_sized(bc.work_supply(bc.read(with_(readings, ""))))
    assert "not known" in why and "nan" not in why and "nothing connected first" in why


def test_a_part_without_a_material_leaves_the_others_judged():
    build = bc.read(with_('material = "beech"\n', ""))
    found = melting_checks(build, bc.work_out(build, samples=0).heat)
    assert [v.what for v in found] == [f"melting of the {part}" for part in ("tip", "stem", "tube")]


def test_samples_that_cannot_be_worked_out_leave_nothing_fine(monkeypatch):
    def nothing(*a, **k):
        return
        yield

    monkeypatch.setattr(panel, "heat_steps", nothing)
    build = panel.at_own_power(bc.read(PRESS))
    bands = finished(panel.heat_bands(build))
    assert bands and all(np.isnan([b.low, b.high]).all() for b in bands.values())
    told = panel.heat_verdicts(panel.at_wanted_power(build), build, bands)
    assert next(v for v in told if v.what == "hottest wire").state == "not known"
