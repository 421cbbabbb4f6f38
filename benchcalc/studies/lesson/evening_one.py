"""Evening one: power, temperature, resistance and length are four things."""

from math import pi

from ...heater.scrap_box import in_series, side_by_side
from ...heater.supply import load_power
from ...heater.wire import cold_resistance, held_current, rated_resistance, round_edge, surface_load
from ...thermal.surfaces.by_hand import heat_up_time
from .drawing_numbers import stepped
from .exercise import Exercise, Slip
from .slips import KELVIN_INSIDE, PER_FOOT, PER_METRE


def on_volts(bench, load_v, ohm):
    """Watts of a resistance on a supply that holds its volts.  bench: Workbench. load_v: V. ohm: of the load."""
    amps = bench(held_current, load_v=load_v, load_ohm=ohm)
    return bench(load_power, load_a=amps, load_ohm=ohm)


def _ohms(bench, n):
    return bench(cold_resistance, linear_ohm_per_m=n["linear_ohm_per_m"], length_m=n["length_m"])


def _rated(bench, n):
    return bench(rated_resistance, rated_v=n["rated_v"], rated_w=n["rated_w"])


def _surface(bench, n):
    edge = bench(round_edge, diameter_m=n["diameter_m"])
    return bench(surface_load, coil_w=n["coil_w"], edge_m=edge, length_m=n["length_m"])


ONE_METRE = Slip("Those are the ohms of one metre, not of your piece.", change=lambda n: n | {"length_m": 1.0})

