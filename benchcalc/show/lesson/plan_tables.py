"""What the teacher's plan reckons out: the box to order, how wire and tube hang, what to chalk up, words to say."""

from ...basics.names import say
from ...chain.heat.melting_wire import alloy_melts_c
from ...heater.power import series_resistor, share_behind
from ...heater.protection import fuse_ohms
from ...studies.lesson.bank import EVENINGS
from ...studies.lesson.four_ways import ON_THE_TABLE, WAYS, Demonstration, four_ways, without_the_lamp
from ...studies.lesson.opening_word import opening_word
from ...studies.lesson.table_safety import (
    CLIP_KG,
    advised_fuse,
    before_the_fuse,
    bench_line_ohm,
    clip_sag,
    hanging,
    into_a_clip,
    lamp_watts,
    outlets,
    tube_ready,
)
from ..page.table import Table, table
from ..page.words import Words
from .line_drawings import hung_over_board, hung_tube

SPARE_VA = 1.5  # own judgement: a box shut in and run all evening is made for half as much again


def _mm(value_m, figures=2):
    return f"{float(f'{value_m * 1e3:.{figures}g}'):g} mm"


def order_box(set_up: Demonstration = ON_THE_TABLE) -> Table:
    """What the low side of the box must give, for whoever makes and tests it.  set_up: Demonstration."""
    stiff, lamp = outlets(set_up)
    two = {"figures": 2}
    rows = [
        (
            "plug and switch",
            "a kind that fits neither a wall nor the other outlet; one switch for both, in everybody's reach",
            "another kind again; its lamp's lead wired in for good",
        ),
        (
            "lead",
            "its own plug at the box; two insulated sockets of 4 mm at the bench's end, for the bench leads",
            "the same two sockets at the bench's end, behind the lamp. From A to B nothing changes but the bench "
            "leads' two plugs: out of one lead's sockets, into the other's, all off",
        ),
        (
            "volts",
            f"{say('load_v', stiff.load_v, **two)} with nothing connected, read at the end of its lead: never more "
            f"than {say('load_v', stiff.held_v.high)} there, and never less than {say('load_v', stiff.held_v.low)} "
            "with the most amps of the evening",
            f"{say('load_v', lamp.load_v, **two)} with nothing connected, within a tenth",
        ),
        (
            "amps that the evening draws",
            f"{say('load_a', stiff.least_a, **two)} to {say('load_a', stiff.load_a, **two)}",
            f"{say('load_a', lamp.least_a, **two)} to {say('load_a', lamp.load_a, **two)}",
        ),
        ("how stiff", _how_stiff(stiff), "does not matter, the lamp evens it out"),
        ("AC or DC", "direct, regulated", "direct too, so that no meter is turned; alternating does as well"),
        ("fuse in the lead", f"{say('fuse_a', stiff.fuse_a)} quick", f"{say('fuse_a', lamp.fuse_a)} quick"),
        (
            "first instant, all cold",
            say("load_a", stiff.cold_a, **two),
            f"{say('load_a', lamp.cold_a, **two)} where clips touch: it may blow its fuse, which does no harm",
        ),
        (
            "clips that touch",
            "its own limit of current, or its fuse",
            f"{say('load_a', lamp.shorted_a, **two)}, {say('load_w', lamp_watts(set_up)[1], **two)} in the lamp, no "
            "harm",
        ),
        ("heat", "the box vented, and nothing in it that glows", "the lamp outside, in its own holder, under a guard"),
        (
            "volt-amperes",
            f"{stiff.load_va:.0f} VA",
            f"{lamp.load_va:.0f} VA; the box for both, with half as much again: "
            f"{SPARE_VA * (stiff.load_va + lamp.load_va):.0f} VA",
        ),
    ]
    return table(("", "the outlet that holds its volts", "the lamp's outlet"), rows)


def _how_stiff(stiff):
    return (
        f"at most {say('source_ohm', stiff.source_ohm, figures=2)} behind it, its fuse, plug and lead counted, or "
        f"{say('source_ohm', stiff.widest_ohm, figures=2)} where it is set to "
        f"{say('load_v', stiff.held_v.high)}; a fuse "
        f"of that rating alone may have {say('source_ohm', fuse_ohms(stiff.fuse_a), figures=1)}. A regulated "
        "outlet does it, a small transformer's bare winding does not. Bench leads, ammeter and clips keep some "
        f"{say('source_ohm', bench_line_ohm(), figures=2)} more for themselves, which is allowed for"
    )


