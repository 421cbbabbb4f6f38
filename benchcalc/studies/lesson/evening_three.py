"""Evening three: which wire, how much of it, how many turns, and will it fit."""

from math import pi

from ...heater.coil import (
    anchor_wire,
    mean_diameter,
    number_of_turns,
    turn_gap,
    turn_length,
    turn_resistance,
    winding_length,
    wire_to_cut,
)
from ...heater.wire import length_for, linear_resistance, measured_linear, ribbon_area, round_area
from .drawing_numbers import stepped
from .exercise import Exercise, Slip
from .slips import PER_FOOT


def _piece(r):
    return {
        "measured_ohm": stepped(r, 6.0, 14.0, 0.1),
        "leads_ohm": stepped(r, 0.4, 1.2, 0.05),
        "measured_length_m": stepped(r, 0.4, 0.9, 0.01),
    }


def _round(bench, n):
    area = bench(round_area, diameter_m=n["diameter_m"])
    return bench(linear_resistance, resistivity_ohm_m=n["resistivity_ohm_m"], area_m2=area)


def _ribbon(bench, n):
    area = bench(ribbon_area, width_m=n["width_m"], thickness_m=n["thickness_m"])
    return bench(linear_resistance, resistivity_ohm_m=n["resistivity_ohm_m"], area_m2=area)


def _winding(r):
    return {
        "length_m": stepped(r, 0.5, 1.1, 0.05),
        "former_m": stepped(r, 0.006, 0.012, 0.001),
        "diameter_m": stepped(r, 0.0003, 0.0005, 0.00005),
        "pitch_m": stepped(r, 0.001, 0.0016, 0.0001),
    }


def _turns(bench, n):
    across = bench(mean_diameter, former_m=n["former_m"], diameter_m=n["diameter_m"])
    one = bench(turn_length, mean_diameter_m=across, pitch_m=n["pitch_m"])
    return bench(number_of_turns, length_m=n["length_m"], turn_m=one)


def _along(bench, n):
    return bench(winding_length, turns=_turns(bench, n), pitch_m=n["pitch_m"], diameter_m=n["diameter_m"])


def _cut(bench, n):
    across = bench(mean_diameter, former_m=n["former_m"], diameter_m=n["diameter_m"])
    anchors = bench(anchor_wire, anchor_turns=n["anchor_turns"], mean_diameter_m=across)
    return bench(wire_to_cut, length_m=n["length_m"], anchor_m=anchors, tail_m=n["tail_m"])


