"""Logs as people have them: read, repaired, every repair told; and what cannot be read says why."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchcalc.basics.fault import Fault
from benchcalc.materials.sensors import pt100_ohms, type_k_voltage
from benchcalc.thermal.log.decoding import LARGEST_BYTES
from benchcalc.thermal.log.reading import log_of_bytes, log_of_text, read_log

TIMES = np.arange(0, 600, 20.0)
TEMPS = 20 + 200 * (1 - np.exp(-TIMES / 150))


def clock(s, start=0):
    s = int(s + start) % 86400
    return f"{s // 3600:02d}:{s // 60 % 60:02d}:{s % 60:02d}"


def lines(cells, head=None):
    return "\n".join(([head] if head else []) + cells)


WAYS = {
    "seconds, header": lines([f"{t:.0f},{x:.2f}" for t, x in zip(TIMES, TEMPS)], "time_s,temp_c"),
    "seconds, no header": lines([f"{t:.0f},{x:.2f}" for t, x in zip(TIMES, TEMPS)]),
    "minutes, decimal comma, semicolon": lines(
        [f"{t / 60:.4f};{x:.2f}".replace(".", ",") for t, x in zip(TIMES, TEMPS)], "Minutes;Temperature °C"
    ),
    "mm:ss, tab": lines([f"{int(t // 60)}:{int(t % 60):02d}\t{x:.2f}" for t, x in zip(TIMES, TEMPS)]),
    "hh:mm:ss, blanks": lines([f"{clock(t)}  {x:.2f}" for t, x in zip(TIMES, TEMPS)]),
    "blanks, decimal comma": lines([f"{clock(t)} {x:.2f}".replace(".", ",") for t, x in zip(TIMES, TEMPS)]),
    "clock over midnight": lines([f"{clock(t, 86100)},{x:.2f}" for t, x in zip(TIMES, TEMPS)], "clock,tip"),
    "date and time": lines([f"2031-03-04 {clock(t, 40000)},{x:.2f}" for t, x in zip(TIMES, TEMPS)], "Date,T"),
    "date and clock in two columns": lines([f"04.03.2031;{clock(t, 40000)};{x:.2f}" for t, x in zip(TIMES, TEMPS)]),
    "degF": lines([f"{t:.0f},{x * 1.8 + 32:.2f}" for t, x in zip(TIMES, TEMPS)], "t (s),T (°F)"),
    "several channels, counted": lines(
        [f"{i},{t:.0f},{x:.2f},{x / 2:.2f}" for i, (t, x) in enumerate(zip(TIMES, TEMPS))], "No,Time s,Tip C,Handle C"
    ),
    "units under the header": lines([f"{t / 60:.4f},{x:.2f}" for t, x in zip(TIMES, TEMPS)], "time,temp\nmin,degC"),
    "comments and blanks": "# a log\n\n" + lines([f"{t:.0f},{x:.2f}" for t, x in zip(TIMES, TEMPS)], "s,degC") + "\n\n",
    "quoted": lines([f'"{t:.0f}","{x:.2f}"' for t, x in zip(TIMES, TEMPS)], '"time s","temp C"'),
    "header of several words, blanks": lines(
        [f"{t / 60:.4f} {x * 1.8 + 32:.2f}" for t, x in zip(TIMES, TEMPS)], "time min tip deg F"
    ),
    "a cell too many": lines(
        [f"{t:.0f};{x:.2f};" + ("late;" if t == 40 else "") for t, x in zip(TIMES, TEMPS)], "s;degC"
    ),
    "units in the cells": lines([f"{t:.0f} s;{x:.2f} °C" for t, x in zip(TIMES, TEMPS)]),
}


@pytest.mark.parametrize("way", WAYS)
def test_every_way_of_writing_gives_the_same_log(way):
    log = log_of_text(WAYS[way])
    assert log.time_s == pytest.approx(TIMES, abs=0.01)
    assert log.temp_c == pytest.approx(TEMPS, abs=0.011)


@pytest.mark.parametrize("code", ["utf-8-sig", "utf-16", "latin-1"])
def test_any_encoding(code):
    log = log_of_bytes(WAYS["minutes, decimal comma, semicolon"].encode(code))
    assert log.temp_c == pytest.approx(TEMPS, abs=0.011)
    assert any("UTF-8" in r.text or "byte order" in r.text for r in log.remarks)


def test_millivolts_and_ohms_become_degrees():
    mv = 1e3 * (type_k_voltage(TEMPS) - type_k_voltage(24.0))
    log = log_of_text(lines([f"{t:.0f},{x:.5f}" for t, x in zip(TIMES, mv)], "s,mV"), reference_c=24.0)
    assert log.temp_c == pytest.approx(TEMPS, abs=0.02) and log.tolerance_k == 2.5
    log = log_of_text(lines([f"{t:.0f},{x:.4f}" for t, x in zip(TIMES, pt100_ohms(TEMPS))], "s,Pt100 ohm"))
    assert log.temp_c == pytest.approx(TEMPS, abs=0.02) and log.tolerance_k == pytest.approx(
        0.3 + 0.005 * TEMPS.max(), abs=1e-3
    )
    assert any("class B" in r.text for r in log.remarks)


def test_a_channel_by_name_or_number():
    text = WAYS["several channels, counted"]
    assert log_of_text(text, channel="handle c").temp_c == pytest.approx(TEMPS / 2, abs=0.01)
    assert log_of_text(text, channel=2).temp_c == pytest.approx(TEMPS / 2, abs=0.01)
    with pytest.raises(Fault, match="Handle C"):
        log_of_text(text, channel="handel")


def test_a_power_column_becomes_steps():
    text = lines([f"{t:.0f},{x:.2f},{20 if t < 300 else 10}" for t, x in zip(TIMES, TEMPS)], "s,degC,power W")
    assert log_of_text(text).steps == ((0.0, 20.0), (300.0, 10.0))


def remarks_of(changes, **how):
    cells = [f"{t:.0f},{x:.2f}" for t, x in zip(TIMES, TEMPS)]
    for i, text in changes.items():
        cells[i] = text
    log = log_of_text(lines(cells, "s,degC"), **how)
    return log, [str(r) for r in log.remarks]


@pytest.mark.parametrize(
    "changes, line, said, left",
    [
        ({5: "100,nan"}, 7, "no reading", 29),
        ({5: "100,OL"}, 7, "no reading", 29),
        ({5: "100,1o7"}, 7, "is no number", 29),
        ({5: "80,107"}, 7, "same time", 29),
        ({5: "3,107"}, 7, "backwards", 29),
        ({5: "100,400"}, 7, "spike", 29),
        ({5: "100,-3276.8"}, 7, "no temperature", 29),
        ({5: "1000000,107"}, 7, "far ahead", 29),
        ({5: "x:y,107"}, 7, "is no time", 29),
    ],
)
def test_one_bad_line_is_told_and_costs_one_line(changes, line, said, left):
    log, told = remarks_of(changes)
    assert any(t.startswith(f"line {line}:") and said in t for t in told), told
    assert len(log.time_s) == left
    good = np.isin(TIMES, log.time_s)
    assert np.median(np.abs(log.temp_c - TEMPS[good])) < 0.011


def test_a_probe_that_falls_off():
    log, told = remarks_of({i: f"{TIMES[i]:.0f},{24 + 0.1 * i:.2f}" for i in range(22, 30)})
    assert any(t.startswith("line 24:") and "probe come off" in t and "8 lines" in t for t in told), told
    assert log.time_s[-1] == TIMES[21]
    log, told = remarks_of({i: f"{TIMES[i]:.0f},{24 + 0.1 * i:.2f}" for i in range(10, 16)})
    assert any("6 lines" in t and "probe" in t for t in told) and len(log.time_s) == 24


def test_a_real_cooling_is_not_taken_for_a_fall():
    both = np.concatenate([TEMPS, 20 + (TEMPS[-1] - 20) * np.exp(-np.arange(20, 620, 20.0) / 150)])
    log = log_of_text(lines([f"{20 * i},{x:.2f}" for i, x in enumerate(both)], "s,degC"))
    assert len(log.time_s) == len(both)


def test_a_stuck_reading_and_a_plateau():
    log, told = remarks_of({i: f"{TIMES[i]:.0f},{TEMPS[8]:.2f}" for i in range(9, 18)})
    assert any("stuck" in t for t in told) and len(log.time_s) == 21
    flat = lines([f"{20 * i},{round(20 + 100 * (1 - np.exp(-i / 5)))}" for i in range(60)], "s,degC")
    assert len(log_of_text(flat).time_s) == 60


def test_a_gap_is_told():
    _, told = remarks_of({})
    assert not any("gap" in t for t in told)
    text = lines([f"{t:.0f},{x:.2f}" for t, x in zip(TIMES, TEMPS) if not 100 < t < 300], "s,degC")
    assert any("gap of 200 s" in str(r) for r in log_of_text(text).remarks)


def test_twelve_points_by_hand():
    log = log_of_text(
        "0:00 21\n1:00 60\n2:00 95\n3:00 124\n4:00 148\n5:00 167\n6:00 183\n7:00 196\n8:00 206\n9:00 214\n"
        "10:00 221\n12:00 231"
    )
    assert len(log.time_s) == 12 and log.time_s[-1] == 720


@pytest.mark.parametrize(
    "text, said",
    [
        ("", "is empty"),
        ("\n \n", "is empty"),
        ("# only words\n", "only blank lines"),
        ("1\n2\n3\n4\n", "one column only"),
        ("hello there\nworld, again\n", "no line with numbers"),
        ("s,degC\n0,nan\n10,nan\n20,OL\n30,--\n", "no readings"),
        ("s,degC\n50,20\n40,30\n30,40\n20,50\n10,60\n", "runs backwards"),
        ("0,20\n1,30\n2,40\n3,50\n", "seconds or minutes"),
        ("12:30,20\n12:31,30\n12:32,40\n12:33,50\n", "hours and minutes"),
        ("time,temp\n0,5,20,1\n1,5,30,2\n2,5,40,1\n", "decimal"),
        ("s,degC\n0,20\n600,30\n", "a fit needs 5"),
        ("s,degC\na,20\nb,30\nc,40\n", "could not be read as a time"),
    ],
)
def test_what_cannot_be_read_says_why(text, said):
    with pytest.raises(Fault, match=said):
        log_of_bytes(text.encode(), "mine.csv")


def test_the_reader_is_told_how_to_answer():
    assert log_of_text("0,20\n1,30\n2,40\n3,50\n", time="min").time_s[-1] == 180
    assert log_of_text("12:30,20\n12:31,30\n12:32,40\n12:33,50\n", time="hh:mm").time_s[-1] == 180
    assert log_of_text("12:30,20\n12:31,30\n12:32,40\n12:33,50\n", time="mm:ss").time_s[-1] == 3


def test_a_huge_file_is_refused_before_it_is_read(tmp_path):
    huge = tmp_path / "huge.csv"
    with open(huge, "wb") as out:
        out.truncate(50_000_000)
    with pytest.raises(Fault, match="50 MB.*larger than 20 MB"):
        read_log(huge)
    with pytest.raises(Fault, match="larger than"):
        log_of_bytes(b"1" * (LARGEST_BYTES + 1))


def test_a_spreadsheet_or_a_missing_file(tmp_path):
    with pytest.raises(Fault, match="not a text file"):
        log_of_bytes(b"PK\x03\x04\x00\x00" * 50)
    (tmp_path / "tip.csv").write_text("x")
    with pytest.raises(Fault, match="Closest: tip.csv"):
        read_log(tmp_path / "tipp.csv")


TOKENS = st.sampled_from(
    [
        "12",
        "0",
        "1,5",
        "3.2",
        "-",
        "NaN",
        "12:30",
        "0:05",
        "23:59:59",
        "00:00:01",
        "2026-01-02",
        "2026-01-02 10:11:12",
        "temp",
        "time",
        "°C",
        "",
        "1e5",
        "-7",
        "x y",
        "20.1 °C",
        "99999",
        '"',
        "\ufeff",
    ]
)


@settings(max_examples=150, deadline=None)
@given(st.sampled_from([",", ";", "\t", " "]), st.lists(st.lists(TOKENS, min_size=1, max_size=4), max_size=15))
def test_whatever_stands_in_a_file_it_is_read_or_refused_in_words(sign, rows):
    try:
        log = log_of_bytes("\n".join(sign.join(r) for r in rows).encode())
    except Fault as told:
        assert len(str(told)) > 15
    else:
        assert np.isfinite(log.temp_c).all() and (np.diff(log.time_s) > 0).all()
