"""Spot the error: statements that stood in print or on public pages, judged by the library's own work.

Where they stood is left out on purpose; each is told in words of our own.
"""

import numpy as np

from ...basics.names import say
from ...basics.quantity import FOOT_M
from ...heater import soak
from ...heater.supply import load_power
from ...heater.wire import linear_resistance, rated_resistance, ribbon_area, round_area
from ...materials.ageing import life_by_line
from ...thermal.surfaces.by_hand import heat_up_time
from ...thermal.surfaces.fins import critical_radius
from .prediction import Prediction, Revealed, nearest_choice

HOLDS_OR_NOT = ("it holds", "it cannot be")
BOLTZMANN_EV_K = 8.617333262e-5  # exact since 2019 (SI), rounded: Boltzmann's constant, eV/K


def _rise_of_a_rate(build, workings):
    second_s = heat_up_time(0.010, 460.0, 13.0, 60.0)
    return Revealed(
        1,
        f"60 W warm 10 g of iron by 13 K in {second_s:.1f} s: that is a rate, 13 K each second. Where it ends is set "
        "by what it loses, and lies hundreds of kelvin higher.",
    )


def _ribbon_per_foot(build, workings):
    per_m = linear_resistance(1.1e-6, ribbon_area(0.005, 0.0001))
    return Revealed(
        1,
        f"By its section and its alloy it has {say('linear_ohm_per_m', per_m)}, so {per_m * FOOT_M:.2f} ohm a foot. "
        "The figure was right, its unit was not: a coil cut by it is three times too long.",
    )


def _ohms_an_inch(build, workings):
    needed = rated_resistance(220.0, 700.0)
    return Revealed(
        1,
        f"A 700 W element for 220 V has {say('hot_ohm', needed)} in all. Several metres of such wire would have tens "
        "of kilo-ohms and take no power to speak of.",
    )


def _field_coil(build, workings):
    hot = soak.hot_winding(108.0, 22.0, 80.0)
    return Revealed(
        1,
        f"It comes to {say('hot_winding_ohm', hot, figures=5)}. The printed answer used the coefficient of 0 degC "
        "with ohms read at 22 degC.",
    )


def _halved_by_ten(build, workings):
    slope_k = 0.9 / BOLTZMANN_EV_K
    times = life_by_line(155.0, 0.0, slope_k) / life_by_line(165.0, 0.0, slope_k)
    needed_ev = 0.9 * np.log(2) / np.log(times)
    return Revealed(
        0 if abs(times - 2) < 0.05 else 1,
        f"That energy makes it {times:.2f} times shorter, not twice. Ten kelvin and a half go together at "
        f"{needed_ev:.2f} eV.",
    )


def _less_volts_more_amps(build, workings):
    half, whole = load_power(6.0 / 4.0, 4.0), load_power(12.0 / 4.0, 4.0)
    return Revealed(
        1,
        f"A heater is a resistance: at half the volts it takes half the amps, {say('load_w', half)} in place of "
        f"{say('load_w', whole)}. Only a device that keeps its watts, such as a charger, takes more amps at fewer "
        "volts.",
    )


def _wrap_that_cools(build, workings):
    critical = critical_radius(0.1, 20.0)
    return Revealed(
        0 if critical > 0.0005 else 1,
        f"More surface beats more thickness up to a radius of {say('critical_m', critical)}, for stuff of 0.1 W/(m "
        "K) in calm air. A thin wire with a sleeve is cooler than a bare one at the same watts.",
    )


def _twice_as_thick(build, workings):
    thin, thick = (linear_resistance(1.1e-6, round_area(d)) for d in (0.0003, 0.0006))
    return Revealed(
        0 if np.isclose(thin / thick, 4) else 1,
        f"{say('linear_ohm_per_m', thin)} and {say('linear_ohm_per_m', thick)}: a quarter, since the section has "
        "grown four times.",
    )


def _four_times_whenever(build, workings):
    third = (12.0 / 10.0) ** 2
    return Revealed(
        nearest_choice(third, (1.2, 1.44, 4.0)),
        f"From 10 to 12 V it is {third:.2f} times. Four times belongs to twice the volts: the square of the ratio.",
    )


PREDICTIONS = (
    Prediction(
        key="error-rise-of-a-rate",
        ask="“60 W in a 10 g iron tip: it gets 13 kelvin hotter.”",
        choices=HOLDS_OR_NOT,
        reveal=_rise_of_a_rate,
        confusion="temperature",
    ),
    Prediction(
        key="error-ribbon-per-foot",
        ask="“This heater ribbon, 5 mm by 0.1 mm, has 2.2 ohm for each foot.”  (Its alloy has 1.1 uohm m.)",
        choices=HOLDS_OR_NOT,
        reveal=_ribbon_per_foot,
        confusion="resistance",
    ),
    Prediction(
        key="error-ohms-an-inch",
        ask="“The wire of this 700 W, 220 V element has 393.7 ohm for each inch.”",
        choices=HOLDS_OR_NOT,
        reveal=_ohms_an_inch,
        confusion="resistance",
    ),
    Prediction(
        key="error-field-coil",
        ask="“A copper winding of 108 ohm at 22 degC has 134.73 ohm at 80 degC.”  (Its ohms grow as its distance from "
        "-234.5 degC does.)",
        choices=HOLDS_OR_NOT,
        reveal=_field_coil,
        confusion="resistance",
    ),
    Prediction(
        key="error-halved-by-ten",
        ask="“An insulation with an activation energy of 0.9 eV lives half as long at 165 as at 155 degC.”",
        choices=HOLDS_OR_NOT,
        reveal=_halved_by_ten,
    ),
    Prediction(
        key="error-fewer-volts-more-amps",
        ask="“On half of its volts a heater draws more current, to make up for it.”",
        choices=HOLDS_OR_NOT,
        reveal=_less_volts_more_amps,
        confusion="power",
    ),
    Prediction(
        key="error-wrap-that-cools",
        ask="“A sleeve on a thin hot wire can make it cooler.”",
        choices=HOLDS_OR_NOT,
        reveal=_wrap_that_cools,
        confusion="temperature",
    ),
    Prediction(
        key="error-twice-as-thick",
        ask="“Wire twice as thick has a quarter of the ohms for each metre.”",
        choices=HOLDS_OR_NOT,
        reveal=_twice_as_thick,
        confusion="resistance",
    ),
    Prediction(
        key="error-four-times-whenever",
        ask="“Power changes by a factor of four whenever the voltage changes.” What is it from 10 to 12 V?",
        choices=("1.2 times", "1.44 times", "four times"),
        reveal=_four_times_whenever,
        confusion="power",
    ),
)