EXERCISES = (
    Exercise(
        key="measure-a-piece",
        title="Ohms for each metre, measured",
        lane="everyday",
        ask="Over {measured_length_m} of wire the meter shows {measured_ohm}. With its probes held together it shows "
        "{leads_ohm}. How many ohms has each metre?",
        draw=_piece,
        work=lambda bench, n: bench(measured_linear, **n),
        result="linear_ohm_per_m",
        slips=(
            Slip(
                "The meter's own leads are still in it: take them off first.", change=lambda n: n | {"leads_ohm": 0.0}
            ),
            Slip(
                "You added the leads; they are in the reading already.",
                change=lambda n: n | {"leads_ohm": -n["leads_ohm"]},
            ),
            Slip("Those are the ohms of the piece, not of a metre.", change=lambda n: n | {"measured_length_m": 1.0}),
        ),
        hints=("Take the leads off the reading.", "Divide by the length in metres."),
        learned="A measured piece beats every table, and names no alloy wrongly.",
    ),
    Exercise(
        key="ohms-of-a-gauge",
        title="Ohms for each metre, from a table",
        lane="everyday",
        ask="Wire of an alloy with {resistivity_ohm_m} is {diameter_m} thick. How many ohms has each metre?",
        draw=lambda r: {
            "resistivity_ohm_m": stepped(r, 1.08e-6, 1.45e-6, 0.01e-6),
            "diameter_m": stepped(r, 0.0002, 0.0006, 0.00002),
        },
        work=_round,
        result="linear_ohm_per_m",
        slips=(
            Slip("You took the diameter for the radius.", change=lambda n: n | {"diameter_m": 2 * n["diameter_m"]}),
            Slip(
                "Half of the diameter went in as the diameter.",
                change=lambda n: n | {"diameter_m": n["diameter_m"] / 2},
            ),
            Slip(
                "Diameter squared is a square, not a circle: it wants 3.14/4 as well.",
                after=lambda right: right * pi / 4,
            ),
        ),
        hints=(
            "The section of a circle: 3.14/4 times diameter squared, in mm2.",
            "uohm m over mm2 gives ohm for each metre, digit for digit.",
        ),
        learned="Half the diameter is four times the ohms.",
    ),
    Exercise(
        key="ohms-of-a-ribbon",
        title="A ribbon is no round wire",
        lane="everyday",
        ask="A ribbon from an old appliance is {width_m} wide and {thickness_m} thick; its alloy has "
        "{resistivity_ohm_m}. How many ohms has each metre?",
        draw=lambda r: {
            "resistivity_ohm_m": stepped(r, 1.08e-6, 1.45e-6, 0.01e-6),
            "width_m": stepped(r, 0.0010, 0.0050, 0.0005),
            "thickness_m": stepped(r, 0.0001, 0.0003, 0.00005),
        },
        work=_ribbon,
        result="linear_ohm_per_m",
        slips=(
            Slip(
                "You took its width for the diameter of a round wire.",
                change=lambda n: n | {"thickness_m": pi / 4 * n["width_m"]},
            ),
        ),
        hints=("Its section is width times thickness.", "uohm m over mm2 gives ohm for each metre."),
        learned="A published figure for such a ribbon was printed for each foot where it belonged to each metre: "
        "three times too little. Work it out, or measure.",
    ),
    Exercise(
        key="cut-for-ohms",
        title="How much wire",
        lane="everyday",
        ask="The coil must have {hot_ohm} when hot. The wire has {linear_ohm_per_m} cold, and {hot_factor} times "
        "that when hot. How long?",
        draw=lambda r: {
            "hot_ohm": stepped(r, 4.0, 12.0, 0.2),
            "linear_ohm_per_m": stepped(r, 8.0, 20.0, 0.5),
            "hot_factor": stepped(r, 1.04, 1.12, 0.01),
        },
        work=lambda bench, n: bench(length_for, **n),
        result="length_m",
        share=0.01,
        slips=(
            Slip("Those are cold ohms taken for hot ones.", change=lambda n: n | {"hot_factor": 1.0}),
            Slip(
                "You multiplied where hot wire needs less length: divide by the factor.",
                change=lambda n: n | {"hot_factor": 1 / n["hot_factor"]},
            ),
            PER_FOOT,
        ),
        hints=("How many ohms has a metre when hot?", "Ohms wanted over ohms for each hot metre."),
        learned="Cut long, wind, measure cold, then shorten.",
    ),
    Exercise(
        key="turns-on-a-former",
        title="How many turns",
        lane="everyday",
        ask="{length_m} of wire, {diameter_m} thick, go on a former of {former_m}, one turn every {pitch_m}. How "
        "many turns?",
        draw=_winding,
        work=_turns,
        result="turns",
        slips=(
            Slip("The former's radius went in as its diameter.", change=lambda n: n | {"former_m": n["former_m"] / 2}),
            Slip("The former's diameter went in as its radius.", change=lambda n: n | {"former_m": 2 * n["former_m"]}),
        ),
        hints=(
            "One turn is about 3.14 times (former + wire).",
            "Length of wire over length of a turn; the slope adds little.",
        ),
        learned="The middle of the wire counts: former plus one wire thickness.",
    ),
    Exercise(
        key="room-along-the-former",
        title="Will it fit",
        lane="everyday",
        ask="{length_m} of wire, {diameter_m} thick, on a former of {former_m}, one turn every {pitch_m}: how long "
        "is the winding?",
        draw=_winding,
        work=_along,
        result="winding_m",
        slips=(
            Slip(
                "That is close wound, turn against turn; yours has gaps, and needs them.",
                change=lambda n: n | {"pitch_m": n["diameter_m"]},
            ),
        ),
        hints=("First the turns.", "Turns times pitch, and one wire thickness more."),
        learned="If it does not fit: thinner wire, a thicker former or a second layer, never touching turns.",
    ),
    Exercise(
        key="air-between-turns",
        title="Air between the turns",
        lane="everyday",
        ask="Wire of {diameter_m} is wound one turn every {pitch_m}. How wide is the gap?",
        draw=lambda r: {
            "diameter_m": stepped(r, 0.0003, 0.0006, 0.00002),
            "pitch_m": stepped(r, 0.0009, 0.0018, 0.00002),
        },
        work=lambda bench, n: bench(turn_gap, **n),
        result="gap_m",
        slips=(
            Slip(
                "Pitch is counted from middle to middle: take off one whole wire, not two.",
                change=lambda n: n | {"diameter_m": 2 * n["diameter_m"]},
            ),
            Slip("That is half a wire taken off.", change=lambda n: n | {"diameter_m": n["diameter_m"] / 2}),
        ),
        hints=("Pitch, less one wire.",),
        learned="Two turns that touch are one turn less: the ohms fall, the watts rise.",
    ),
    Exercise(
        key="wire-to-cut",
        title="What to cut from the reel",
        lane="everyday",
        ask="{length_m} must heat. On a former of {former_m} the ends are held by {anchor_turns} touching turns "
        "each; the wire is {diameter_m} thick, and each tail is {tail_m}. How much do you cut?",
        draw=lambda r: {
            "length_m": stepped(r, 0.5, 1.1, 0.05),
            "former_m": stepped(r, 0.006, 0.012, 0.001),
            "anchor_turns": stepped(r, 1.0, 3.0, 1.0),
            "diameter_m": stepped(r, 0.0003, 0.0005, 0.00005),
            "tail_m": stepped(r, 0.06, 0.15, 0.01),
        },
        work=_cut,
        result="cut_m",
        slips=(
            Slip("One tail only: a coil has two ends.", change=lambda n: n | {"tail_m": n["tail_m"] / 2}),
            Slip("The tails are not in it yet.", change=lambda n: n | {"tail_m": 0.0}),
        ),
        share=0.015,
        hints=("Both tails, both anchors, and what heats.", "An anchor turn is 3.14 times (former + wire)."),
        learned="Anchors touch, so they hardly heat: they are wire that you pay for and do not use.",
    ),
    Exercise(
        key="one-turn-touches",
        title="Can the meter see it",
        lane="why",
        ask="A coil of {cold_ohm} has {turns} turns. By how many ohms does it fall if two turns touch?",
        draw=lambda r: {"cold_ohm": stepped(r, 4.0, 12.0, 0.1), "turns": stepped(r, 20.0, 45.0, 1.0)},
        work=lambda bench, n: bench(turn_resistance, **n),
        result="one_turn_ohm",
        slips=(Slip("Two turns that touch take out one turn, not two.", after=lambda right: 2 * right),),
        hints=("Each turn has its share of the ohms.",),
        learned="A meter that shows tenths of an ohm may miss it: look, do not only measure.",
    ),
)