def lamp_forgotten(set_up: Demonstration = ON_THE_TABLE) -> Words:
    """What the lamp is for, what happens without it, and what the fuse can and cannot do.  set_up: Demonstration."""
    amps, watts, _ = without_the_lamp(set_up)
    fuses = {}, {"fuse_a": set_up.fuse_a}, {"kind": "time-lag"}
    (opens_s, hot_c), (larger_s, larger_c), (slow_s, slow_c) = (before_the_fuse(set_up, **fuse) for fuse in fuses)
    hot, larger, slow = (_heat(wire_c, set_up.alloy) for wire_c in (hot_c, larger_c, slow_c))
    outlet = say("load_v", set_up.lamp_supply_v, figures=2)
    with_wire_w, touching_w = (say("load_w", w, figures=2) for w in lamp_watts(set_up))
    return Words(
        f"> **Never the {outlet} outlet without its lamp.** The shortest piece would take "
        f"{say('load_a', amps, figures=2)} and {say('load_w', watts, figures=2)}. A quick fuse of "
        f"{set_up.lamp_fuse_a:g} A has opened after {opens_s:.2g} s at the latest; by then the wire may be "
        f"{hot} "
        f"and lights paper. With the {set_up.fuse_a:g} A of the other outlet it may take {larger_s:.1f} s, and the "
        "wire "
        f"be {larger} long before. So reckon thus: **a fuse saves the bench, not the wire**, and never the "
        "fingers.  \n"
        f"> *Quick or slow?* For a cold filament page 01 would advise {_kind(advised_fuse(set_up))}, because the first "
        "instant may open a quick one. Here quick ones stay in all the same: a slow one of that rating may take "
        f"{slow_s:.1f} s, and the wire be {slow} by then. The price is a fuse now and then; ten spares are in "
        "the kit.  \n"
        f"> *The lamp* is made for {say('load_v', set_up.lamp_v, figures=2)} and never gets more than the outlet's "
        f"{outlet}: it makes {with_wire_w} with the shortest piece and {touching_w} when clips touch, so nothing "
        "bursts "
        "and nobody need run. It sits **outside the box**, in a holder of its own, on a tile, under a wire guard, a "
        "hand from everything that burns; its glass lights paper. Only its lead goes into the box, for good. A dead "
        "lamp ends B."
    )


def _heat(wire_c, alloy):
    """How hot, in words: beyond what the metal stands a figure would say nothing."""
    return "past its melting point" if wire_c >= alloy_melts_c(alloy) else f"at {say('temp_c', wire_c, figures=2)}"


def _kind(characteristic):
    return {"time-lag": "a slow one (time-lag)", "quick-acting": "a quick one"}[characteristic]


def how_it_hangs(set_up: Demonstration = ON_THE_TABLE) -> Words:
    """How the wire hangs over its board, and why so.  set_up: Demonstration."""
    hottest = max((row for row in four_ways(set_up) if row.way != WAYS[2]), key=lambda row: row.wire_c.nominal)
    hung = hanging(hottest.length_m, hottest.wire_c.nominal, set_up)
    whole = set_up.posts_m + 0.3
    sags = [clip_sag(n * CLIP_KG, set_up.clip_m + min(set_up.lengths_m), set_up) for n in (1, 2)]
    into_w = into_a_clip(hottest.wire_c.nominal, set_up)
    spare = set_up.posts_m - set_up.clip_m - max(set_up.lengths_m)
    return Words(
        f"```\n{hung_over_board(set_up)}```\n\n"
        f"**One wire, and the clips move.** Nobody cuts anything tonight: beforehand you hang one wire of "
        f"{whole * 100:.0f} cm a bench, and a second one as spare. Its left end goes under a screw of the left post. "
        f"The first clip sits {_mm(set_up.clip_m)} from that post and stays; the second goes to a mark at "
        f"{', '.join(f'{1000 * x:.0f}' for x in set_up.lengths_m)} mm from it, measured between the inner edges of the "
        f"clips. Only the piece between the clips carries current: what touches wood is cold, for heat gets "
        f"{_mm(hung.reach_m, 1)} along such a wire before two thirds of it are gone, and {_mm(set_up.clip_m)} or "
        f"{_mm(spare)} lie between.  \n"
        f"**A weight keeps it straight.** The right end runs over a smooth nail and carries "
        f"{set_up.weight_kg * 1e3:.0f} g (a few nuts): {hung.stress_pa / 1e6:.0f} MPa, next to nothing for the "
        f"metal. The hot piece grows by {_mm(hung.grown_m)}; between ends that hold still it would sag by "
        f"{_mm(hung.loose_m)}, under the weight by less than {_mm(max(hung.taut_m, 1e-4), 1)}. Off before "
        "a clip moves, always.  \n"
        "**Clips do not hang on the wire.** A current clip and a meter clip sit at each end; "
        f"{CLIP_KG * 1e3:.0f} g at the "
        f"second mark would pull the wire down by {_mm(sags[0])}, twice that by {_mm(sags[1])}. So beside each "
        "pair, on "
        "the side away from the hot piece, stands a block of wood as high as the wire, with a notch: clips and "
        "leads lie "
        "in it, and the leads are taped to the board with slack. The block moves with its clips. It stays cold: "
        f"{say('load_w', into_w, figures=1)} go into a clip.  \n"
        "**The first heat is at home.** New wire smokes when it is first hot, and so does the tube: drawing "
        "oil, varnish. "
        "Burn each wire off beforehand, spares too, outdoors, on its own board, on the outlet that holds its "
        "volts: the "
        "clips at the shortest mark, two minutes, off, sixty seconds, along by as much, until all that will be hot has "
        "been. Then the tube, for as long as it takes to be ready. In the room no new metal gets hot."
    )


