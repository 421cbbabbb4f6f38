"""Small tables of the control page on failing: what power stuck on does, which limits it passes, what stops it.

They stand whatever the controller's state: a tool that nothing holds fails as well as another.
"""

import numpy as np

from ...basics.escape import plain_text
from ...basics.names import say
from ...chain.control.in_use import passed_in_use
from ...chain.control.stuck import wire_curve
from ...chain.heat.melting_wire import alloy_melts_c
from ...studies.own_cut_out import nobody_knows, unheld_words
from ...studies.settings import is_taken
from ...studies.stopping import cut_out_advice, may_pass, noticing, sheets_cut_out
from ...thermal.control.failing import LEAST_SPARE_K
from ..page.lent import tells_lent
from ..page.table import table
from ..page.words import Words
from .numbers import swing_words

FROM = {
    "held": "from the held state on",
    "full power": "from full power on, which is its everyday state",
    "cold": "from switching on cold, since nothing holds it",
}


USED = {"held": "in use, at its hottest", "full power": "at full power", "cold": "as asked for"}


def stuck_of(found):
    """The run of power stuck on, or None.  found: HeldTool."""
    return None if found.control is None else found.control.stuck


def nothing_stuck(found):
    """A table that says why there is none.  found: HeldTool."""
    why = found.refused or "no tool on this sheet could be worked out on the worse day"
    return table(("power stuck on",), [(why,)])


@tells_lent
def day(build, found):
    """The day that counts when control fails, in words.

    build: Build with a controller. found: its HeldTool.
    Returns Words.
    """
    if stuck_of(found) is None:
        return Words("Nothing to watch: " + (found.refused or "the worse day could not be worked out") + ".")
    left, fitted = found.control.left, sheets_cut_out(build, found)[0]
    room = say("temp_c", left.room_c, degrees=build.degrees)
    unlike = ", and your cut-out counts in both; the tables below are without it" if fitted and fitted.guards else ""
    molten = wire_words(build, found, float(wire_curve(found.control).max())).startswith("melts")
    return Words(
        f"Counted {FROM[found.control.begins]}, on the day of a tool that is left on: still air, a room of {room}, "
        f"volts at {say('mains', left.mains)} of those that you measured. It is the same event, so it is the same "
        f"answer as *left on and forgotten* above{unlike}."
        + (" **The wire melts on the way:** what stands after that would only come if it did not." if molten else "")
    )


def held_place(found):
    """What is held, or would be.  found: HeldTool with power stuck on."""
    return next(n for n in (found.control.place, "work", "tip", "sheath") if n in found.control.stuck.temp_c)


def place_word(place):
    """A place of a run, as it is told.  place: name in its temp_c."""
    return {"sheath": "winding", "entry": "tube at the handle", "grip": "handle outside"}.get(place, place)


def wire_words(build, found, wire_c):
    """A wire's temperature, or that it melts.  build: Build. found: HeldTool. wire_c: degC."""
    melts_c = alloy_melts_c(found.control.left.wire.alloy)
    if wire_c >= melts_c:
        return f"melts, past {say('limit_c', melts_c, degrees=build.degrees)}"
    return say("temp_c", wire_c, degrees=build.degrees)


@tells_lent
def minutes_stuck(build, found, minutes=(1, 2, 5, 10, 30, 120)):
    """The tool from the moment that its power is stuck on.

    build: Build with a controller. found: its HeldTool. minutes: times to show.
    Returns Table.
    """
    run, way = stuck_of(found), {"degrees": build.degrees}
    if run is None:
        return nothing_stuck(found)
    names = [held_place(found), *(n for n in ("entry", "grip") if n in run.temp_c)]

    def at(minute, curve):
        return float(np.interp(60 * minute, run.time_s, curve))

    rows = [
        (
            f"{m} min",
            *(say("temp_c", at(m, run.temp_c[n]), **way) for n in names[:1]),
            wire_words(build, found, at(m, wire_curve(found.control))),
            *(say("temp_c", at(m, run.temp_c[n]), **way) for n in names[1:]),
        )
        for m in minutes
    ]
    heads = [place_word(n) for n in names]
    return table(("after", *heads[:1], "hottest wire", *heads[1:]), rows)


