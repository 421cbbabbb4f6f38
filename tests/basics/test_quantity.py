"""Text to SI: round trips, fractions, temperatures, spreads, and all that is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchcalc.basics.fault import Fault
from benchcalc.basics.quantity import UNITS, parse

# Units by their definitions, written down apart from the library.  NIST SP 811, appendix B
# (inch, foot, pound, ounce, mil), and the SI prefixes.
DEFINED = {
    ("m", "cm"): 0.01,
    ("m", "mm"): 0.001,
    ("m", "um"): 1e-6,
    ("m", "in"): 0.0254,
    ("m", "ft"): 0.3048,
    ("m", "mil"): 2.54e-5,
    ("m", "thou"): 2.54e-5,
    ("v", "mV"): 0.001,
    ("a", "mA"): 0.001,
    ("ohm", "kohm"): 1000,
    ("ohm", "mohm"): 0.001,
    ("w", "kW"): 1000,
    ("s", "min"): 60,
    ("s", "h"): 3600,
    ("k", "degF"): 5 / 9,
    ("m_s", "ft/min"): 0.00508,
    ("kg", "g"): 0.001,
    ("kg", "lb"): 0.45359237,
    ("kg", "oz"): 0.45359237 / 16,
    ("ohm_per_m", "ohm/ft"): 1 / 0.3048,
    ("ohm_per_m", "ohm/in"): 1 / 0.0254,
    ("m2", "mm2"): 1e-6,
    ("m2", "cm2"): 1e-4,
    ("ratio", "%"): 0.01,
}
EVERY = [(d, u) for d in UNITS if d != "c" for u in UNITS[d]]
SIZES = st.floats(min_value=1e-6, max_value=1e6)


@pytest.mark.parametrize("dimension, unit", sorted(DEFINED))
def test_a_unit_is_what_its_definition_says(dimension, unit):
    assert parse(f"1 {unit}", dimension).nominal == pytest.approx(DEFINED[dimension, unit], rel=1e-12)


@given(st.sampled_from(EVERY), SIZES, st.sampled_from(["", "-", "+"]), st.booleans())
def test_what_is_written_is_read(place, number, sign, comma):
    dimension, unit = place
    text = f"{sign}{number:.9f}" if comma else f"{sign}{number!r}"
    if comma:  # nine decimals: never the three that could be thousands
        text, number = text.replace(".", ","), float(f"{number:.9f}")
    size = parse(f"1 {unit}".strip(), dimension).nominal
    got = parse(f"{text} {unit}".strip(), dimension)
    assert got.nominal == pytest.approx((-1 if sign == "-" else 1) * number * size, rel=1e-12)
    assert got.low == got.nominal == got.high


@given(
    SIZES, st.sampled_from(["mm", "cm", "m", "in", "ft", "mil"]), st.sampled_from(["mm", "cm", "m", "in", "ft", "mil"])
)
def test_a_length_is_the_same_in_every_unit(metres, one, other):
    def there(unit):
        return parse(f"{metres / DEFINED.get(('m', unit), 1)!r} {unit}", "m").nominal

    assert there(one) == pytest.approx(metres, rel=1e-12)
    assert there(one) == pytest.approx(there(other), rel=1e-12)


@given(st.floats(min_value=-200, max_value=2000))
def test_a_temperature_has_a_zero_point_and_a_difference_has_none(number):
    # BIPM, The International System of Units: t/degC = T/K - 273.15; degF = 1.8 degC + 32
    assert parse(f"{number!r} degF", "c").nominal == pytest.approx((number - 32) / 1.8, rel=1e-12, abs=1e-11)
    assert parse(f"{number!r} degF", "k").nominal == pytest.approx(number / 1.8, rel=1e-12)
    assert parse(f"{number!r} K", "c").nominal == pytest.approx(number - 273.15, rel=1e-12, abs=1e-11)
    assert parse(f"{number!r} K", "k").nominal == pytest.approx(number, rel=1e-12)


def test_twenty_degrees_fahrenheit_are_two_things():
    assert parse("20 degF", "c").nominal == pytest.approx(-6.666666667)
    assert parse("20 degF", "k").nominal == pytest.approx(11.11111111)


@pytest.mark.parametrize(
    "text, metres",
    [
        ("22 1/2 in", 22.5 * 0.0254),
        ("1/4 in", 0.25 * 0.0254),
        ("-1/4 in", -0.25 * 0.0254),
        ("1 3/8 ft", 1.375 * 0.3048),
        ('5/16 "', 0.3125 * 0.0254),
        ("-2 1/2 in", -2.5 * 0.0254),
        ("3/4 inch", 0.75 * 0.0254),
        ("0,2 mm", 2e-4),
        ("0.28mm", 2.8e-4),
        ("1e-3 m", 1e-3),
        ("12 µm", 12e-6),
        ("1,25 cm", 0.0125),
    ],
)
def test_lengths_as_makers_write_them(text, metres):
    assert parse(text, "m").nominal == pytest.approx(metres, rel=1e-12)


@pytest.mark.parametrize(
    "text, dimension, nominal",
    [
        ("1.2 Ω", "ohm", 1.2),
        ("1.2 Ohm", "ohm", 1.2),
        ("4.7 kΩ", "ohm", 4700),
        ("350 °C", "c", 350),
        ("350 ° C", "c", 350),
        ("350 deg C", "c", 350),
        ("−5 °C", "c", -5),
        ("2 mm²", "m2", 2e-6),
        ("10 %", "ratio", 0.1),
        ("0.1", "ratio", 0.1),
        ("2 turns", "count", 2),
        ("200 h", "h_per_year", 200),
        ("1.5 hours", "s", 5400),
    ],
)
def test_other_spellings(text, dimension, nominal):
    assert parse(text, dimension).nominal == pytest.approx(nominal, rel=1e-12)


@pytest.mark.parametrize(
    "text, dimension, low, high",
    [
        ("1.2 ohm +- 0.1 ohm", "ohm", 1.1, 1.3),
        ("1.2 ohm +/- 100 mohm", "ohm", 1.1, 1.3),
        ("1.2 ohm ± 0.1", "ohm", 1.1, 1.3),
        ("1.2 +- 0.1 ohm", "ohm", 1.1, 1.3),
        ("1.2 ohm +- 5 %", "ohm", 1.14, 1.26),
        ("1.2 ohm+-5%", "ohm", 1.14, 1.26),
        ("350 degC +- 5 K", "c", 345, 355),
        ("350 degC +- 9 degF", "c", 345, 355),
        ("662 degF +- 9", "c", 345, 355),
        ("350 +- 5 degC", "c", 345, 355),
        ("-10 degC +- 2 K", "c", -12, -8),
        ("1/2 in +- 1/16 in", "m", 0.0111125, 0.0142875),
        ("20 % +- 1 %", "ratio", 0.19, 0.21),
        ("1.2 ohm +- 0 ohm", "ohm", 1.2, 1.2),
    ],
)
def test_spreads(text, dimension, low, high):
    got = parse(text, dimension)
    assert (got.low, got.high) == (pytest.approx(low, rel=1e-12), pytest.approx(high, rel=1e-12))
    assert got.nominal == pytest.approx((low + high) / 2, rel=1e-12)
    assert got.text == text


@given(SIZES, st.floats(min_value=0, max_value=50))
def test_a_spread_in_percent_is_that_share_to_both_sides(number, percent):
    got = parse(f"{number!r} ohm +- {percent!r} %", "ohm")
    assert got.high - got.nominal == pytest.approx(number * percent / 100, rel=1e-9, abs=1e-12 * number)
    assert got.nominal - got.low == pytest.approx(number * percent / 100, rel=1e-9, abs=1e-12 * number)


REFUSED = [
    ("5", "m", "no unit"),
    ("", "m", "could not be read"),
    ("mm", "m", "could not be read"),
    ("5 kg", "m", "mass"),
    ("5 V", "ohm", "volts"),
    ("5 furlongs", "m", "furlongs"),
    ("5 MM", "m", "capitals"),
    ("1,200 ohm", "ohm", "two ways"),
    ("12,000 ohm", "ohm", "two ways"),
    ("1,200,000 ohm", "ohm", "separators"),
    ("1.200,5 ohm", "ohm", "separators"),
    ("1 200 ohm", "ohm", "could not be read"),
    ("nan ohm", "ohm", "could not be read"),
    ("inf ohm", "ohm", "could not be read"),
    ("1e999 ohm", "ohm", "too large"),
    ("--5 ohm", "ohm", "could not be read"),
    ("5 1/2 cm", "m", "inches and feet only"),
    ("5 1/0 in", "m", "fraction"),
    ("1/0 in", "m", ""),
    ("5.5 1/2 in", "m", "fraction"),
    ("1.2 ohm +- -0.1 ohm", "ohm", "negative spread"),
    ("1.2 ohm +-", "ohm", "could not be read"),
    ("1.2 ohm +- 0.1 +- 0.1", "ohm", "more than one"),
    ("350 degC +- 5 %", "c", "spread in %"),
    ("1.2 ohm +- 5 V", "ohm", "volts"),
    ("56 cm long", "m", "could not be read"),
    ("about 5 mm", "m", "could not be read"),
    ("5 K", "ohm", ""),
    ("5 ohm/m", "ohm", ""),
]


@pytest.mark.parametrize("text, dimension, says", REFUSED)
def test_refused_with_the_users_own_text_and_a_reason(text, dimension, says):
    with pytest.raises(Fault) as raised:
        parse(text, dimension, where="coil.length")
    told = str(raised.value)
    assert says in told and told.startswith("coil.length:")
    assert repr(text or "(nothing)") in told


@pytest.mark.parametrize("text, dimension", [("1,5 1/2 in", "m"), ("1,200e3 ohm", "ohm"), ("1,200.0 ohm", "ohm")])
def test_a_comma_that_could_mean_thousands_is_never_guessed(text, dimension):
    with pytest.raises(Fault):
        parse(text, dimension)