def tube_words(set_up: Demonstration = ON_THE_TABLE) -> Words:
    """How the tube is made, when it is read, and what is seen of it.  set_up: Demonstration."""
    open_air, row = (next(r for r in four_ways(set_up) if r.way == way) for way in (WAYS[0], WAYS[2]))
    hung, third = (hanging(x, row.wire_c.nominal, set_up) for x in (set_up.tube_m, set_up.supports_m))
    constant_s, ready_s = tube_ready(set_up)
    clear_m = (set_up.tube.inner_m - set_up.diameter_m) / 2
    skins = set_up.tube.outer_m / set_up.diameter_m
    return Words(
        f"```\n{hung_tube(set_up)}```\n\n"
        f"**The tube.** {_mm(set_up.tube_m)} long, {_mm(set_up.tube.inner_m)} inside, {_mm(set_up.tube.outer_m)} "
        "outside, burr taken off, threaded onto a wire of its own on your board. Two discs of mica with a pin-hole "
        f"centre it, {_mm(set_up.supports_m)} from either mouth, and the same weight pulls it straight. That matters: "
        f"between ends that hold still it would grow {_mm(hung.grown_m)}, sag {_mm(hung.loose_m)} and touch a wall "
        f"that is {_mm(clear_m)} away; pulled, or with no more than {_mm(set_up.supports_m)} between supports "
        f"({_mm(third.loose_m)} at the worst), it stays clear. One touch does nothing, two short the wire between "
        "them: before the evening read the ohms from tube to wire, cold, and look for none at all.  \n"
        f"**When.** Its time constant is about {constant_s / 60:.0f} min, so it is ready after {ready_s / 60:.0f}: "
        "switch it on when B begins, at your own bench, and somebody stays beside it.  \n"
        f"**What is seen, and what is told.** Volts and amps are those of A. A bead tied to the outside of the tube "
        f"reads some {say('tube_c', row.tube_c.nominal, figures=2)} ({say('tube_c', row.tube_c.low, figures=2)} to "
        f"{say('tube_c', row.tube_c.high, figures=2)}): the same {say('load_w', row.load_w, figures=2)} that keep the "
        f"open wire at about {say('wire_c', open_air.wire_c.nominal, figures=2)}, through a skin {skins:.0f} times as "
        "large. That the wire within is hotter than in the open is told, not seen: its room is now that warm tube, "
        "with "
        f"a coat of still air, and by the sums it runs at {say('wire_c', row.wire_c.nominal, figures=2)}. A bead on "
        "the "
        "thin wire itself would cool it and lie."
    )


def nearly_constant(set_up: Demonstration = ON_THE_TABLE) -> Words:
    """What to answer the pupil who sees that the lamp's amps are not constant.  set_up: Demonstration."""
    rows = [r for r in four_ways(set_up) if r.way == WAYS[1]]
    first, last = rows[0], rows[-1]
    longer = last.length_m / first.length_m
    return Words(
        f"*“But the amps are not the same!”* Right: from {say('load_a', first.load_a, figures=2)} to "
        f"{say('load_a', last.load_a, figures=2)}, {last.load_a / first.load_a - 1:+.0%} for {longer:g} times the "
        f"length. So the watts grow {last.load_w / first.load_w:.2f} times and not {longer:g} times, and each metre "
        f"makes {say('wire_w_m', last.wire_w_m, figures=2)} where it made "
        f"{say('wire_w_m', first.wire_w_m, figures=2)}: the longer wire is a shade cooler. With amps that were truly "
        f"constant each metre would make the same, the whole {longer:g} times as much, and both would be equally hot. "
        "A lamp is near to it, and costs little."
    )


def half_by_resistor(coil_ohm: float = 6.0, source_ohm: float = 0.8) -> Words:
    """Which resistor halves the watts of a coil, and what its own ohms would leave.

    coil_ohm, source_ohm: of an example, above 0.
    """
    half, both = series_resistor(source_ohm, coil_ohm, 0.5), coil_ohm + source_ohm
    halved, own = (share_behind(series_ohm, source_ohm, coil_ohm) for series_ohm in (half, coil_ohm))
    return Words(
        f"*The resistor.* A coil of {say('load_ohm', coil_ohm)} on a supply with {say('source_ohm', source_ohm)} "
        f"inside: {say('series_ohm', half)} in the line leave {halved:.0%} of its watts, {half / both:.2f} times coil "
        f"and supply together. A resistor of the coil's own ohms leaves {own:.0%}. *The diode* halves nothing on "
        "direct current, and behind one on alternating current a cheap meter's volts mean little: take the amps of a "
        "meter that says true RMS, or leave it out."
    )


def opening_words() -> Table:
    """The words that open the guesses, evening by evening."""
    rows = [(str(n), opening_word(n)) for n in range(1, len(EVENINGS) + 1)]
    return table(("evening", "word that opens its guesses"), rows)
