"""Evening two: what an unmarked supply can really give, and for how long."""

from ...heater.protection import cable_resistance, short_current
from ...heater.soak import winding_rise
from ...heater.supply import (
    higher_resistance,
    load_current,
    load_power,
    load_voltage,
    most_power,
    open_from_two,
    regulation_of,
    source_from_two,
)
from .drawing_numbers import stepped
from .exercise import Exercise, Slip

COPPER_WARM = 1.2  # a winding some 50 K above the room; for the exercise only


def _readings(r):
    """Two readings of a small transformer, on a straight line."""
    first_a = stepped(r, 0.4, 0.9, 0.1)
    return {
        "first_v": stepped(r, 11.5, 14.0, 0.1),
        "first_a": first_a,
        "second_v": stepped(r, 9.2, 10.6, 0.1),
        "second_a": stepped(r, first_a + 1.2, first_a + 2.4, 0.1),
    }


def _source(bench, n):
    return bench(source_from_two, **n)


def _open(bench, n):
    return bench(open_from_two, first_v=n["first_v"], first_a=n["first_a"], source_ohm=_source(bench, n))


def _line(r):
    return {"open_v": stepped(r, 11.0, 16.0, 0.1), "source_ohm": stepped(r, 0.5, 1.5, 0.05)}


def _watts(bench, n):
    amps = bench(load_current, **n)
    return bench(load_power, load_a=amps, load_ohm=n["load_ohm"])


def _regulation(bench, n):
    amps = bench(load_current, **n)
    volts = bench(load_voltage, load_a=amps, load_ohm=n["load_ohm"])
    return bench(regulation_of, open_v=n["open_v"], load_v=volts)


def _short(bench, n):
    cable = bench(cable_resistance, cable_m=n["cable_m"], cable_m2=n["cable_m2"])
    return bench(short_current, open_v=n["open_v"], source_ohm=n["source_ohm"], warming=COPPER_WARM, cable_ohm=cable)


def _swapped(n):
    return n | {"cold_winding_ohm": n["hot_winding_ohm"], "hot_winding_ohm": n["cold_winding_ohm"]}


