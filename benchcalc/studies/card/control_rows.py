"""The card's rows on control: the cut-out bought twice and fitted once, what to set, the sensor off, the gate before
full watts.  No physics here, only the calls."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.band import Band
from ...basics.names import say
from ...chain.control.cut_out import outside_of
from ...chain.control.guarded import still_passed
from ...chain.control.in_use import passed_in_use
from ...chain.control.link import set_point
from ...chain.control.opened import opened
from ...heater.ways_down import BRIDGE_V, way_rows
from ...sheet.build_control import switch_of
from ...thermal.control.law import ON_OFF
from ..full_watts import FIT_FIRST, FREE, GUARDED, IN_USE, UNGUARDED, FullWatts, full_watts_gate
from ..harmless_trial import harmless_trial
from ..harmless_watts import harmless_watts
from ..holding import HeldTool, holding
from ..settings import dialled, with_settings
from ..stopping import may_pass, noticing, own_doubt
from .heated import way_of
from .record import CardRow, CardSection

GATED = "11"  # the section that begins with the gate
NOT_READ = ("full.", "time.", "held.")  # rows that nobody reads before the gate is open
AT_FULL = ("wire", "heat", "metals", "insulation", "handle", "leads")  # links that judge the tool at full power
FEW = 3
NONE_KNOWN = "past no limit that is known; skin, paper and flux have limits too"
SWITCHED = {"burst": "whole cycles by a triac", "switched DC": "a transistor", "relay": "a relay"}


@dataclass(frozen=True, eq=False)
class OnCard:
    """A tool with a controller as its card tells it.  build: with the settings that page 08 shows. found: HeldTool.
    gate: FullWatts. over: words of what is past a limit at full power."""

    build: object
    found: HeldTool
    gate: FullWatts
    over: tuple = ()


def on_card(build, workings):
    """The held tool of a card, None without a controller or a tool to hold.

    build: Build. workings: Workings.
    """
    if build.control is None or workings.control is None or not np.isfinite(set_point(build)):
        return None
    settled = with_settings(dialled(build))
    found = holding(settled)
    over = [v.what for link, v in workings.verdicts if link in AT_FULL and v.state == "over" and not v.advice]
    return OnCard(settled, found, full_watts_gate(settled, found), tuple(over))


def cut_out_rows(build, held):
    """The cut-out of a controlled tool: mark and place, the sample, the one that is fitted.

    build: Build. held: OnCard or None.
    Returns list of CardRow.
    """
    if held is None:
        return []
    gate, way = held.gate, way_of(build)
    if gate.state == FREE and gate.own is None:
        return [CardRow("cut.none", "Thermal cut-out", words="stuck on, nothing known passes its limit", ask=False)]
    best = None if gate.advice is None else gate.advice.best
    cut = gate.own if gate.state == GUARDED or gate.own is not None and best is None else best
    if gate.state in (IN_USE, UNGUARDED) or cut is None:
        own = "" if gate.own is None else f"; the one on the sheet {gate.own.does}"
        said = f"none serves{own}: {gate.no_rating}"
        if gate.state == IN_USE:
            said = f"waits, since use itself passes the limit of {', '.join(passed_in_use(held.found.control))}"
        return [CardRow("cut.none", "Thermal cut-out (page 08)", words=said, ask=False)]
    on = outside_of(held.found.control.left.heat.model)
    where = f"{say('temp_c', cut.rating_c, **way)} at {say('length_m', cut.at_m, **way)} from the tip, on the {on}"
    to_type = "" if cut is gate.own else "Not on the sheet yet: type it on page 00, then a new card."
    if gate.own is not None and cut is not gate.own:
        to_type = f"The one on the sheet {gate.own.does}: type this one there, then a new card."
    use = f"at most {say('temp_c', cut.normal_c, **way)} there in use; " + (
        f"it holds {say('temp_c', cut.hold_c, **way)}"
        if cut.told
        else f"ask its maker's; by common practice, no source, {say('temp_c', cut.hold_c, **way)}"
    )
    use += "" if cut.holds else ": NOT kept, it may open in long use"
    opens = Band((cut.from_c + cut.rating_c) / 2, cut.from_c, cut.rating_c + cut.late_k)
    amps = say("load_a", held.found.control.left.coil.load_a)
    return [
        CardRow("cut.where", "Thermal cut-out: mark and place", words=where, ask=False, outside=to_type),
        CardRow("cut.holds", "Holding temperature, above use", words=use),
        CardRow(
            "cut.sample",
            "Buy two: one, warmed alone, opens at",
            "temp_c",
            opens,
            outside="Else: not as marked. Spent either way.",
        ),
        CardRow(
            "cut.fitted",
            f"The other, in series with the coil, for {amps} or more",
            words="crimped, sleeved, bound on",
            outside="Not fitted: no full power.",
        ),
    ]


def to_set(build, held):
    """What is set on the controller, where its sensor sits, and what happens with the sensor off.

    build: Build. held: OnCard or None.
    Returns CardSection, without rows where there is no controller.
    """
    title = "10  Control, before full power"
    if held is None:
        return CardSection(title, ())
    found, own, way = held.found, held.build, way_of(build)
    if found.refused:
        return CardSection(title, (CardRow("control.none", "Controller", words=found.refused, ask=False),))
    law, seat, sensor = found.law, found.control.standing.seat, own.sensor
    settings = f"{say('rise_k', law.band_k, **way)} between on and off"
    if law.kind != ON_OFF:
        band, integral = say("rise_k", 1 / law.gain_per_k, **way), say("constant_s", law.integral_s)
        settings = f"full power over {band}, integral {integral}, derivative 0"
    window = "" if law.kind == ON_OFF else f", window {say('window_s', law.window_s)}"
    place = f"{sensor.sort}, class {sensor.tolerance_class}, {say('length_m', seat.at_m, **way)} from the tip, on the "
    rows = [
        CardRow("control.law", f"Law: {law.kind}", words=settings, ask=False),
        CardRow("control.switch", "Switch, low-voltage side", words=f"{SWITCHED[switch_of(own)]}{window}", ask=False),
        CardRow("control.sensor", "Sensor", words=f"{place}{seat.on}: {sensor.fixed}", ask=False),
        *_sensor_off(held, way),
    ]
    return CardSection(title, tuple(rows))


def _off_words(held):
    """What full power comes to with the sensor off, in words: until the sheet's cut-out opens, or for ever."""
    found, gate, told = held.found, held.gate, []
    control, early = found.control, passed_in_use(found.control)
    own = gate.own if gate.own is not None and gate.own.in_time else None
    left = still_passed(control, own_doubt(held.build), own)
    may = dict.fromkeys(h.place for _, h in may_pass(held.build, found))
    if early:
        told.append(f"use itself passes the limit of {', '.join(early)}")
    if left is None:
        until, more = "for ever", tuple(place for place in may if place not in gate.passed)
        told += [gate.stuck] if gate.stuck else []
        told += [f"doubt counted, past its limit: {_few(more)}"] if more else []
    else:
        until = f"until the cut-out opens, after {_minutes(opened(control, own).run.run.at_s)} at the latest"
        spared = tuple(place for place in may if place not in left)
        told += [f"it spares, doubt counted: {_few(spared)}"] if spared else []
        told += [f"may be past its limit all the same: {', '.join(left)}"] if left else []
        told += [f"without it {gate.stuck}"] if gate.stuck else []
    if held.over and not early and not gate.stuck:
        without = "" if left is None else "without it "
        told.append(f"{without}past a limit at full power: {_few(held.over)}")
    if control.untold:
        told.append(f"not known: {_few(control.untold)}")
    return f"full power {until}: {'; '.join(told) or NONE_KNOWN}"


