"""Bare wire between clips stays below its glow: 400 degC is first seen in the dark (data/glow.csv, HEARTH-GLOW)."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.tables import rows
from benchcalc.chain.bench.clips import MOST_C, clip_lengths, clip_temp

FOLDER = Path(__file__).parents[2] / "thermal" / "surfaces"


def links(name="insert_press"):
    build = bc.load_chosen(name)
    return build, *bc.links(build)[:2]


def test_the_limit_is_the_first_glow_of_the_table():
    assert min(r["low_c"] for r in rows("glow") if r["words"] == "red heat visible in the dark") == MOST_C


@pytest.mark.parametrize("name", bc.demos())
def test_no_piece_glows_and_the_shortest_is_near_it(name):
    build, supply, wire = links(name)
    lengths = clip_lengths(build, supply, wire)
    hot = clip_temp(build, supply, wire, lengths)
    assert np.all(np.diff(lengths) < 0) and np.all(np.diff(hot) > 0) and np.all(hot <= MOST_C)
    assert clip_temp(build, supply, wire, 0.9 * lengths[-1]) > MOST_C


@pytest.mark.parametrize("gauge", ["24 AWG", "28 AWG", "32 AWG"])
def test_the_shortest_piece_draws_what_a_wire_maker_prints_for_that_heat(gauge):
    """Ni-Cr straight in still air at 400 degC: tests/thermal/surfaces/wire_current.csv, within 15 %."""
    text = (FOLDER / "wire_current.csv").read_text(encoding="utf-8")
    printed_a = float(next(line for line in text.splitlines() if line.startswith(f"{gauge},400,")).split(",")[2])
    build = bc.read(
        '[sheet]\nname = "x"\n[supply]\nkind = "transformer"\nopen = "12 V"\nsource = "0.5 ohm"\n'
        f'[[wire]]\nid = "w"\nalloy = "nicr-80-20"\ngauge = "{gauge}"\n'
    )
    supply, wire, _ = bc.links(build)
    shortest = clip_lengths(build, supply, wire)[-1]
    amps = supply.open_v / (supply.source_ohm + shortest * wire.linear_ohm_per_m)
    assert amps == pytest.approx(printed_a, rel=0.15)


def test_a_supply_that_limits_is_not_asked_for_more():
    build, supply, wire = links()
    small = replace(supply, limit_a=1.0)
    lengths = clip_lengths(build, small, wire)
    amps = small.open_v / (small.source_ohm + lengths * wire.linear_ohm_per_m)
    assert np.all(amps <= 1.0) and amps[-1] == pytest.approx(1.0, rel=0.03)


@pytest.mark.parametrize("share, few", [(0.9, 0), (1.02, 1), (2.0, 3)])
def test_no_piece_longer_than_there_is_is_asked_for(share, few):
    build, supply, wire = links()
    shortest = clip_lengths(build, supply, wire)[-1]
    there_m = share * shortest
    got = clip_lengths(build, supply, wire, there_m=there_m)
    assert len(got) == few and (few == 0 or got[0] == there_m)
    assert np.all(np.diff(got) < 0) and np.all(clip_temp(build, supply, wire, got) <= MOST_C)


def test_wire_that_glows_at_any_length_gets_no_plan():
    build, supply, wire = links()
    stiff = replace(supply, open_v=5000.0, source_ohm=0.0)
    assert len(clip_lengths(build, stiff, replace(wire, edge_m=wire.edge_m / 10))) == 0


def test_a_wire_of_unknown_alloy_is_taken_as_the_hotter_case():
    build, supply, wire = links()
    known = clip_temp(build, supply, wire, 0.8)
    assert (
        known < clip_temp(build, supply, replace(wire, alloy=None), 0.8) < known + 40
    )  # ohms that rise make less heat
