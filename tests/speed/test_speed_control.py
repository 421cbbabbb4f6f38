"""A switched hour against a general integrator that finds each switching as an event: counted, the ratio printed."""

import numpy as np
import pytest
from held_iron import NET, WATCH
from scipy.integrate import solve_ivp

from benchcalc.thermal.control.law import ON_OFF, Law
from benchcalc.thermal.control.measures import measures_of
from benchcalc.thermal.control.modes import fast_run, modes_at
from benchcalc.thermal.network.steady import steady

HOUR_S, SET_C, HALF_K, ROOM_C, SIGMA = 3600.0, 300.0, 3.0, 20.0, 5.670374419e-8
LAW = Law(ON_OFF, SET_C, band_k=2 * HALF_K)


def slopes(power_w, calls):
    """The same iron written down by hand: wire, core, tip, tube, wood, reading; its massless face as a series of two
    contacts."""
    face = 3.0 * 4.0 / (3.0 + 4.0)

    def shed(temp_c, area_m2, shine):
        rise = temp_c - ROOM_C
        convection = 2.0 * np.sign(rise) * abs(rise) ** 1.25 * area_m2
        return convection + shine * area_m2 * SIGMA * ((temp_c + 273.15) ** 4 - (ROOM_C + 273.15) ** 4)

    def right_side(_, y):
        calls.append(1)
        wire, core, tip, tube, wood, read = y
        shine = 0.7 * 2e-3 * SIGMA * ((wire + 273.15) ** 4 - (tube + 273.15) ** 4)
        to_core, to_tip, to_tube = 0.25 * (wire - core), face * (core - tip), 0.05 * (core - tube)
        to_wood = 0.03 * (tube - wood)
        seen = ROOM_C + 0.97 * (tip - ROOM_C)
        return [
            (power_w - to_core - shine) / 4,
            (to_core - to_tip - to_tube) / 25,
            (to_tip - shed(tip, 3e-3, 0.6)) / 18,
            (shine + to_tube - to_wood - shed(tube, 6e-3, 0.5)) / 22,
            (to_wood - 0.05 * (wood - ROOM_C)) / 60,
            (seen - read) / 4.0,
        ]

    return right_side


def switched_hour():
    """(times, tip, number of switchings, evaluations) of the hour by scipy, from switching to switching."""
    now, y, on, calls, times, tips, moves = 0.0, np.full(6, ROOM_C), True, [], [], [], 0
    while now < HOUR_S - 1e-6:

        def crossing(_, y, at=SET_C + HALF_K if on else SET_C - HALF_K):
            return y[5] - at

        crossing.terminal, crossing.direction = True, 1.0 if on else -1.0
        run = solve_ivp(
            slopes(60.0 if on else 0.0, calls), (now, HOUR_S), y, "BDF", events=crossing, rtol=1e-5, atol=1e-3
        )
        times.append(run.t)
        tips.append(run.y[2])
        now, y, on, moves = run.t[-1], run.y[:, -1], not on, moves + 1
    return np.concatenate(times), np.concatenate(tips), moves, len(calls)


def test_a_switched_hour(race):
    """On-off at 300 degC from cold: the modes are straightened beforehand, as they are kept for a slider."""
    net = NET
    modes = modes_at(net, steady(net).temps_c, WATCH)
    answers = race(
        {
            "by modes, straightened once": lambda: fast_run(modes, LAW, WATCH, HOUR_S),
            "scipy solve_ivp BDF with an event at each switching": switched_hour,
        }
    )
    ours, (time_s, tip_c, moves, evaluations) = answers.values()
    late = np.linspace(HOUR_S / 2, HOUR_S, 4000)
    told, mean_c = measures_of(ours, "tip", SET_C), np.interp(late, time_s, tip_c).mean()
    assert told.mean_c == pytest.approx(mean_c, abs=1.0)
    swing = np.ptp(np.interp(late, time_s, tip_c))
    assert told.ripple_k == pytest.approx(swing, abs=1.0)
    assert abs(int((np.diff(ours.share[1:]) != 0).sum()) + 1 - moves) <= 2
    assert ours.pieces < evaluations / 4
