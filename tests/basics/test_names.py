"""The glossary: units, symbols, and numbers as a page says them."""

import math
import re

import numpy as np
import pytest

from benchcalc.basics import names
from benchcalc.basics.fault import Fault

# One unit of each display unit in SI.  Inch and foot: international definitions, 25.4 mm and 12 in;
# ounce: avoirdupois pound 0.45359237 kg / 16; degF: 5/9 K (NIST Special Publication 811, appendix B).
INCH, FOOT, OUNCE = 25.4e-3, 12 * 25.4e-3, 0.45359237 / 16
EXPECTED = {
    "ohm_per_m": ("ohm/m", 1, "ohm/ft", 1 / FOOT),
    "ohm_m": ("uohm m", 1e-6, "uohm m", 1e-6),
    "w_m": ("W/m", 1, "W/ft", 1 / FOOT),
    "w_m2": ("W/cm2", 1e4, "W/in2", INCH**-2),
    "w_mk": ("W/(m K)", 1, "W/(m K)", 1),
    "w_m2k": ("W/(m2 K)", 1, "W/(m2 K)", 1),
    "w_k": ("W/K", 1, "W/K", 1),
    "j_kgk": ("J/(kg K)", 1, "J/(kg K)", 1),
    "kg_m3": ("kg/m3", 1, "kg/m3", 1),
    "per_k": ("1/K", 1, "1/K", 1),
    "m_s": ("m/s", 1, "ft/min", FOOT / 60),
    "m2": ("mm2", 1e-6, "in2", INCH**2),
    "pa": ("MPa", 1e6, "MPa", 1e6),
    "j": ("J", 1, "J", 1),
    "m3": ("mm3", 1e-9, "in3", INCH**3),
    "n": ("N", 1, "N", 1),
    "ohm": ("ohm", 1, "ohm", 1),
    "m": ("mm", 1e-3, "in", INCH),
    "kg": ("g", 1e-3, "oz", OUNCE),
    "va": ("VA", 1, "VA", 1),
    "v": ("V", 1, "V", 1),
    "a": ("A", 1, "A", 1),
    "a_s": ("Ah", 3600, "Ah", 3600),
    "w": ("W", 1, "W", 1),
    "s": ("s", 1, "s", 1),
    "v_m": ("kV/mm", 1e6, "kV/mm", 1e6),
    "life_s": ("h", 3600, "h", 3600),
    "c": ("degC", 1, "degF", 5 / 9),
    "k": ("K", 1, "degF (difference)", 5 / 9),
    "k_per_w": ("K/W", 1, "K/W", 1),
    "j_k": ("J/K", 1, "J/K", 1),
}


def test_every_suffix_is_expected_here():
    assert set(EXPECTED) == set(names.SUFFIXES)


@pytest.mark.parametrize("suffix", EXPECTED)
def test_each_suffix_is_shown_in_its_units(suffix):
    metric, metric_si, inch, inch_si = EXPECTED[suffix]
    key = f"some_{suffix}"
    assert names.suffix_of(key) == suffix
    unit, size = names.display(key)
    assert (unit, size) == (metric, pytest.approx(metric_si, rel=1e-12))
    unit, size = names.display(key, units="inch", degrees="F")
    assert (unit, size) == (inch, pytest.approx(inch_si, rel=1e-12))
    assert names.shown(key, 3 * metric_si) == pytest.approx(3)


@pytest.mark.parametrize("key", ["turns", "hot_factor", "bend_ratio", "anchor_turns", "mains"])
def test_a_ratio_or_count_has_no_unit(key):
    assert names.suffix_of(key) == ""
    assert names.display(key, units="inch", degrees="F") == ("", 1.0)
    assert names.name(key).suffix == ""


@pytest.mark.parametrize("temp_c, temp_f", [(0.0, 32.0), (100.0, 212.0), (-40.0, -40.0)])
def test_temperatures_are_shifted_and_differences_are_not(temp_c, temp_f):
    assert names.shown("temp_c", temp_c, degrees="F") == pytest.approx(temp_f)
    assert names.shown("rise_k", temp_c, degrees="F") == pytest.approx(temp_f - 32)


def test_arrays_are_shown_too():
    assert np.allclose(names.shown("length_m", np.array([0.1, 0.2])), [100, 200])
    assert np.allclose(names.shown("temp_c", np.array([0.0, 100.0]), degrees="F"), [32, 212])


