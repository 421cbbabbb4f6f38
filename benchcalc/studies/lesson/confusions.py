"""The four confusions, asked before and after: power, temperature, resistance and length are not one thing."""

import numpy as np

from ...basics.names import say
from ...heater.supply import load_power
from ...heater.wire import cold_resistance, linear_resistance, round_area
from ...materials.alloys import alloy_value, hot_factor
from ...thermal.surfaces.bare_wire import Feed, long_wire_temp
from .four_ways import AIR_M_S, ROOM, WAYS, four_ways
from .prediction import Prediction, Revealed

ALLOY = "nicr-80-20"  # the wire of the talk
THIN_M, THICK_M = 0.0003, 0.0006
LESS_SAME_MORE = ("less", "the same", "more")
COOLER_SAME_HOTTER = ("cooler", "as hot", "hotter")
WATTS_A_METRE = 40.0
IN_AIR = f"in a room's air ({AIR_M_S[1]:g} m/s)"
ALIKE = 0.02  # share within which two answers count as the same


def _ohm_per_m(diameter_m):
    return linear_resistance(alloy_value(ALLOY, "resistivity_ohm_m").value, round_area(diameter_m))


def _order(now, then):
    """Choice of less, the same, more."""
    return 1 if np.isclose(then, now, rtol=ALIKE) else (2 if then > now else 0)


def _watts(length_m, load_a):
    return load_power(load_a, cold_resistance(_ohm_per_m(THIN_M), length_m))


def _glow_c(diameter_m, wire_w_m):
    """Temperature of a long bare wire that makes so many watts a metre, in the air of the class's table."""
    ohm_per_m = _ohm_per_m(diameter_m)
    return long_wire_temp(diameter_m, ohm_per_m, ALLOY, Feed(load_a=np.sqrt(wire_w_m / ohm_per_m)), ROOM)


def _on_the_table(way):
    """The shortest and the longest piece of the first evening's table, in one way."""
    rows = [row for row in four_ways() if row.way == way]
    return rows[0], rows[-1]


def _longer_at_volts(build, workings):
    now, then = _on_the_table(WAYS[0])
    return Revealed(
        _order(now.load_w, then.load_w),
        f"Twice the length: twice the ohms, half the amps. On the table at {say('load_v', now.load_v)}: "
        f"{say('load_w', then.load_w)} in {say('length_m', then.length_m)} where {say('length_m', now.length_m)} made "
        f"{say('load_w', now.load_w)}.",
    )


def _longer_at_amps(build, workings):
    now, then = _on_the_table(WAYS[1])
    held = [_watts(row.length_m, now.load_a) for row in (now, then)]
    return Revealed(
        _order(*held),
        f"The same amps through twice the ohms: twice the watts. {say('load_a', now.load_a)} held for good would make "
        f"{say('load_w', held[1])} in {say('length_m', then.length_m)} where {say('length_m', now.length_m)} make "
        f"{say('load_w', held[0])}. The lamp on the table lets them slip to {say('load_a', then.load_a)}: "
        f"{say('load_w', then.load_w)}, still more.",
    )


def _thicker_same_watts(build, workings):
    now, then = _glow_c(THIN_M, WATTS_A_METRE), _glow_c(THICK_M, WATTS_A_METRE)
    return Revealed(
        _order(now, then),
        f"Ni-Cr, {WATTS_A_METRE:.0f} W in each metre, {IN_AIR}: {say('diameter_m', THICK_M)} thick it sheds them at "
        f"{say('wire_c', then)}, {say('diameter_m', THIN_M)} thick only at {say('wire_c', now)}. Power is what goes "
        "in; temperature is what the surroundings make of it.",
    )


def _same_watts_in_twice_the_wire(build, workings):
    now, then = _glow_c(THIN_M, 20.0 / 0.5), _glow_c(THIN_M, 20.0 / 1.0)
    return Revealed(
        _order(now, then),
        f"Ni-Cr of {say('diameter_m', THIN_M)}, {IN_AIR}: the same 20 W on twice the length, {say('wire_c', then)} "
        f"where {say('wire_c', now)} were. Length is where the heat has to go.",
    )


def _twice_the_amps(build, workings):
    ohm_per_m, amps = _ohm_per_m(THIN_M), (0.8, 1.6)
    once, twice = (long_wire_temp(THIN_M, ohm_per_m, ALLOY, Feed(load_a=a), ROOM) - ROOM.ambient_c for a in amps)
    times = twice / once
    return Revealed(
        0 if times < 1.8 else 1 if times < 2.2 else 2,
        f"Ni-Cr of {say('diameter_m', THIN_M)}, {IN_AIR}, {amps[0]:g} and {amps[1]:g} A: {once:.0f} K and {twice:.0f} "
        f"K above the room, {times:.1f} times. The watts grow four times, but a hotter wire sheds each kelvin easier, "
        "most of all by radiation.",
    )


def _hot_ohms(build, workings):
    grown = float(hot_factor(ALLOY, 900.0, 0.0)) - 1
    return Revealed(
        0 if abs(grown) < 0.1 else 1 if grown < 0.6 else 2,
        f"By {grown:.0%}. That is why this metal makes good heaters, and a poor thermometer: a lamp's tungsten would "
        "have grown many times over.",
    )


PREDICTIONS = (
    Prediction(
        key="longer-at-volts",
        ask="A wire hangs on a supply that holds its volts. You clip twice the length of it. The longer piece "
        "makes ... watts.",
        choices=LESS_SAME_MORE,
        reveal=_longer_at_volts,
        confusion="length",
    ),
    Prediction(
        key="longer-at-amps",
        ask="Now something keeps the amps the same, whatever the wire. You clip twice the length. It makes ... watts.",
        choices=LESS_SAME_MORE,
        reveal=_longer_at_amps,
        confusion="length",
    ),
    Prediction(
        key="thicker-same-watts",
        ask="A thin and a thick wire, equally long, make the same watts in open air. The thick one is ...",
        choices=COOLER_SAME_HOTTER,
        reveal=_thicker_same_watts,
        confusion="temperature",
    ),
    Prediction(
        key="same-watts-longer",
        ask="20 W go into half a metre of wire, then into a metre of the same wire. The longer one is ...",
        choices=COOLER_SAME_HOTTER,
        reveal=_same_watts_in_twice_the_wire,
        confusion="power",
    ),
    Prediction(
        key="twice-the-amps",
        ask="You double the amps in a bare wire. How far it is above the room becomes ...",
        choices=("less than twice as much", "about twice as much", "more than twice as much"),
        reveal=_twice_the_amps,
        confusion="temperature",
    ),
    Prediction(
        key="hot-ohms",
        ask="A nickel-chromium wire glows. Its ohms have grown by ...",
        choices=("a few per cent", "about half", "several times"),
        reveal=_hot_ohms,
        confusion="resistance",
    ),
)