EXERCISES = (
    Exercise(
        key="wire-at-volts",
        title="A wire at constant volts",
        lane="everyday",
        ask="A wire has {linear_ohm_per_m}. You clip {length_m} of it to a supply that holds {load_v} whatever the "
        "load. How many watts?",
        draw=lambda r: {
            "linear_ohm_per_m": stepped(r, 8.0, 22.0, 0.5),
            "length_m": stepped(r, 0.3, 0.9, 0.02),
            "load_v": stepped(r, 6.0, 12.0, 0.5),
        },
        work=lambda bench, n: on_volts(bench, n["load_v"], _ohms(bench, n)),
        result="load_w",
        slips=(ONE_METRE, PER_FOOT, PER_METRE),
        hints=(
            "First the ohms of the piece: ohms for each metre times metres.",
            "Then the amps: volts over ohms.",
            "Watts are volts times amps.",
        ),
        learned="At constant volts a longer piece takes fewer watts: more ohms, so fewer amps.",
    ),
    Exercise(
        key="wire-at-amps",
        title="A wire at constant amps",
        lane="everyday",
        ask="{length_m} of a wire with {linear_ohm_per_m}, this time with a lamp in the line that keeps the current "
        "at {load_a}. How many watts does the wire take?",
        draw=lambda r: {
            "linear_ohm_per_m": stepped(r, 8.0, 22.0, 0.5),
            "length_m": stepped(r, 0.3, 0.9, 0.02),
            "load_a": stepped(r, 0.8, 2.4, 0.1),
        },
        work=lambda bench, n: bench(load_power, load_a=n["load_a"], load_ohm=_ohms(bench, n)),
        result="load_w",
        slips=(
            ONE_METRE,
            PER_FOOT,
            PER_METRE,
            Slip(
                "Amps times ohms gives volts. Watts need the amps once more.",
                change=lambda n: n | {"linear_ohm_per_m": n["linear_ohm_per_m"] / n["load_a"]},
            ),
        ),
        hints=("Ohms of the piece first.", "Watts are amps times amps times ohms."),
        learned="At constant amps a longer piece takes more watts. Longer means neither more nor less heat until "
        "somebody says what stays constant.",
    ),
    Exercise(
        key="other-volts",
        title="An element on the wrong volts",
        lane="everyday",
        ask="An element is marked {rated_v}, {rated_w}. You run it on {load_v}. How many watts, if its ohms stay?",
        draw=lambda r: {
            "rated_v": stepped(r, 20.0, 28.0, 2.0),
            "rated_w": stepped(r, 40.0, 90.0, 5.0),
            "load_v": stepped(r, 9.0, 14.0, 0.5),
        },
        work=lambda bench, n: on_volts(bench, n["load_v"], _rated(bench, n)),
        result="load_w",
        slips=(
            Slip(
                "Watts do not go with the volts but with their square: at half the volts the amps halve too.",
                change=lambda n: n | {"rated_w": n["rated_w"] * n["rated_v"] / n["load_v"]},
            ),
            Slip(
                "Fewer volts never give more watts in the same ohms; you divided the wrong way round.",
                change=lambda n: {"rated_v": n["load_v"], "rated_w": n["rated_w"], "load_v": n["rated_v"]},
            ),
            Slip(
                "Rated volts over yours, and no square: fewer volts never give more watts in the same ohms.",
                change=lambda n: n | {"rated_w": n["rated_w"] * (n["rated_v"] / n["load_v"]) ** 3},
            ),
        ),
        hints=(
            "The ohms belong to the element and stay: rated volts squared over rated watts.",
            "Then watts on your volts: volts squared over ohms.",
        ),
        learned="Half the volts give a quarter of the watts.",
    ),
    Exercise(
        key="two-in-a-row",
        title="Two coils in a row",
        lane="everyday",
        ask="Coils of {one_ohm} and {other_ohm} hang one after the other (series) on a supply that holds {load_v}. "
        "How many watts do both take together?",
        draw=lambda r: {
            "one_ohm": stepped(r, 3.0, 6.0, 0.5),
            "other_ohm": stepped(r, 6.5, 12.0, 0.5),
            "load_v": stepped(r, 9.0, 15.0, 0.5),
        },
        work=lambda bench, n: on_volts(
            bench, n["load_v"], bench(in_series, one_ohm=n["one_ohm"], other_ohm=n["other_ohm"])
        ),
        result="load_w",
        slips=(
            Slip(
                "That is both side by side (parallel).",
                change=lambda n: (
                    n | {"one_ohm": n["one_ohm"] * n["other_ohm"] / (n["one_ohm"] + n["other_ohm"]), "other_ohm": 0.0}
                ),
            ),
            Slip("That is the first coil alone.", change=lambda n: n | {"other_ohm": 0.0}),
        ),
        hints=("In a row the ohms add.", "Watts: volts squared over all of the ohms."),
        learned="On a supply that holds its volts, a row is the gentle way: more ohms, fewer watts.",
    ),
    Exercise(
        key="two-side-by-side",
        title="Two coils side by side",
        lane="everyday",
        ask="Coils of {one_ohm} and {other_ohm} side by side (parallel) on a supply that holds {load_v}. How many "
        "watts do both take together?",
        draw=lambda r: {
            "one_ohm": stepped(r, 3.0, 6.0, 0.5),
            "other_ohm": stepped(r, 6.5, 12.0, 0.5),
            "load_v": stepped(r, 5.0, 9.0, 0.5),
        },
        work=lambda bench, n: on_volts(
            bench, n["load_v"], bench(side_by_side, one_ohm=n["one_ohm"], other_ohm=n["other_ohm"])
        ),
        result="load_w",
        slips=(
            Slip(
                "That is both in a row: side by side the ohms do not add.",
                change=lambda n: {
                    "load_v": n["load_v"],
                    "one_ohm": 2 * (n["one_ohm"] + n["other_ohm"]),
                    "other_ohm": 2 * (n["one_ohm"] + n["other_ohm"]),
                },
            ),
            Slip(
                "That is the first coil alone; the other takes its own watts beside it.",
                change=lambda n: n | {"one_ohm": 2 * n["one_ohm"], "other_ohm": 2 * n["one_ohm"]},
            ),
        ),
        hints=("Each coil has all of the volts.", "Watts of each: volts squared over its ohms. Then add."),
        learned="Side by side each takes what it would take alone, and the supply must give the sum.",
    ),
    Exercise(
        key="load-on-its-surface",
        title="Watts on the wire's own skin",
        lane="everyday",
        ask="{coil_w} go into {length_m} of round wire, {diameter_m} thick. How many watts leave "
        "each square centimetre of it?",
        draw=lambda r: {
            "coil_w": stepped(r, 20.0, 60.0, 2.0),
            "length_m": stepped(r, 0.4, 1.2, 0.05),
            "diameter_m": stepped(r, 0.0002, 0.0006, 0.00005),
        },
        work=_surface,
        result="surface_load_w_m2",
        slips=(
            Slip(
                "You took the diameter for a radius: the skin of a round wire is 3.14 times diameter times length.",
                change=lambda n: n | {"diameter_m": 2 * n["diameter_m"]},
            ),
            Slip(
                "Half of the diameter is the radius; the way round is 3.14 times the whole diameter.",
                change=lambda n: n | {"diameter_m": n["diameter_m"] / 2},
            ),
            Slip(
                "That leaves out the 3.14: diameter times length is the wire's shadow, not its skin.",
                after=lambda right: right * pi,
            ),
        ),
        hints=("The skin: 3.14 times diameter times length, all in centimetres.", "Watts over square centimetres."),
        learned="Power says how much heat; the surface that must shed it says how hot.",
    ),
    Exercise(
        key="kelvin-a-second",
        title="How fast at first",
        lane="everyday",
        ask="{coil_w} go into a tip of {mass_kg} (its metal takes {specific_heat_j_kgk} for each kelvin). If nothing "
        "is lost yet, how long until it has risen by {rise_k}?",
        draw=lambda r: {
            "coil_w": stepped(r, 20.0, 60.0, 5.0),
            "mass_kg": stepped(r, 0.01, 0.06, 0.005),
            "specific_heat_j_kgk": stepped(r, 380.0, 500.0, 10.0),
            "rise_k": stepped(r, 100.0, 300.0, 20.0),
        },
        work=lambda bench, n: bench(heat_up_time, **n),
        result="least_s",
        slips=(
            Slip("A mass in grams went in as kilograms, or the other way round.", after=lambda right: right * 1000.0),
            Slip("That is the time for one kelvin.", change=lambda n: n | {"rise_k": 1.0}),
            KELVIN_INSIDE,
        ),
        hints=(
            "Energy needed: mass times heat for each kilogram and kelvin times kelvins.",
            "Time: energy over watts.",
        ),
        learned="Watts over mass give kelvins for each second at the start. Where it ends is another question: there "
        "what goes in equals what is lost.",
    ),
)