@tells_lent
def harms(build, found):
    """Every limit that is known, against power stuck on in the end.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    if stuck_of(found) is None:
        return nothing_stuck(found)
    way, rows = {"degrees": build.degrees}, []
    control, doubtful = found.control, {h.place: t for t, h in may_pass(build, found)}
    for h in control.harms:
        ends, used = (
            wire_words(build, found, c) if h.place == "the wire" else say("temp_c", c, **way)
            for c in (h.end_c, h.used_c)
        )
        rows.append((h.place, used, ends, say("limit_c", h.limit_c, **way), _when(h, doubtful.get(h.place))))
    head = ("place", USED[control.begins], "stuck on, ends at", "limit", "passed after")
    return table(head, rows or [("no limit is known", *"––––")], "of a part its hottest place, not the tip's front")


def _when(harm, may_s):
    """When a limit is passed.  harm: Harm. may_s: when it may be, by the upper end of its doubt, or None."""
    if harm.after_s == 0:
        return "in use already"
    if not harm.end_c > harm.limit_c:
        return "never" if may_s is None else f"by its doubt alone, {in_minutes(may_s)} at the soonest"
    return in_minutes(harm.after_s) if np.isfinite(harm.after_s) else "more than two hours"


def in_minutes(time_s):
    """A time in seconds or minutes.  time_s: s."""
    return f"{time_s:.0f} s" if time_s < 60 else f"{time_s / 60:.1f} min"


@tells_lent
def stops(build, found):
    """What can stop it: the controller's own rule, and a cut-out that needs no controller.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    if stuck_of(found) is None:
        return nothing_stuck(found)
    rows = [_rule(build, found), *_cut_outs(build, found)]
    return table(("what stops it", "how", "what that leaves"), rows)


def _rule(build, found):
    what, way = "a rule in the controller", {"degrees": build.degrees}
    if found.refused:
        return what, "none, since nothing is held", "–"
    told = noticing(build, found)
    tried = "tried on: " + "; ".join(told.tried)
    if told.rule is None:
        return what, f"none: {told.why}", tried
    rule = told.rule
    words = (
        f"while the sensor reads less than {say('temp_c', rule.below_c, **way)}: full power for "
        f"{say('window_s', rule.wait_s)} on end and less than {say('rise_k', rule.rise_k, figures=2, **way)} of rise "
        "in it: off, and stay off"
    )
    place = found.control.place
    there = ""
    if place in told.temps_c:
        there = f" The {place} is then at {say('temp_c', told.temps_c[place], **way)}."
    left = f"with it a fallen sensor would be noticed after {told.after_s:.0f} s.{there} {tried}, at full watts: no "
    return what, words, left + "false alarm. No box has it unless you set it; without it nothing notices"


def _cut_outs(build, found):
    where, way = "an independent cut-out", {"degrees": build.degrees}
    fitted, why = sheets_cut_out(build, found)
    if why:
        yield "the cut-out of your sheet", why, "not judged"
    if fitted is not None:
        at = f"{say('temp_c', fitted.rating_c, **way)} at {say('length_m', fitted.at_m, units=build.units)}"
        fail = say("temp_c", fitted.fail_c, **way) if np.isfinite(fitted.fail_c) else "nothing that is known"
        use = say("temp_c", fitted.normal_c, **way)
        yield "the cut-out of your sheet", f"{at}: in use {use} at most, at the first harm {fail}", f"it {fitted.does}"
    if is_taken(build):
        words = unheld_words(build) or "no limit on this sheet is passed, or the heat is not known"
        yield f"{where}, as the sheet stands: nothing holds the tool", words, "the same as on page 00"
        where = f"{where}, once the controller taken here is fitted"
    yield where, *advised(build, found)


