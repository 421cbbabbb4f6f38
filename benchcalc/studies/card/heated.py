"""The card's rows with heat in the tool: parts and layers, first heat, full power, in time, soak, later."""

import numpy as np

from ...basics.band import Band
from ...basics.names import say
from ...chain.bench.link import METALS
from ...chain.workings import band_text
from ...heater import soak
from ...heater.power import resistor_rating
from .coil_rows import metal, winding
from .expected import band_at
from .first_heat import a_first_heat
from .record import CardRow, CardSection


def way_of(build):
    """The units of a sheet, as names.say takes them.  build: Build."""
    return {"units": build.units, "degrees": build.degrees}


def parts(build, workings):
    """What goes where: parts, layers, holes.

    build: Build. workings: Workings.
    Returns CardSection.
    """
    way, found = way_of(build), []
    size = lambda x_m: say("length_m", x_m, **way)  # noqa: E731
    for p in build.part:
        if p.from_m is None or p.to_m is None:
            continue
        bore = "" if not p.inner_m else f", bore {size(p.inner_m)}"
        round_ = "" if p.outer_m is None else f", diameter {size(p.outer_m)}{bore}"
        where = f"{size(p.from_m)} to {size(p.to_m)}{round_}"
        found.append(CardRow(f"parts.{p.id}", f"{p.id} ({p.material or 'material not told'})", words=where))
    for i, y in enumerate(build.layer):
        if y.thickness_m is not None:
            what = f"Layer {i + 1}: {y.material}, {y.between[0]} to {y.between[1]}"
            found.append(CardRow(f"parts.layer_{i + 1}", what, "stack_m", exact(y.thickness_m)))
    for b in build.heat_break:
        if b.hole_m is None or b.from_m is None:
            continue
        set_ = "staggered" if b.staggered else "in line"
        words = f"{b.rings} rings of {b.holes}, drill {size(b.hole_m)}, from {size(b.from_m)}, {set_}"
        found.append(CardRow(f"parts.holes_{b.id}", f"Holes in {b.on}", words=words))
    for i, j in enumerate(build.joint):
        if j.made is not None and j.between:
            found.append(CardRow(f"parts.joint_{i + 1}", f"{j.between[0]} and {j.between[1]}", words=j.made))
    said = "lengths from the tip's end" if found else "The sheet names no parts on an axis."
    return CardSection("7  Parts, layers, holes, joints", tuple(found), said)


def exact(value):
    """A Band of no width.  value: SI."""
    return Band(value, value, value)


def closed(build, workings):
    """After closing, the same again.

    build: Build. workings: Workings.
    Returns CardSection.
    """
    first = [r for r in winding(build, workings).rows if r.id == "winding.cold_ohm"]
    again = "Other by more than the meter's last digits: open it again."
    found = [
        CardRow("closed.cold_ohm", "Ohms at the ends of the tails, again", r.key, r.expected, "as before", True, again)
        for r in first
    ]
    return CardSection("8  After closing", (*found, *metal(build, "closed", again=True)))


def heat_up(build, workings):
    """The first heat at a third of the power.

    build: Build. workings: Workings.
    Returns CardSection.
    """
    way, found = way_of(build), a_first_heat(build, workings)
    title = "9  First heat, a third of the watts, outdoors"
    if found is None:
        return CardSection(title, (), "No coil is worked out on this sheet yet.")
    ohm = ""
    if not np.isnan(found.series_ohm):
        rated, makes = (f"{resistor_rating(found.series_w):.0f} W", say("load_w", found.series_w))
        ohm = (
            f"or your own supply through {say('series_ohm', found.series_ohm)}, rated {rated} or more: it makes {makes}"
        )
        ohm += " on the highest mains"
    rows = [
        CardRow("first.set_v", "At the tails, wait until it settles", "load_v", exact(found.set_v), ohm.strip(", ")),
        CardRow(
            "first.load_a",
            "then the amps",
            "load_a",
            found.load_a,
            outside="Stop. More: turns touch. Less: a joint. Cold ohms again.",
        ),
    ]
    if found.hot_over_cold is not None:
        rows += [
            CardRow(
                "first.hot_over_cold",
                "(volts / amps) over the cold ohms",
                "hot_factor",
                found.hot_over_cold,
                outside="Higher: another alloy, or a hotter wire than thought.",
            ),
            CardRow("first.wire_c", "the wire is then at", "wire_c", found.wire_c, ask=False),
        ]
    stop = "amps jump or creep, one turn is brighter than the rest, a crackle, more smoke than a binder's"
    rows.append(
        CardRow("first.stop", "Stop if", words=stop, ask=False, outside="Pull the plug, let it cool, section 8 again.")
    )
    below = f"{say('temp_c', 100.0, **way)}"
    return CardSection(title, tuple(rows), f"Cements and damp layers first: an hour below {below}.")