@pytest.mark.parametrize(
    "key, value, ways, said",
    [
        ("length_m", 0.733, {}, "733 mm"),
        ("length_m", 0.0254, {"units": "inch"}, "1.00 in"),
        ("temp_c", 350.0, {}, "350 degC"),
        ("temp_c", 350.0, {"degrees": "F"}, "662 degF"),
        ("resistivity_ohm_m", 1.09e-6, {}, "1.09 uohm m"),
        ("surface_load_w_m2", 31234.0, {}, "3.12 W/cm2"),
        ("cold_ohm", 11.3012, {"figures": 4}, "11.30 ohm"),
        ("turns", 42.0, {}, "42.0"),
        ("length_m", float("nan"), {}, "not known"),
        ("tip_k", 0.0, {}, "0 K"),
        ("load_w", np.float64(34.12), {}, "34.1 W"),
        ("temp_c", -12.34, {}, "-12 degC"),
    ],
)
def test_a_value_is_said_with_its_unit(key, value, ways, said):
    assert names.say(key, value, **ways) == said


@pytest.mark.parametrize(
    "number, figures, said",
    [
        (733.2, 3, "733"),
        (0.27999, 3, "0.280"),
        (12.98, 3, "13.0"),
        (999.7, 3, "1000"),
        (99.97, 3, "100"),
        (9.996, 3, "10.0"),
        (1234.5, 3, "1234"),
        (123456.0, 3, "123456"),
        (1e-5, 3, "1.00e-05"),
        (0.00012345, 3, "0.000123"),
        (2.5e6, 3, "2.50e+06"),
        (0, 3, "0"),
        (0.0, 3, "0"),
        (-0.5, 3, "-0.500"),
        (-12.98, 3, "-13.0"),
        (float("nan"), 3, "not known"),
        (float("inf"), 3, "no end"),
        (float("-inf"), 3, "no end (negative)"),
        (1.0, 1, "1"),
        (0.30000000000000004, 5, "0.30000"),
        (1.09, 4, "1.090"),
    ],
)
def test_digits(number, figures, said):
    assert names.digits(number, figures) == said


def test_a_number_just_below_one_keeps_its_figures():
    assert names.digits(0.9996) in ("1.00", "1.000")
    assert names.digits(0.0999999) in ("0.100", "0.1000")


@pytest.mark.parametrize(
    "number",
    [10**power * lead for power in range(-8, 9) for lead in (1.0, 1.2345, 4.9951, 9.4999, 9.9949, 9.9996, -3.3333)],
)
@pytest.mark.parametrize("figures", [1, 3, 4, 6])
def test_digits_stay_true_to_the_number(number, figures):
    said = names.digits(number, figures)
    assert math.isclose(float(said), number, rel_tol=0.51 * 10 ** (1 - figures))
    assert not re.fullmatch(r"-?0\.?0*", said)


def test_an_unknown_name_lists_the_closest_and_picks_none():
    with pytest.raises(Fault, match="Closest: .*length_m") as caught:
        names.name("lenght_m")
    assert "lenght_m" in str(caught.value)


def test_each_entry_is_whole():
    for key, entry in names.NAMES.items():
        assert entry.key == key and entry.word and entry.symbol
        assert re.fullmatch(r"[a-z][a-z0-9_]*", key), key
        assert entry.symbol.count("{") == entry.symbol.count("}")


def test_each_entry_once():
    keys = [row.split(" | ")[0].strip() for row in names.WORDS.strip().splitlines()]
    assert sorted(keys) == sorted(set(keys))


def test_a_symbol_means_one_thing_on_every_page():
    taken = {}
    for entry in names.NAMES.values():
        assert entry.symbol not in taken, (entry.symbol, entry.key, taken[entry.symbol])
        taken[entry.symbol] = entry.key


def test_each_symbol_can_be_typeset():
    from matplotlib.mathtext import MathTextParser

    parser = MathTextParser("path")
    for entry in names.NAMES.values():
        parser.parse(f"${entry.symbol}$")


def test_the_words_are_those_of_one_quantity_each():
    words = [entry.word for entry in names.NAMES.values()]
    assert sorted(words) == sorted(set(words))