def advised(build, found):
    """The cut-out to fit, where, and what that leaves.

    build: Build with a controller. found: its HeldTool.
    Returns (how, what that leaves), texts: one answer, what nobody knows of it counted.
    """
    how, leaves = _advised(build, found)
    if early := passed_in_use(found.control):
        leaves = f"for the rest, as the tool stands: {how}, {leaves}"
        how = (
            f"none yet: use itself passes the limit of {', '.join(early)}, and no cut-out can spare that. Mend it "
            "first: fewer watts, another insulation, a longer tube, a lower dial"
        )
    return how, leaves + nobody_knows(found.control).replace(" Not", "; not", 1).rstrip(".")


def _advised(build, found):
    way, told = {"degrees": build.degrees}, cut_out_advice(build, found)
    early = passed_in_use(found.control)
    if told is None and early:
        return "nothing is left for it to save", "what use passes is lost with it and without it"
    if told is None:
        words = "no limit on this sheet is passed in two hours of it"
        return words, "still never alone: skin, paper and flux have limits too"
    if told.unsure:
        words = f"none for {', '.join(told.unsure)}: only the doubt of their temperatures reaches a limit there"
        return words, "it would save nothing of what use itself harms: mend that first"
    best = told.best
    if best is None:
        spare = say("spare_k", LEAST_SPARE_K, **way)
        words = f"no rating fits anywhere on its free outside, both tolerances and {spare} to spare counted"
        return words, "lower the watts until stuck on harms nothing"
    words = (
        f"{best.key}, {say('length_m', best.at_m, units=build.units)} from the tip, for {told.guards}: in use "
        f"{say('temp_c', best.normal_c, **way)} at most, then {say('temp_c', best.fail_c, **way)}"
    )
    spare = say("spare_k", min(best.spare_low_k, best.spare_high_k), figures=2, **way)
    left = [f"{spare} to spare on the tighter side"]
    if told.saved:
        left = [f"{left[0]}; it spares {', '.join(told.saved)} too"]
    if not best.holds:
        left = [f"{left[0]}, yet it may open in long use: ask its maker's sheet for its holding temperature"]
    if told.late:
        left.append(f"none is quick enough for {', '.join(told.late)}: only fewer watts help that")
    return words, "; but ".join(left)


@tells_lent
def failing_summary(build, found):
    """The page in a few sentences: what is held, what notices, which cut-out and where.

    build: Build with a controller. found: its HeldTool.
    Returns Words.
    """
    way, told = {"degrees": build.degrees}, []
    control = found.control
    if found.refused:
        told.append(f"Not held: {found.refused}")
    else:
        held = found.held
        told.append(
            f"{found.law.kind}, dialled {say('temp_c', found.law.set_c, **way)}: the {control.place} is held at "
            f"{say('temp_c', held.mean_c, **way)} on the mean"
            + (f" and swings by {swing_words(held.ripple_k, **way)}" if held.settled else ", not settled")
            + f"; {say('hold_w', control.hold_w)}, {control.duty:.0%} of the time on."
        )
        notice = noticing(build, found)
        after = (
            f"a rule for it would notice after {notice.after_s:.0f} s, if your controller had one; without it, never"
        )
        told.append(f"Sensor fallen off: {after if notice.rule else 'no rule notices it, ' + notice.why}.")
    if stuck_of(found) is not None:
        place = held_place(found)
        stuck = say("temp_c", stuck_of(found).temp_c[place][-1], **way)
        told.append(f"Power stuck on: the {place_word(place)} ends at {stuck}.")
        taken = ", once the controller taken here is fitted" if is_taken(build) else ""
        told.append("Cut-out{}: {}; {}.".format(taken, *advised(build, found)))
    told = [plain_text(sentence) for sentence in told]  # they name parts and layers of the sheet
    if build.invented:
        told.append(f"*All of it of the invented demo {plain_text(build.name)}.*")
    return Words(" ".join(told))
