"""Evening five: how hot, when, and what the handle feels."""

from math import pi

from ...materials.wood import across_grain, density_by_scale
from ...thermal.surfaces.by_hand import heat_up_time
from ...thermal.surfaces.fins import far_end_rise, reach_of, tube_section
from ...thermal.warmup.formulas import fitted_capacity, one_constant_end, thermal_resistance, time_constant
from .drawing_numbers import stepped
from .exercise import Exercise, Slip
from .slips import KELVIN_INSIDE


def _reach(bench, n):
    section = bench(tube_section, outer_m=n["outer_m"], inner_m=n["inner_m"])
    return bench(
        reach_of,
        conductivity_w_mk=n["conductivity_w_mk"],
        section_m2=section,
        loss_w_m2k=n["loss_w_m2k"],
        edge_m=pi * n["outer_m"],
    )


def _tube(r):
    outer_m = stepped(r, 0.006, 0.012, 0.0005)
    return {
        "conductivity_w_mk": stepped(r, 15.0, 55.0, 1.0),
        "outer_m": outer_m,
        "inner_m": float(f"{outer_m - 0.0001 * r.randint(8, 24):.6g}"),
        "loss_w_m2k": stepped(r, 10.0, 30.0, 1.0),
    }


def _two_rises(r):
    first_k = stepped(r, 90.0, 160.0, 1.0)
    return {"first_rise_k": first_k, "second_rise_k": float(round(first_k * (1.3 + 0.01 * r.randint(0, 40))))}


def _handle(r):
    """A handle of a wood that exists: its density first, then what it weighs, to half a gram."""
    size = {
        "part_length_m": stepped(r, 0.09, 0.13, 0.005),
        "outer_m": stepped(r, 0.024, 0.034, 0.001),
        "inner_m": stepped(r, 0.008, 0.013, 0.001),
    }
    volume_m3 = pi * (size["outer_m"] ** 2 - size["inner_m"] ** 2) / 4 * size["part_length_m"]
    mass_kg = round(2000 * r.randint(450, 900) * volume_m3) / 2000
    return {"mass_kg": float(f"{mass_kg:.6g}")} | size


