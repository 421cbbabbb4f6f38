"""Small tables of the control page on turning down: half power by every way, parts and failures, the box."""

import numpy as np

from ...basics.names import say
from ...chain.bench.link import rise_of
from ...chain.control.link import line_of
from ...heater.power import phase_share, relay_life
from ...heater.soak import class_limit, rise_at_load
from ...heater.supply import SHUTS_OFF
from ...heater.ways_down import BRICK_V, brick_steps, full_watts, trips, way_down, ways_down
from ...sheet.build_control import SWITCHES, switch_of
from ...sheet.defaults import default
from ...studies.turned_down import at_watts, pulse_rise, supply_box, winding_in_box, window_of, wire_in_pulse
from ..page.lent import tells_lent
from ..page.table import table, unbroken
from ..page.words import Words

FIRED_DEG = (0, 30, 60, 90, 120, 150)


@tells_lent
def half_power(build, found, share=0.5):
    """Every way down side by side, on the sheet's own supply, and what the tool then does.

    build: Build. found: its HeldTool, for the swing of the winding where power is switched. share: wanted, of the
    full watts.
    Returns Table.
    """
    parts, done = found.parts, {}
    supply, wire, coil, heat = parts
    line = line_of(supply, wire, coil)
    full_w, full_a = full_watts(line)
    why = trips(line)
    rows = [
        ("full power", why, *["–"] * 8)
        if why
        else _half_row(build, parts, ("full power", "nothing in the way", full_w, full_w, full_a, 0.0), done)
    ]
    for w in ways_down(line, share):
        if w.why_not:
            rows.append((w.key, w.why_not, *["–"] * 8))
        else:
            told = w.key, w.setting, w.coil_w, w.on_w, w.equal_a, pulse_rise(build, found, w)
            rows.append(_half_row(build, parts, told, done))
    head = (
        "way",
        "set to",
        "watts",
        "amperes",
        "tip",
        "wire, in a pulse",
        "tube at the handle",
        "handle outside",
        "ready",
        "supply's winding",
    )
    word = "what is melted" if np.isfinite(heat.work_c) else "tip"
    whose = f"the invented demo {build.name}; " if build.invented and not build.lent else ""
    caption = f"{whose}wanted: {share:.0%} of {say('coil_w', full_w)}"
    windows = ", ".join(f"{k} {say('window_s', window_of(build, k))}" for k in SWITCHES)
    caption += f"; pulses in windows of {windows}"
    if found.control is None or found.control.standing is None:
        caption += ", their peaks not worked out where nothing is held: the wire is hotter than told"
    if supply.kind in SHUTS_OFF and supply.limit_a is None:
        caption += "; no limit on the sheet: whether this supply starts on the cold wire at all is not known"
    return table((*head[:4], word, *head[5:]), [unbroken(r) for r in rows], caption)


@tells_lent
def currents(build, found, share=0.5):
    """What flows in the supply's winding on each way to half power, and what is lost outside the coil.

    build: Build. found: its HeldTool. share: wanted, of the full watts.
    Returns Table; ways that do not serve on this supply are left out, their reason stands above.
    """
    rows = [
        (
            w.key,
            say("load_a", w.equal_a),
            say("load_a", w.peak_a),
            say("load_a", w.direct_a) if w.direct_a > 0 else "none",
            say("load_w", w.elsewhere_w) if w.elsewhere_w > 0 else "none",
            say("load_w", w.source_w),
        )
        for w in ways_down(line_of(*found.parts[:3]), share)
        if not w.why_not
    ]
    head = (
        "way",
        "amperes, r.m.s.",
        "peak",
        "direct part",
        "lost in resistor or switch",
        "lost in the winding's copper",
    )
    return table(head, rows)


@tells_lent
def serving(build, parts, key, show):
    """What show() gives where a way down serves this supply, else why it does not.

    build: Build. parts: (supply, wire, coil, heat). key: of data/ways_down.csv. show: function without arguments.
    """
    way = way_down(line_of(*parts[:3]), key, 0.5)
    return Words(f"*Not on this supply: {way.why_not}*") if way.why_not else show()


def _half_row(build, parts, told, done):
    name, setting, watts, on_w, amps, swing_k = told
    way, key = {"degrees": build.degrees}, round(watts, 6)
    if key not in done:
        done[key] = at_watts(build, parts, watts)
    end, minutes = done[key]
    place = end.work_c if np.isfinite(end.work_c) else end.tip_c
    pulse = wire_in_pulse(build, parts, end, swing_k, on_w)
    return (
        name,
        setting,
        say("coil_w", watts),
        say("load_a", amps),
        say("temp_c", place, **way),
        say("temp_c", pulse, **way),
        *(say("temp_c", t, **way) if np.isfinite(t) else "–" for t in (end.entry_c, end.grip_c)),
        f"{minutes:.0f} min",
        winding_words(build, amps, biased=name == "diode"),
    )