EXERCISES = (
    Exercise(
        key="ohms-inside",
        title="The ohms inside the supply",
        lane="everyday",
        ask="Two readings of an unmarked transformer: {first_v} at {first_a}, and {second_v} at {second_a}. How many "
        "ohms has the supply inside?",
        draw=_readings,
        work=_source,
        result="source_ohm",
        slips=(
            Slip(
                "Volts over amps of one reading is the load outside, not the supply inside: take differences.",
                change=lambda n: {"first_v": n["second_v"], "first_a": 0.0, "second_v": 0.0, "second_a": n["second_a"]},
            ),
            Slip("Amps over volts: turned upside down.", after=lambda right: 1 / right),
            Slip(
                "You divided by the second current instead of by how much the current grew.",
                change=lambda n: n | {"first_a": 0.0},
            ),
        ),
        hints=("How many volts did it lose?", "For how many amps more?"),
        learned="What the supply loses for each ampere more is a resistance, as if a resistor were built in.",
    ),
    Exercise(
        key="volts-unloaded",
        title="Back to no load",
        lane="everyday",
        ask="Two readings of another supply: {first_v} at {first_a}, {second_v} at {second_a}. What would the meter "
        "show with nothing connected?",
        draw=_readings,
        work=_open,
        result="open_v",
        share=0.01,
        slips=(
            Slip(
                "You took the drop away instead of adding it: unloaded it stands higher.",
                change=lambda n: n | {"first_a": -n["first_a"], "second_a": n["second_a"] - 2 * n["first_a"]},
            ),
        ),
        hints=("First the ohms inside.", "Then add to a reading what its current lost in them."),
        learned="No-load volts are what the limits of extra-low voltage ask about, never the loaded ones.",
    ),
    Exercise(
        key="watts-on-a-sagging-line",
        title="Watts on a line that sags",
        lane="everyday",
        ask="A supply has {open_v} unloaded and {source_ohm} inside. How many watts does a coil of {load_ohm} take?",
        draw=lambda r: _line(r) | {"load_ohm": stepped(r, 3.0, 8.0, 0.5)},
        work=_watts,
        result="load_w",
        slips=(
            Slip("You took the no-load volts as if they did not sag.", change=lambda n: n | {"source_ohm": 0.0}),
            Slip(
                "Those are all of the watts, also those that stay inside the supply.",
                change=lambda n: {
                    "open_v": n["open_v"],
                    "source_ohm": 0.0,
                    "load_ohm": n["source_ohm"] + n["load_ohm"],
                },
            ),
        ),
        hints=(
            "The current goes through both: volts unloaded over all of the ohms.",
            "Watts in the coil: amps times amps times the ohms of the coil alone.",
        ),
        learned="Whoever reckons with the no-load volts promises watts that never arrive.",
    ),
    Exercise(
        key="sag-as-a-share",
        title="How much it sags",
        lane="everyday",
        ask="A supply with {open_v} unloaded and {source_ohm} inside feeds {load_ohm}. By how many per cent of the "
        "loaded volts does it stand higher when unloaded?",
        draw=lambda r: _line(r) | {"load_ohm": stepped(r, 3.0, 8.0, 0.5)},
        work=_regulation,
        result="regulation",
        per_cent=True,
        share=0.04,
        slips=(
            Slip(
                "You divided by the no-load volts; the trade divides by the loaded ones.",
                after=lambda right: right / (1 + right),
            ),
            Slip("A share of one is not yet per cent: multiply by a hundred.", after=lambda right: right / 100),
        ),
        hints=("Find the loaded volts.", "Difference over loaded volts, times a hundred."),
        learned="The trade calls it regulation. Small transformers have a fifth or more.",
    ),
    Exercise(
        key="most-watts",
        title="The most it can give",
        lane="everyday",
        ask="What is the most that any coil could take from a supply of {open_v} with {source_ohm} inside?",
        draw=_line,
        work=lambda bench, n: bench(most_power, **n),
        result="most_power_w",
        slips=(
            Slip("That is what a dead short makes, all of it inside the supply.", after=lambda right: 4 * right),
            Slip("Half of that: the volts halve at the coil, and so do the amps.", after=lambda right: 2 * right),
        ),
        hints=("It happens when the coil has as many ohms as the supply.", "The coil then sees half of the volts."),
        learned="And as many watts again cook the supply: nobody runs it there for long.",
    ),
    Exercise(
        key="rise-of-a-winding",
        title="A thermometer that is already inside",
        lane="everyday",
        ask="A winding of copper had {cold_winding_ohm} at {cold_temp_c}. After two hours, just unplugged, it has "
        "{hot_winding_ohm}; the room is at {end_temp_c}. How far above the room is the winding? (The ohms of copper "
        "grow as if they had begun from nothing at -234.5 degC.)",
        draw=lambda r: {
            "cold_winding_ohm": stepped(r, 30.0, 40.0, 0.5),
            "cold_temp_c": stepped(r, 18.0, 22.0, 1.0),
            "hot_winding_ohm": stepped(r, 44.0, 50.0, 0.5),
            "end_temp_c": stepped(r, 23.0, 27.0, 1.0),
        },
        work=lambda bench, n: bench(winding_rise, **n),
        result="winding_rise_k",
        within=1.0,
        slips=(
            Slip("Cold and hot ohms changed places.", change=_swapped),
            Slip(
                "Cold and hot ohms changed places, and the minus sign was left out.",
                change=_swapped,
                after=lambda swapped: -swapped,
            ),
            Slip("That is how hot it is, not how far above the room.", change=lambda n: n | {"end_temp_c": 0.0}),
            Slip(
                "You left out that the room warmed too: the rise is above the room at the end.",
                change=lambda n: n | {"end_temp_c": n["cold_temp_c"]},
            ),
            Slip(
                "You divided by the hot ohms; growth is measured against the cold ones.",
                change=lambda n: (
                    n
                    | {
                        "hot_winding_ohm": n["cold_winding_ohm"]
                        * (1 + (n["hot_winding_ohm"] - n["cold_winding_ohm"]) / n["hot_winding_ohm"])
                    }
                ),
            ),
        ),
        hints=(
            "By what share did the ohms grow?",
            "Copper grows as if it had begun at -234.5 degC: share times (234.5 + cold temperature).",
            "Take off what the room itself gained.",
        ),
        learned="The mean of the winding. Its hottest place is some ten kelvin warmer.",
        source="IEC61558-1",
    ),
    Exercise(
        key="into-a-short",
        title="What the fuse will see",
        lane="why",
        ask="{cable_m} of two-core cable, {cable_m2} each core, leads from a supply of {open_v} with {source_ohm} "
        "inside to the tool. The winding is warm and has a fifth more ohms than cold; the cable is at 20 degC, where a "
        "metre of 1 mm2 has 0.0172 ohm. How many amps flow into a dead short at the tool?",
        draw=lambda r: (
            _line(r) | {"cable_m": stepped(r, 1.0, 4.0, 0.5), "cable_m2": stepped(r, 0.5e-6, 1.5e-6, 0.25e-6)}
        ),
        work=_short,
        result="short_a",
        slips=(
            Slip("You left the cable out.", change=lambda n: n | {"cable_m": 0.0}),
            Slip("You left the winding cold.", change=lambda n: n | {"source_ohm": n["source_ohm"] / COPPER_WARM}),
            Slip("A cable goes there and back: twice its length.", change=lambda n: n | {"cable_m": n["cable_m"] / 2}),
        ),
        hints=(
            "Ohms of the cable: twice its length times 0.0172 ohm for a metre of 1 mm2, over its section.",
            "Add 1.2 times the ohms inside; then volts over ohms.",
        ),
        learned="A fuse that needs more than this to open protects nothing.",
    ),
    Exercise(
        key="ohms-for-watts",
        title="Which coil takes these watts",
        lane="why",
        ask="Which coil takes {wanted_w} from a supply of {open_v} with {source_ohm} inside? There are two; give the "
        "one that leaves the supply cooler.",
        draw=lambda r: _line(r) | {"wanted_w": stepped(r, 10.0, 18.0, 1.0)},
        work=lambda bench, n: bench(higher_resistance, **n),
        result="higher_ohm",
        slips=(Slip("That is volts squared over watts: no ohms inside.", change=lambda n: n | {"source_ohm": 0.0}),),
        hints=(
            "The coil's watts are U squared times R over (inside + R) squared.",
            "Multiply out: R squared + R (2 times inside - U squared over P) + inside squared = 0.",
            "Of both answers the higher one.",
        ),
        learned="The lower one takes the same watts at more amps, and the rest heats the supply.",
    ),
)