EXERCISES = (
    Exercise(
        key="least-time-to-warm",
        title="The least time it can take",
        lane="everyday",
        ask="A copper tip of {mass_kg} takes {specific_heat_j_kgk} for each kelvin. {coil_w} go into it and nothing "
        "is lost. How long until it is {rise_k} hotter?",
        draw=lambda r: {
            "mass_kg": stepped(r, 0.02, 0.08, 0.002),
            "specific_heat_j_kgk": stepped(r, 385.0, 410.0, 5.0),
            "rise_k": stepped(r, 200.0, 350.0, 10.0),
            "coil_w": stepped(r, 25.0, 60.0, 1.0),
        },
        work=lambda bench, n: bench(heat_up_time, **n),
        result="least_s",
        slips=(Slip("Grams for kilograms.", after=lambda right: right * 1000), KELVIN_INSIDE),
        hints=("Energy: kilograms times joules times kelvins.", "Seconds: joules over watts."),
        learned="A real tool takes longer: tube, winding and handle warm as well, and heat is lost on the way.",
    ),
    Exercise(
        key="kelvins-a-watt",
        title="Kelvins for each watt",
        lane="everyday",
        ask="{load_w} keep a tip {settled_rise_k} above the room, for as long as you like. How many kelvins is that "
        "for each watt?",
        draw=lambda r: {"settled_rise_k": stepped(r, 180.0, 380.0, 2.0), "load_w": stepped(r, 20.0, 60.0, 1.0)},
        work=lambda bench, n: bench(thermal_resistance, **n),
        result="resistance_k_per_w",
        slips=(Slip("Upside down: kelvins over watts.", after=lambda right: 1 / right),),
        hints=("Kelvins over watts.",),
        learned="It falls as the tool gets hotter, since radiation helps: half the watts keep more than half the rise.",
    ),
    Exercise(
        key="end-from-two-readings",
        title="Where will it end",
        lane="everyday",
        ask="After some minutes a tip is {first_rise_k} above the room; after twice that time, {second_rise_k}. If "
        "the curve is the simplest one, where does it end (above the room)?",
        draw=_two_rises,
        work=lambda bench, n: bench(one_constant_end, **n),
        result="settled_rise_k",
        share=0.02,
        slips=(
            Slip(
                "You let it rise on as fast as before; it slows down all the time.",
                change=lambda n: (
                    n | {"first_rise_k": 1.0, "second_rise_k": 2.0 - 1.0 / (2 * n["second_rise_k"] - n["first_rise_k"])}
                ),
            ),
        ),
        hints=("First rise squared.", "Over (twice the first rise less the second)."),
        learned="A slow part, a handle of wood, comes on top: the answer is a lower end.",
    ),
    Exercise(
        key="constant-of-a-curve",
        title="The time constant",
        lane="why",
        ask="A tip will end {settled_rise_k} above the room. After {step_s} it is {first_rise_k} above it. What is "
        "its time constant?",
        draw=lambda r: {
            "settled_rise_k": stepped(r, 250.0, 400.0, 5.0),
            "step_s": stepped(r, 90.0, 240.0, 10.0),
            "first_rise_k": stepped(r, 80.0, 180.0, 5.0),
        },
        work=lambda bench, n: bench(time_constant, **n),
        result="constant_s",
        slips=(
            Slip(
                "Logarithm of base ten: the curve wants the natural one.", after=lambda right: right * 2.302585092994046
            ),
        ),
        hints=("What share is still missing?", "Time over the natural logarithm of (end over what is missing)."),
        learned="After one constant 63 % of the way is done, after three 95 %.",
    ),
    Exercise(
        key="capacity-from-a-curve",
        title="What stores the heat",
        lane="why",
        ask="A log says {constant_s} for the time constant, and {resistance_k_per_w}. How many joules does the tool "
        "take for each kelvin?",
        draw=lambda r: {"constant_s": stepped(r, 150.0, 420.0, 10.0), "resistance_k_per_w": stepped(r, 5.0, 12.0, 0.1)},
        work=lambda bench, n: bench(fitted_capacity, **n),
        result="capacity_j_k",
        slips=(
            Slip(
                "You multiplied; the constant is already capacity times kelvins a watt, so divide.",
                change=lambda n: n | {"resistance_k_per_w": 1 / n["resistance_k_per_w"]},
            ),
        ),
        hints=("Constant = capacity times kelvins a watt.",),
        learned="Compare it with mass times specific heat: what is more than the tip is tube, winding and handle.",
    ),
    Exercise(
        key="how-far-heat-reaches",
        title="How far heat reaches",
        lane="why",
        ask="A tube, {outer_m} outside and {inner_m} inside, of a steel with {conductivity_w_mk}, sheds "
        "{loss_w_m2k}. Over which length does the rise above the room fall to 37 %?",
        draw=_tube,
        work=_reach,
        result="reach_m",
        slips=(
            Slip("That is a full rod.", change=lambda n: n | {"inner_m": 0.0}),
            Slip("The root is missing.", after=lambda right: right**2),
        ),
        hints=(
            "Metal: 3.14/4 times (outside squared less inside squared). Skin for each metre: 3.14 times outside.",
            "Root of (conductivity times metal over (loss times skin)).",
        ),
        learned="Heat does not reach far in a thin tube of stainless: that is why the handle can be held.",
        source="INCROPERA-8",
    ),
    Exercise(
        key="rise-at-the-handle",
        title="What arrives at the handle",
        lane="why",
        ask="A tube is {near_rise_k} above the room where it is hot, heat reaches {reach_m} along it, and it is "
        "{part_length_m} long. How far above the room is its other end, if that end loses nothing?",
        draw=lambda r: {
            "near_rise_k": stepped(r, 200.0, 380.0, 10.0),
            "part_length_m": stepped(r, 0.05, 0.12, 0.005),
            "reach_m": stepped(r, 0.02, 0.045, 0.001),
        },
        work=lambda bench, n: bench(far_end_rise, **n),
        result="far_rise_k",
        slips=(
            Slip(
                "A plain exponential is for an endless tube; here the end is closed, and it gets twice as warm.",
                after=lambda right: right / 2,
            ),
        ),
        hints=("How many reaches long is it?", "Rise over cosh of that number; cosh x is half of e^x + e^-x."),
        learned="Each reach more takes it down to about 37 %.",
        source="INCROPERA-8",
    ),
    Exercise(
        key="wood-on-the-scale",
        title="Which wood is it",
        lane="everyday",
        ask="A turned handle weighs {mass_kg}; it is {part_length_m} long, {outer_m} thick, with a bore of "
        "{inner_m}. What is its density? (grams for each cubic centimetre, or kg for each cubic metre)",
        draw=_handle,
        work=lambda bench, n: bench(density_by_scale, **n),
        result="density_kg_m3",
        slips=(
            Slip("The bore is empty: take it off.", change=lambda n: n | {"inner_m": 0.0}),
            Slip(
                "The diameters went in as radii.",
                change=lambda n: n | {"outer_m": 2 * n["outer_m"], "inner_m": 2 * n["inner_m"]},
            ),
        ),
        hints=("Volume: 3.14/4 times (outside squared less bore squared) times length.", "Mass over volume."),
        learned="Dense wood conducts better and stores more: the grip is later warm, and in the end a little warmer.",
    ),
    Exercise(
        key="conductivity-of-wood",
        title="Wood across the grain",
        lane="everyday",
        ask="Wood with a specific gravity of {specific_gravity} and {moisture} moisture (as a share of its dry "
        "mass): k = G (0.1941 + 0.4064 M) + 0.01864. What is k?",
        draw=lambda r: {"specific_gravity": stepped(r, 0.4, 0.75, 0.01), "moisture": stepped(r, 0.06, 0.14, 0.01)},
        work=lambda bench, n: bench(across_grain, **n),
        result="conductivity_w_mk",
        slips=(
            Slip("A moisture of 10 % is 0.1 in the formula.", change=lambda n: n | {"moisture": 100 * n["moisture"]}),
        ),
        hints=("Put both numbers in; moisture as a share of one.",),
        learned="A tenth of glass, a two-thousandth of copper: wood is what a handle is made of.",
        source="USDA-WOOD",
    ),
)
