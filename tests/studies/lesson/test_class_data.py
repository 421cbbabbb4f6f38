"""A class's readings: kept bench by bench, read back whatever was typed, told against the band."""

import pytest

from benchcalc.basics.fault import Fault
from benchcalc.basics.names import display
from benchcalc.studies.lesson.class_data import class_readings, keep_readings, texts_in, verdict_of
from benchcalc.studies.lesson.first_evening_readings import first_evening


@pytest.fixture(scope="module")
def asked():
    return first_evening()


def filled(asked, share):
    return {a.row: f"{a.expected.nominal * share:.3f} {display(a.key)[0]}" for a in asked}


def test_benches_meet_in_one_table(tmp_path, asked):
    for bench, share in (("one", 1.0), ("Two b", 1.02), ("three", 0.98), ("four", 1.5)):
        keep_readings(bench, filled(asked, share), tmp_path)
    spreads, told = class_readings(asked, tmp_path)
    assert not told and [s.asked.row for s in spreads] == [a.row for a in asked]
    assert all(s.outside == ("four",) and s.values.size == 4 for s in spreads)
    assert "3 of 4" in verdict_of(spreads[0]) and "those benches" in verdict_of(spreads[0])


def test_each_bench_is_told_its_own_place(tmp_path, asked):
    keep_readings("low", filled(asked[:1], 0.8), tmp_path)
    keep_readings("mine", filled(asked[:1], 1.0), tmp_path)
    first, second, *_ = class_readings(asked, tmp_path)[0]
    assert [first.place_of(b) for b in ("low", "mine", "none")] == ["outside, too low", "inside", "not read"]
    assert "1 of 2 inside" in verdict_of(first) and second.place_of("mine") == "not read"


def test_a_whole_class_off_doubts_the_band(tmp_path, asked):
    for bench in ("a", "b", "c"):
        keep_readings(bench, filled(asked, 1.3), tmp_path)
    assert "whole class" in verdict_of(class_readings(asked, tmp_path)[0][0])


def test_what_cannot_be_read_is_told_and_left_out(tmp_path, asked):
    keep_readings("a", filled(asked, 1.0) | {"A1 volts": "4.0", "A1 amps": "two amps"}, tmp_path)
    (tmp_path / "b.csv").write_text("something;else\n1;2\n")
    (tmp_path / "c.csv").write_bytes(b"\xff\xfe\x00r")
    spreads, told = class_readings(asked, tmp_path)
    assert len(told) == 4 and all(t for t in told)
    assert spreads[0].values.size == 0 and spreads[2].values.size == 1


def test_no_bench_yet(tmp_path, asked):
    spreads, told = class_readings(asked, tmp_path / "nowhere")
    assert not told and all(verdict_of(s).startswith("no reading yet") for s in spreads)


def test_other_columns_are_refused(tmp_path):
    (tmp_path / "x.csv").write_text("a,b\n1,2\n")
    with pytest.raises(Fault, match="columns"):
        texts_in(tmp_path / "x.csv")