def _minutes(time_s):
    return f"{time_s:.0f} s" if time_s < 60 else f"{time_s / 60:.1f} min"


def _few(words):
    """The first few of many, in words.  words: texts, at least one."""
    more = len(words) - FEW
    return ", ".join(words[:FEW]) + (f" and {more} more" if more > 0 else "")


def _sensor_off(held, way):
    """What the sensor off does, the rule that would notice, and the trial on watts that harm nothing."""
    build, found = held.build, held.found
    what = "Sensor off, not its wire broken" if build.sensor.broken_as == "hot" else "Sensor off or its wire broken"
    yield CardRow("control.off", what, words=_off_words(held), ask=False)
    rule = noticing(build, found).rule
    words = "none for this tool" if rule is None else _rule_words(rule, way)
    yield CardRow("control.rule", "Rule for power without a rise, if the box has one", words=words, ask=False)
    mild = harmless_watts(build, found)
    trial = None if mild is None or found.control.untold else harmless_trial(build, found, mild)
    if trial is None:
        return
    own = trial.rule is None or np.isfinite(trial.trips_s)
    rule = "rule off" if trial.rule is None else f"rule then: {_rule_words(trial.rule, way)}" if own else "same rule"
    dial = f"dial {say('temp_c', trial.dial_c, **way)}, {found.control.place} near {say('temp_c', trial.held_c, **way)}"
    yield CardRow(
        "control.trial",
        f"Sensor off, on {say('coil_w', mild.watts)} alone: noticed after",
        words=f"{dial}; {rule}" + (f"; about {trial.after_s:.0f} s" if trial.rule else "; never"),
        outside="Stay, a hand on the plug. Never on full power.",
    )


