"""Numbers that belong to the thirty questions, worked out by the library."""

from functools import cache

from ...basics.fault import closest, fault
from ...basics.names import say
from ...basics.tables import rows
from ...heater import power
from ...heater.rectified import true_share
from ...heater.scrap_box import in_series, side_by_side
from ...heater.supply import load_current, load_power
from ...heater.wire import rated_resistance
from ...materials.alloys import hot_factor
from ...materials.metals import metal_at, metal_value
from ...materials.wood import hours_to_weaken
from ...thermal.surfaces.bare_wire import Feed, Surroundings, long_wire_temp
from ...thermal.surfaces.fins import critical_radius
from .four_ways import WAYS, four_ways


def _stiff(open_v, ohm):
    return load_power(load_current(open_v, 0.0, ohm), ohm)


def _hot():
    still, moving = (
        long_wire_temp(0.0003, 15.4, "nicr-80-20", Feed(load_a=1.5), Surroundings(air_speed_m_s=w)) for w in (0.0, 0.3)
    )
    return f"1.5 A in Ni-Cr wire of 0.3 mm: {say('wire_c', still)} in still air, {say('wire_c', moving)} in 0.3 m/s."


def _longer():
    volts, amps = ([r for r in four_ways() if r.way == way] for way in WAYS[:2])
    return (
        f"From {say('length_m', volts[0].length_m)} to {say('length_m', volts[-1].length_m)}: at constant volts "
        f"{say('load_w', volts[0].load_w)} become {say('load_w', volts[-1].load_w)}, with a lamp in the line "
        f"{say('load_w', amps[0].load_w)} become {say('load_w', amps[-1].load_w)}."
    )


def _ohms():
    grown = [float(hot_factor(alloy, 900.0)) - 1 for alloy in ("nicr-80-20", "fecral-22-5.8")]
    copper = float(hot_factor("copper", 100.0)) - 1
    return (
        f"At 900 degC Ni-Cr 80/20 has {grown[0]:+.0%}, Fe-Cr-Al 22-5.8 {grown[1]:+.0%}; copper has "
        f"{copper:+.0%} at 100 degC already."
    )


def _half_volts():
    ohm = rated_resistance(24.0, 60.0)
    return f"24 V, 60 W on 12 V: {say('load_ohm', ohm)}, so {say('load_w', _stiff(12.0, ohm))}."


def _wood():
    told = (f"{t} degC a tenth weaker after {hours_to_weaken(float(t)):.0f} h" for t in (100, 130, 160))
    return f"At {'; at '.join(told)}."


def _two_coils():
    row, side = in_series(6.0, 6.0), side_by_side(6.0, 6.0)
    stiff = [_stiff(12.0, ohm) for ohm in (row, side)]
    soft = [load_power(load_current(12.0, 2.0, ohm), ohm) for ohm in (row, side)]
    return (
        f"Two coils of 6 ohm on 12 V: in a row {say('load_w', stiff[0])}, side by side {say('load_w', stiff[1])}; with "
        f"2 ohm inside the supply {say('load_w', soft[0])} and {say('load_w', soft[1])}."
    )


def _load():
    told = [
        f"{r['mounting']}: {float(r['low_w_m2']) / 1e4:g} to {float(r['high_w_m2']) / 1e4:g}"
        for r in rows("surface_load")
    ]
    return "Advised, W/cm2, by mounting: " + "; ".join(told) + "."


def _tips():
    told = []
    for metal in ("copper", "brass", "aluminium"):
        carried = metal_at(metal, "conductivity_w_mk", 300.0).value
        stored = metal_value(metal, "density_kg_m3").value * metal_at(metal, "specific_heat_j_kgk", 300.0).value
        told.append(f"{metal} {carried:.0f} W/(m K) and {stored / 1e6:.2f} J/(cm3 K)")
    return "At 300 degC: " + "; ".join(told) + "."


def _turn_down():
    tap = power.tapped_volts(18.0, 0.5)
    resistor = power.series_resistor(0.8, 6.0, 0.5)
    half_wave = power.passed_share(18.0, 0.9) / 2
    return (
        f"Half the watts of a 6 ohm coil on 18 V with 0.8 ohm inside: a tap of {say('tapped_v', tap)}, a resistor of "
        f"{say('series_ohm', resistor)}, half of the time; one diode leaves {half_wave:.0%}."
    )


def _settles():
    amps = (1.0, 1.1)
    calm = [long_wire_temp(0.0003, 15.4, "nicr-80-20", Feed(load_a=a)) for a in amps]
    return (
        f"A tenth more amps is a fifth more watts, and a bare wire goes from {say('wire_c', calm[0])} to "
        f"{say('wire_c', calm[1])}: it sheds the more the hotter it is, and stays there."
    )


def _mean():
    return (
        f"Behind a bare bridge the meter's mean understates the watts: they are {1 / true_share('bridge'):.2f} times."
    )


def _wrap():
    return (
        f"For a sleeve of 0.1 W/(m K) in calm air (20 W/(m2 K)): up to {say('critical_m', critical_radius(0.1, 20.0))}."
    )


_LINES = {
    "hot": _hot,
    "longer": _longer,
    "ohms": _ohms,
    "half volts": _half_volts,
    "wood": _wood,
    "two coils": _two_coils,
    "load": _load,
    "tips": _tips,
    "turn down": _turn_down,
    "settles": _settles,
    "mean": _mean,
    "wrap": _wrap,
}


@cache
def question_line(key: str) -> str:
    """The computed numbers of a question, in a sentence.

    key: column numbers of data/learner_questions.csv.
    Raises Fault for an unknown one.
    """
    if key not in _LINES:
        raise fault("question", key, "has no numbers.", closest(key, _LINES))
    return _LINES[key]()
