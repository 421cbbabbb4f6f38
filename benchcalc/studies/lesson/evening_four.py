"""Evening four: metals that carry heat, insulation that lasts, joints that lose."""

from ...heater.protection import cable_resistance
from ...materials.ageing import life_by_halving
from ...materials.metals import metal_at
from ...thermal.surfaces.by_hand import joint_drop, plug_contact, rod_section, stem_drop, tube_mass
from ...thermal.surfaces.fins import critical_radius, tube_section
from ...thermal.tool.stack import layer_drop
from .drawing_numbers import stepped
from .exercise import Exercise, Slip

STEMS = ("copper", "brass", "mild steel", "aluminium")
WARM_C = 200.0  # where the exercises take a metal's conductivity
INDEX_LIFE_S = 20_000 * 3600.0  # life at a temperature index, IEC 60216


def _conductivity(r):
    """A metal's conductivity at work, to three figures, as a page shows it."""
    return float(f"{metal_at(r.choice(STEMS), 'conductivity_w_mk', WARM_C).value:.3g}")


def _stem(r):
    return {
        "through_w": stepped(r, 4.0, 15.0, 0.5),
        "part_length_m": stepped(r, 0.03, 0.09, 0.005),
        "conductivity_w_mk": _conductivity(r),
        "outer_m": stepped(r, 0.004, 0.010, 0.0005),
    }


def _along(bench, n, section):
    return bench(
        stem_drop,
        through_w=n["through_w"],
        part_length_m=n["part_length_m"],
        conductivity_w_mk=n["conductivity_w_mk"],
        section_m2=section,
    )


def _in_tube(bench, n):
    return _along(bench, n, bench(tube_section, outer_m=n["outer_m"], inner_m=n["inner_m"]))


def _tube(r):
    outer_m = stepped(r, 0.008, 0.012, 0.0005)
    less = {"through_w": stepped(r, 2.0, 5.0, 0.1), "part_length_m": stepped(r, 0.03, 0.06, 0.002)}
    return _stem(r) | less | {"outer_m": outer_m, "inner_m": float(f"{outer_m - 0.0001 * r.randint(16, 30):.6g}")}


def _plug(bench, n):
    contact = bench(plug_contact, fit_m=n["fit_m"], part_length_m=n["part_length_m"])
    return bench(joint_drop, through_w=n["through_w"], contact_w_m2k=n["contact_w_m2k"], contact_m2=contact)


def _mass(bench, n):
    section = bench(rod_section, outer_m=n["outer_m"])
    return bench(tube_mass, section_m2=section, part_length_m=n["part_length_m"], density_kg_m3=n["density_kg_m3"])


RADIUS = Slip(
    "The diameter went in as a radius: a circle is 3.14/4 times its diameter squared.",
    change=lambda n: n | {"outer_m": 2 * n["outer_m"]},
)