def _rule_words(rule, way):
    return (
        f"below {say('temp_c', rule.below_c, **way)}, {say('window_s', rule.wait_s)} of full power, under "
        f"{say('rise_k', rule.rise_k, figures=2, **way)} of rise"
    )


def full_gate(build, held):
    """The row that stands before full power, None where nothing is in the way.

    build: Build. held: OnCard or None.
    """
    if held is None or held.gate.state == FREE and held.gate.own is None:
        return None
    gate, way = held.gate, way_of(build)
    if gate.state == GUARDED:
        return CardRow("gate.full", "Only with the cut-out of section 3 in its place", words="yes", outside="No: stop.")
    told = {
        IN_USE: f"NOT at this dial, {say('set_c', held.found.control.set_c, **way)}: in use, past the limit of "
        f"{', '.join(passed_in_use(held.found.control))}",
        UNGUARDED: f"NOT with this sheet: stuck on, {gate.stuck}, and {gate.no_rating}",
        FIT_FIRST: f"NOT yet: stuck on, {gate.stuck}. Fit the cut-out of section 3, type it on the sheet",
    }
    words = told.get(gate.state, "NOT yet: what power stuck on does is not known")
    return CardRow("gate.full", "Full power", words=words, ask=False)


def behind_gate(build, held, section):
    """A section at full power behind its gate: no space for readings while that is shut.

    build: Build. held: OnCard or None. section: CardSection.
    Returns CardSection.
    """
    gate = full_gate(build, held)
    shut = gate is not None and not gate.ask
    rows = section.rows
    if shut:
        rows = tuple(replace(r, ask=False, outside="") if r.id.startswith(NOT_READ) else r for r in rows)
    if not section.title.startswith(GATED):
        return replace(section, rows=rows)
    said = section.said if held is None or not section.rows else _before_switch(held.build)
    return replace(section, rows=rows if gate is None else (gate, *rows), said=said)


def _before_switch(build):
    """That the numbers at full power leave the switch out, and the volts that it keeps, in words."""
    way = switch_of(build)
    lost_v = way_rows()[way]["drop_v"] + (2 * BRIDGE_V if way == "switched DC" and build.supply.output == "AC" else 0.0)
    return f"reckoned without the switch: {SWITCHED[way]} keeps about {lost_v:.2g} V, so less comes through it"