def winding_words(build, amps, biased=False):
    """How warm the supply's winding gets at a current, from the sheet's soak test.

    build: Build. amps: effective current, A. biased: True where a direct part heats the core besides.
    Returns text.
    """
    rise, room = rise_of(build)
    test_a = build.soak.load_a
    if test_a is None or not np.isfinite(rise):
        return "not known: no soak test"
    share = default("soak.iron_share")
    low, high = sorted(float(rise_at_load(rise, test_a, amps, share[k])) + room for k in ("low", "high"))
    way = {"degrees": build.degrees}
    more = ", and more: its core is biased" if biased else ""
    low, high = (say("winding_c", t, **way) for t in (low, high))
    return (low if low == high else f"{low} to {high}") + more


@tells_lent
def parts_and_failures(build, found, share=0.5):
    """What each way that serves on the sheet's own supply needs, and how it fails.

    build: Build. found: its HeldTool. share: wanted, of the full watts.
    Returns Table; the ways that do not serve stand above it in one line, each with its reason.
    """
    ways = ways_down(line_of(*found.parts[:3]), share)
    rows = [(w.key, w.parts, w.to_the_supply, w.fails) for w in ways if not w.why_not]
    left_out = "; ".join(f"{w.key} ({w.why_not.rstrip('.')})" for w in ways if w.why_not)
    caption = f"Not on this supply: {left_out}." if left_out else ""
    return table(("way", "parts", "what it does to the supply", "how it fails"), rows, caption)


@tells_lent
def brick(build, parts):
    """This coil on a supply with fixed steps.

    build: Build. parts: (supply, wire, coil, heat).
    Returns Table.
    """
    supply, wire, coil, _ = parts
    full_w, _ = full_watts(line_of(supply, wire, coil))
    rows = [
        (say("load_v", s.step_v), say("coil_w", s.coil_w), f"{s.coil_w / full_w:.0%}", say("load_a", s.load_a))
        for s in brick_steps(line_of(supply, wire, coil), BRICK_V)
    ]
    return table(("step", "watts", "of today's full", "amperes, against its label"), rows)


def firing():
    """Watts left by the firing angle.  Returns Table."""
    rows = [(f"{a} of 180", f"{phase_share(np.radians(a)):.1%}") for a in FIRED_DEG]
    return table(("let through from, degrees", "watts left"), rows)


@tells_lent
def contacts(build, windows_s=(1.0, 2.0, 5.0, 10.0, 30.0, 60.0)):
    """How long a relay's contacts last, by the window.

    build: Build. windows_s: s.
    Returns Table.
    """
    moves = default("control.relay_moves")["value"]
    yearly = build.use.hours_per_year
    rows = []
    for w in windows_s:
        hours = relay_life(moves, w) / 3600
        rows.append((say("window_s", w), f"{hours:.0f} h", f"{hours / yearly:.1f} years" if yearly else "–"))
    return table(
        ("window", "contacts last", "at your hours a year"), rows, f"{moves:.0f} moves, a usual electrical life"
    )


@tells_lent
def box_rows(build, found):
    """Transformer and switch in a box: its air, and the winding against its class.

    build: Build with a controller. found: its HeldTool; where nothing is held the switch is on all the time.
    Returns Table of one row closed and one with vents.
    """
    box, way = supply_box(build, found), {"degrees": build.degrees}
    limit, _ = class_limit(int(build.soak.winding_class or 105))
    rows = []
    for word, vented in (("closed", False), ("a row of holes below, one above", True)):
        air_k = box.air_rise(build, vented)
        hot = winding_in_box(build, box, air_k)
        winding = "not known: no soak test"
        if np.isfinite(hot):
            winding = f"{say('winding_c', hot, **way)} of {say('limit_c', limit, **way)} allowed"
        rows.append((word, say("load_w", box.loss_w), say("rise_k", air_k, figures=2, **way), winding))
    idle = box.idle
    side = say("length_m", float(np.sqrt(box.area_m2 / 6)), units=build.units)
    caption = (
        f"a box of {box.area_m2 * 1e4:.0f} cm2 outside, such as a cube of {side}; each row of holes "
        f"{box.vent_m2 * 1e4:.0f} cm2, {say('length_m', box.height_m, units=build.units)} apart; "
        f"{say('load_w', box.copper_w)} of it in the copper, {say('load_w', box.iron_w)} of its own loss, taken as "
        f"{idle['value']:.0%} ({idle['low']:.0%} to {idle['high']:.0%}) of its full watts, "
        f"{say('load_w', box.switch_w)} of the switch ({switch_of(build)}); the "
        "controller's own watts come on top: its label tells them"
    )
    return table(("box", "heat made inside", "its air over the room", "winding"), rows, caption)
