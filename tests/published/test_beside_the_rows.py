"""Beside the check values: slips that sources print are not reproduced, and a formula where rows are few."""

import ht
import numpy as np
import pytest
from published.insulation_cases import INDEX_C, LINE
from published.metals_cases import two_bars

from benchcalc.heater import soak
from benchcalc.materials import ageing
from benchcalc.thermal.surfaces.surface_loss import air_at, convection_of, nusselt_churchill_chu, rayleigh
from benchcalc.thermal.tool.stack import layer_drop


def test_the_flawed_field_coil_is_not_reproduced():
    assert abs(soak.hot_winding(108.0, 22.0, 80.0) - 134.73) > 2


def test_the_ageing_article_s_own_index_and_line_are_not_reproduced():
    assert abs(INDEX_C - 105) > 60
    assert LINE.slope_k / 9500 > 1.5
    hours = ageing.life_by_line(220.0, -15.2 + np.log(3600), 9500.0) / 3600
    assert hours == pytest.approx(59, abs=1)  # where its test lasted 480 h


def test_a_round_layer_against_an_open_library():
    for inner, thick, k in ((6e-3, 2.5e-4, 0.5), (9e-3, 5e-4, 0.3), (0.06, 1e-3, 0.08)):
        theirs = 700.0 * ht.conduction.R_cylinder(inner, inner + 2 * thick, k, 1.0)
        assert layer_drop(700.0, inner, thick, k) == pytest.approx(theirs, rel=1e-9)


def test_the_slip_of_the_companions_to_two_bars_is_not_reproduced():
    assert abs(two_bars()[1] - 4.30) > 0.1 and np.isfinite(two_bars()[0])


def test_fine_wire_by_the_tube_equation_would_be_wrong():
    """Kreith Ex 5.1 by Churchill-Chu alone: 9.4 W/m, a quarter too little; so the choice by Rayleigh number matters."""
    k, _, prandtl = air_at(77.0)
    tube = np.pi * k * nusselt_churchill_chu(rayleigh(127.0, 27.0, 1e-3), prandtl) * 100
    assert tube < 0.82 * 12.1 < 0.95 * 12.1 < convection_of(127.0, 27.0, 1e-3, 0.0) * np.pi * 1e-3