def at_the_tool(build, workings):
    """Full power, read at the tool.

    build: Build. workings: Workings.
    Returns CardSection.
    """
    more = "Both off by the same share: today's mains. Volts up and amps down: coil or joint."
    rows = [
        CardRow("full.load_v", "Volts at the tool", "load_v", band_at(workings, "coil.load_v"), outside=more),
        CardRow("full.load_a", "Amps", "load_a", band_at(workings, "coil.load_a")),
        CardRow(
            "full.coil_w", "Watts in the coil: volts × amps, less the tails", "coil_w", band_at(workings, "coil.coil_w")
        ),
        CardRow("full.cable_v", "Volts lost in the cable", "cable_drop_v", band_at(workings, "leads.cable_drop_v")),
        CardRow(
            "full.joint_c",
            "Joint of tails and cable, settled",
            "joint_c",
            band_at(workings, "leads.joint_c"),
            outside="Hotter: the joint heats itself. Make it again.",
        ),
    ]
    return CardSection("11  Full power, at the tool", tuple(r for r in rows if r.expected is not None))


def soaked(build, workings):
    """The soak: the primary of the unplugged supply after hours.

    build: Build. workings: Workings.
    Returns CardSection.
    """
    test, bench = build.soak, workings.bench
    if build.supply.kind != "transformer" or bench is None:
        return CardSection("13  Soak", (), "")
    room = 20.0 if test.cold_room_c is None else test.cold_room_c
    ohm = lambda rise_k: float(soak.hot_winding(test.cold_ohm, room, room + rise_k, METALS[test.metal]))  # noqa: E731
    rows = []
    if test.cold_ohm is None:
        gain = float(soak.hot_winding(1.0, room, bench.limit_c, METALS[test.metal])) - 1
        stop = f"Stop at {gain:.0%} more than cold: past {say('limit_c', bench.limit_c, **way_of(build))}."
        rows.append(CardRow("soak.cold_ohm", "Primary, unplugged, cold", "primary_ohm", words="write it", outside=stop))
        rows.append(CardRow("soak.hot_ohm", "the same after four hours at this load", "primary_ohm", words="write it"))
    else:
        rise = [bench.settled_k, bench.settled_low_k, bench.settled_high_k]
        band = Band(*(ohm(k) for k in rise)) if np.isfinite(rise).all() else None
        stop = f"Past {say('primary_ohm', ohm(bench.limit_c - room))}: stop, the winding is beyond its class."
        load = "" if test.load_a is None else f", {say('load_a', test.load_a)} flowing until then"
        what = f"Primary, unplugged, after hours{load}"
        rows.append(CardRow("soak.hot_ohm", what, "primary_ohm", band, "" if band else "not known yet", True, stop))
    return CardSection("13  Soak, at the pins of the unplugged plug", tuple(rows))


def later(build, workings):
    """Cold again, and when to look again.

    build: Build. workings: Workings.
    Returns CardSection.
    """
    rows = [
        CardRow("later.cold_ohm", r.what, r.key, r.expected, "as in 5, if nothing moved", True, r.outside)
        for r in closed(build, workings).rows
        if r.id == "closed.cold_ohm"
    ]
    rows = [CardRow(r.id, "Ohms at the ends of the tails, cold again", *_rest(r)) for r in rows]
    for link, v in workings.verdicts:
        if v.key in ("years", "wood_years") and np.isfinite(v.value):
            rows.append(CardRow(f"later.{link}", v.what[0].upper() + v.what[1:], words=say(v.key, v.value), ask=False))
    rows.append(
        CardRow(
            "later.look",
            "Look again after the first hour, after ten, then each year",
            words="screw tight, sleeve whole, cord unhurt, wood not brown, cold ohms the same",
            outside="Anything new: unplug, section 8.",
        )
    )
    return CardSection("14  Cold again, and later", tuple(rows))


def _rest(r):
    return r.key, r.expected, r.words, r.ask, "Higher: wire burnt thin or a joint oxidised. Lower: turns touch."


def over_words(build, verdict):
    """A verdict that is past its limit, in one line.

    build: Build, for its units. verdict: Verdict.
    """
    way = way_of(build)
    value = (
        say(verdict.key, verdict.value, **way) if verdict.band is None else band_text(verdict.band, verdict.key, **way)
    )
    return f"{verdict.named}: {value}, {verdict.sense} {say(verdict.key, verdict.limit, **way)}"