EXERCISES = (
    Exercise(
        key="kelvins-along-a-stem",
        title="Kelvins along a stem",
        lane="everyday",
        ask="{through_w} pass along a round stem, {part_length_m} long and {outer_m} thick, of a metal with "
        "{conductivity_w_mk}. How many kelvins does it lose on the way?",
        draw=_stem,
        work=lambda bench, n: _along(bench, n, bench(rod_section, outer_m=n["outer_m"])),
        result="drop_k",
        slips=(
            RADIUS,
            Slip("A length in millimetres met a section in square metres.", after=lambda right: right * 1000.0),
        ),
        hints=(
            "The section in square metres: 3.14/4 times diameter squared, with the diameter in metres.",
            "Watts times metres, over conductivity times section.",
        ),
        learned="Twice as thick is a quarter of the drop; a better metal helps only as its conductivity does.",
    ),
    Exercise(
        key="kelvins-along-a-tube",
        title="Kelvins along a tube",
        lane="everyday",
        ask="{through_w} pass along {part_length_m} of tube, {outer_m} outside and {inner_m} inside, of a metal with "
        "{conductivity_w_mk}. How many kelvins does it lose?",
        draw=_tube,
        work=_in_tube,
        result="drop_k",
        slips=(
            Slip("That is a full rod: the bore is empty.", change=lambda n: n | {"inner_m": 0.0}),
            Slip(
                "Take the squares first, then their difference, not the square of the difference.",
                change=lambda n: n | {"outer_m": n["outer_m"] - n["inner_m"], "inner_m": 0.0},
            ),
        ),
        hints=(
            "Metal of a tube: 3.14/4 times (outside squared less inside squared).",
            "Then watts times metres, over conductivity times section.",
        ),
        learned="A thin wall is what keeps a handle cool: little metal, many kelvins.",
    ),
    Exercise(
        key="kelvins-across-a-joint",
        title="Kelvins across a joint",
        lane="everyday",
        ask="{through_w} go from a plug of {fit_m} into its bore; {part_length_m} of it sit in there, and each "
        "square metre passes {contact_w_m2k}. How many kelvins are lost at the joint?",
        draw=lambda r: {
            "through_w": stepped(r, 4.0, 20.0, 1.0),
            "fit_m": stepped(r, 0.004, 0.010, 0.0005),
            "part_length_m": stepped(r, 0.006, 0.020, 0.001),
            "contact_w_m2k": stepped(r, 800.0, 4000.0, 100.0),
        },
        work=_plug,
        result="drop_k",
        slips=(
            Slip(
                "That is the plug's end face; what touches is its side.",
                change=lambda n: n | {"part_length_m": n["fit_m"] / 4},
            ),
            Slip("Half the diameter went in as the diameter.", change=lambda n: n | {"fit_m": n["fit_m"] / 2}),
        ),
        hints=(
            "What touches: 3.14 times diameter times length, in square metres.",
            "Watts over (each square metre's share times area).",
        ),
        learned="A joint is worth as much as centimetres of metal: press, solder or screw it tight.",
    ),
    Exercise(
        key="mass-of-a-tip",
        title="What the tip weighs",
        lane="everyday",
        ask="A round tip, {outer_m} thick and {part_length_m} long, is of a metal with {density_kg_m3}. What is its "
        "mass?",
        draw=lambda r: {
            "outer_m": stepped(r, 0.005, 0.012, 0.0005),
            "part_length_m": stepped(r, 0.03, 0.08, 0.002),
            "density_kg_m3": stepped(r, 7800.0, 8900.0, 100.0),
        },
        work=_mass,
        result="mass_kg",
        slips=(RADIUS,),
        hints=("Section times length is its volume.", "Volume times density."),
        learned="Mass is waiting time: every gram must be heated before the tip is ready.",
    ),
    Exercise(
        key="life-of-insulation",
        title="How long a varnish lasts",
        lane="why",
        ask="A varnish has the index {index_c}: there it lasts 20 000 h. Its life halves every {halving_k}. How long "
        "does it last at {temp_c}?",
        draw=lambda r: {
            "index_c": stepped(r, 120.0, 200.0, 10.0),
            "halving_k": stepped(r, 8.0, 12.0, 0.5),
            "temp_c": stepped(r, 205.0, 240.0, 1.0),
        },
        work=lambda bench, n: bench(life_by_halving, **n, index_life_s=INDEX_LIFE_S),
        result="hot_life_s",
        share=0.05,
        slips=(
            Slip(
                "It halves again and again: not life over the number of steps, but a half of a half of a half.",
                change=lambda n: n | {"halving_k": n["halving_k"] * 2},
            ),
            Slip(
                "Hotter is shorter: you doubled where it halves.",
                change=lambda n: n | {"temp_c": 2 * n["index_c"] - n["temp_c"]},
            ),
        ),
        hints=("How many halving steps is it above its index?", "20 000 h times one half to that power."),
        learned="Ten kelvin hotter, half the years: a rule of organic stuff only. Mica and glass do not know it.",
        source="IEC60216-8",
    ),
    Exercise(
        key="kelvins-through-a-layer",
        title="Kelvins through a layer",
        lane="why",
        ask="Each metre of a tool sheds {flow_w_m} through a round layer that is {layer_m} thick and {inner_m} wide "
        "inside; it conducts {layer_w_mk}. How many kelvins does it cost?",
        draw=lambda r: {
            "flow_w_m": stepped(r, 300.0, 900.0, 20.0),
            "inner_m": stepped(r, 0.005, 0.012, 0.0005),
            "layer_m": stepped(r, 0.0002, 0.0012, 0.0001),
            "layer_w_mk": stepped(r, 0.15, 0.6, 0.05),
        },
        work=lambda bench, n: bench(layer_drop, **n),
        result="drop_k",
        slips=(
            Slip(
                "The layer stands on both sides: the outside is wider by two thicknesses.",
                change=lambda n: n | {"layer_m": n["layer_m"] / 2},
            ),
        ),
        share=0.02,
        hints=(
            "Outside over inside, its natural logarithm.",
            "Watts a metre times that, over (2 times 3.14 times conductivity).",
        ),
        learned="Thin layers cost little; slack air between them costs more than the mica.",
    ),
    Exercise(
        key="wrap-that-cools",
        title="A wrap that cools",
        lane="why",
        ask="A thin wire is wrapped in stuff that conducts {conductivity_w_mk}; its outside sheds {loss_w_m2k}. Up "
        "to which radius does more wrap make the wire cooler?",
        draw=lambda r: {"conductivity_w_mk": stepped(r, 0.04, 0.3, 0.01), "loss_w_m2k": stepped(r, 8.0, 30.0, 1.0)},
        work=lambda bench, n: bench(critical_radius, **n),
        result="critical_m",
        slips=(
            Slip("Turned upside down: conductivity over loss.", after=lambda right: 1 / right),
            Slip("A radius was asked for, not a diameter.", after=lambda right: 2 * right),
        ),
        hints=("Conductivity over loss.",),
        learned="More surface beats more thickness while it is thin. Every wire of ours is thinner than that.",
        source="INCROPERA-8",
    ),
    Exercise(
        key="ohms-of-a-cord",
        title="The cord has ohms too",
        lane="everyday",
        ask="{cable_m} of two-core copper cord, {cable_m2} each core (0.0172 ohm for a metre of 1 mm2): how many "
        "ohms, there and back?",
        draw=lambda r: {"cable_m": stepped(r, 1.0, 5.0, 0.1), "cable_m2": stepped(r, 0.5e-6, 2.5e-6, 0.25e-6)},
        work=lambda bench, n: bench(cable_resistance, **n),
        result="cable_ohm",
        slips=(Slip("There and back: twice the length.", after=lambda right: right / 2),),
        hints=("Twice the length times 0.0172, over the section in mm2.",),
        learned="At low volts every hundredth of an ohm counts: the amps are large.",
        source="IEC60028",
    ),
)
