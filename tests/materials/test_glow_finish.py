"""What is seen of a hot body, against Planck's law and printed tables; what service does to a finish."""

import numpy as np
import pytest

from benchcalc.basics.fault import Fault
from benchcalc.basics.tables import rows
from benchcalc.materials import glow
from benchcalc.materials.bulk import emissivity_of
from benchcalc.materials.finish import finish_in_service


def test_thresholds_rise_with_the_light_and_draper_stands_among_them():
    """Draper 1847: nearly all solids begin to glow at 525 degC; the older handbook gives 400 in the dark."""
    temps = [t for _, t, _ in glow.thresholds()]
    assert temps == sorted(temps) and temps[0] == 400
    assert (
        glow.threshold("in daylight")[0] == next(r["low_c"] for r in rows("glow") if r["scheme"] == "first glow") == 525
    )
    with pytest.raises(Fault, match="in daylight"):
        glow.threshold("in day light")


def test_seen_in_takes_numbers_and_arrays():
    assert glow.seen_in(450.0) == {
        "in the dark": True,
        "in twilight": False,
        "in daylight": False,
        "in sunlight": False,
    }
    many = glow.seen_in(np.array([300.0, 450.0, 600.0]))
    assert many["in the dark"].tolist() == [False, True, True] and many["in sunlight"].tolist() == [False, False, True]


def test_colour_words_by_range_and_by_nearest_point():
    told = glow.colour_words(840.0)
    assert (
        told["Chapman"] == "cherry red"
        and told["1905 handbook"] == "dull cherry red"
        and told["Dooley"] == "dark cherry"
    )
    assert set(told) == set(glow.schemes()) and "by surroundings" not in told
    assert not any(glow.colour_words(400.0).values())
    assert glow.colour_words(1400.0)["Chapman"] == "white"


def test_one_word_spans_a_hundred_kelvin_or_more():
    low, high = glow.spread_called("cherry")
    assert high - low > 150
    low, high = glow.spread_called("orange")
    assert high - low > 250
    assert [f[2] for f in glow.temperatures_called("orange")] == sorted(
        f[2] for f in glow.temperatures_called("orange")
    )
    with pytest.raises(Fault, match="cherry"):
        glow.spread_called("chery")


def eye(nanometre):
    """The 2-degree observer as a fit: Wyman, Sloan, Shirley, J. Computer Graphics Techniques 2 (2013) no. 2, eq. 4."""

    def lobe(middle, left, right):
        return np.exp(-0.5 * ((nanometre - middle) / np.where(nanometre < middle, left, right)) ** 2)

    return 0.821 * lobe(568.8, 46.9, 40.5) + 0.286 * lobe(530.9, 16.3, 31.1)


@pytest.mark.parametrize("temp_c, within", [(900.0, 0.2), (1000.0, 0.12), (1300.0, 0.06), (1700.0, 0.04)])
def test_brightness_is_plancks_law_seen_by_the_eye(temp_c, within):
    """Planck's law with CODATA constants and a published fit of the observer, which runs low in the far red."""
    nm = np.linspace(360, 830, 4701)
    metre = nm * 1e-9
    spectrum = 1.191042972e-16 / metre**5 / np.expm1(1.438776877e-2 / metre / (temp_c + 273.15))
    candela = 683.002 * np.trapezoid(spectrum * eye(nm), metre)
    assert glow.brightness(temp_c) == pytest.approx(candela, rel=within)


def test_brightness_rises_steeply_and_without_a_jump():
    temps = np.arange(350.0, 1800.0, 1.0)
    found = glow.brightness(temps)
    assert np.all(np.diff(found) > 0) and np.max(np.diff(np.log(found))) < 0.07
    assert glow.brightness(800.0, 0.5) == pytest.approx(glow.brightness(800.0) / 2)
    assert glow.brightness(727.0) / glow.brightness(527.0) > 300  # 200 K more, hundreds of times brighter


@pytest.mark.parametrize(
    "hottest_c, becomes, changed",
    [(200.0, "bright", False), (301.0, "tinted", True), (600.0, "tinted", True), (700.0, "after red heat", True)],
)
def test_bright_stainless_in_service(hottest_c, becomes, changed):
    found = finish_in_service("stainless-304", "bright", hottest_c)
    assert (found.finish, found.changed) == (becomes, changed)
    assert found.low <= found.emissivity <= found.high
    assert found.emissivity == emissivity_of("stainless-304", becomes)["value"]


def test_an_unsaid_finish_is_narrowed_by_service_and_other_metals_keep_theirs():
    """Stainless steel after repeated heating: 0.5 to 0.7, lecture notes on infrared measurement (EPFL, 2008)."""
    unsaid = finish_in_service("stainless-304", None, 650.0)
    assert (unsaid.low, unsaid.high, unsaid.changed) == (0.5, 0.7, False)
    assert finish_in_service("copper", "polished", 650.0).finish == "polished"
    assert not finish_in_service("stainless-304", "after red heat", 100.0).changed
