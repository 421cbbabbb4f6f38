"""The verdicts on holding: reach, what is really held, power stuck on, the cut-out."""

from dataclasses import replace

import numpy as np

from ...basics.band import Band
from ...basics.names import say
from ...basics.tables import source_words
from ...sheet.build_control import switch_of
from ...sheet.defaults import default
from ...thermal.control.law import ON_OFF
from ...thermal.control.measures import period_of
from ..heat.limits import ITSELF, kinds_of, upper_end
from ..heat.verdicts import job_row
from ..verdict import Limit, judge, not_fine, unknown
from .guarded import cut_off_words, fitted_cut_out, unguarded, when_passed
from .in_use import in_use_checks, passed_in_use

OWN = "your own sheet; the heat model"
LINK = source_words("IEC60691") + "; from memory: check the standard"
CUT_OUT = "the cut-out, between use and harm"
IN_USE, AT_HARM = f"{CUT_OUT}: its place in use", f"{CUT_OUT}: its place at the harm"
STUCK = "power stuck on"
WITHIN_REACH = "set point within reach"
MOST_OFF_K = 25.0  # more than that and the number on the display is no temperature of the tool (own judgement)


def control_checks(build, control, heat, bands):
    """Verdicts on a held tool.

    build: Build. control: ControlPart or None. heat: HeatPart or None. bands: path -> Band.
    Returns list of Verdict, none for a sheet without a controller.
    """
    if build.control is None:
        return []
    if control is None:
        why = "There is no tool with a network to hold: it needs parts with places along the axis, and a coil on one."
        if build.coil is not None and build.coil.mounting == "bare wire in free air":
            why = (
                "A wire in free air follows its current within a second or two: set its current, no sensor can hold it."
            )
        return [unknown("held temperature", "held_c", why=why)]
    way = {"units": build.units, "degrees": build.degrees}
    made = []
    if np.isfinite(control.full_c):
        made.append(_reach(control, way))
    if control.refused:
        made.append(unknown("held temperature", "held_c", why=control.refused))
    else:
        made += [*_held(build, control, way), *in_use_checks(build, control, bands)]
    return [*made, *_stuck(build, control, heat, bands)]


def _reach(control, way):
    return judge(
        WITHIN_REACH,
        "temp_c",
        control.full_c,
        Limit(control.set_c, "at least", OWN),
        why=f"With its power on all the time the sensor reads {say('temp_c', control.full_c, **way)}: "
        f"{say('temp_c', control.low_c, **way)} with low mains, {say('temp_c', control.high_c, **way)} with high ones. "
        f"{control.beyond}".rstrip(),
        band=Band(control.full_c, control.low_c, control.high_c),
    )


def _held(build, control, way):
    """What is really held, sensor's error and doubt counted."""
    band = Band(control.mean_c, control.mean_c - control.doubt_k, control.mean_c + control.doubt_k)
    offset = say("offset_k", control.offset_k, degrees=way["degrees"])
    why = f"At a reading of {say('temp_c', control.set_c, **way)} the {control.place} is {offset} hotter"
    if control.offset_k < 0:
        why = f"The {control.place} is cooler than the reading of {say('temp_c', control.set_c, **way)}"
    doubt = say("doubt_k", control.doubt_k, degrees=way["degrees"])
    why += f"; the sensor, the reader at the end of its wires and the way it is fixed leave {doubt} of doubt."
    job = job_row(build.want.job) if build.want.job else None
    if job is not None:
        source = source_words(job["source_id"])
        yield judge(
            f"held {control.place}, not too hot", "held_c", control.mean_c,
            Limit(job["never_c"], "at most", source), why=why, band=band,
        )  # fmt: skip
        yield judge(
            f"held {control.place}, hot enough", "held_c", control.mean_c,
            Limit(job["low_c"], "at least", source, advice=True), why=why, band=band,
        )  # fmt: skip
    else:
        yield judge(
            "reading against what is held, doubt counted",
            "offset_k",
            abs(control.offset_k) + control.doubt_k,
            Limit(MOST_OFF_K, "at most", "own judgement", advice=True),
            why=why,
        )


def _stuck(build, control, heat, bands):
    """The sensor off, the switch fused, the set point typed wrong: all of them are power stuck on."""
    fitted, why = fitted_cut_out(build, heat, control, bands)
    if why:
        yield unknown(CUT_OUT, "spare_k", why=why)
    if fitted is not None:
        made, room_c = _between(build, control, fitted), control.left.room_c
        early = [h.place for h in control.harms if np.isinf(upper_end(0.0, h.at.doubt(bands, room_c, ITSELF)))]
        yield not_fine(made, (*control.untold, *(f"how early {place} passes its limit" for place in early)))
    yield from _unguarded(control, bands, fitted)
    if switch_of(build) == "relay" and not control.refused:
        yield _contacts(build, control)


def _between(build, control, fitted):
    """The sheet's own cut-out, between use and harm: the side with less to spare is judged.

    One that comes too late for a limit is at the best tight, whatever it has to spare for the next one.
    """
    way = {"degrees": build.degrees}
    used = "use" if control.begins == "held" else "what was asked for"
    when = "In use" if control.begins == "held" else "At what was asked for"
    early, harm = passed_in_use(control), "no limit beyond use is passed"
    if np.isfinite(fitted.fail_c):
        which = f"the limit of {fitted.saves}" if fitted.late else "the first limit beyond use"
        harm = f"{which} may be passed, doubt counted, once it is at {say('temp_c', fitted.fail_c, **way)}"
    spares = f" It cannot spare {', '.join(early)}: {used} passes that already." if early else ""
    of = "By the limits that are known it" if control.untold and fitted.in_time else "It"
    why = (
        f"{of} {fitted.does}. {when} its place reaches {say('temp_c', fitted.normal_c, **way)}, doubt counted, "
        f"and {harm}. Marked {say('temp_c', fitted.rating_c, **way)}, it opens from "
        f"{say('temp_c', fitted.normal_c + fitted.spare_low_k, **way)} on.{_held_closed(fitted, way)}{spares}"
    )
    late = fitted.spare_low_k >= 0 and fitted.spare_high_k < fitted.spare_low_k
    what, value = IN_USE, fitted.normal_c
    limit = Limit(fitted.normal_c + fitted.spare_low_k, "at most", LINK)
    if fitted.in_time and not fitted.holds:
        if not fitted.told:
            return unknown(what, "temp_c", why=why, source=LINK)
        limit = Limit(fitted.hold_c, "at most", LINK)
    elif late:
        what, value, limit = AT_HARM, fitted.fail_c, Limit(fitted.fail_c - fitted.spare_high_k, "at least", LINK)
    judged = judge(what, "temp_c", value, limit, why=why)
    return replace(judged, state="tight") if fitted.late and judged.state == "fine" else judged


def _held_closed(fitted, way):
    """What is known of the holding temperature of a cut-out, a sentence."""
    most = say("temp_c", fitted.hold_c, **way)
    if not fitted.in_time:
        return ""
    if fitted.told:
        return f" Its holding temperature is {most}: use must stay below it."
    told = "which use stays below" if fitted.holds else "which use passes"
    return (
        " Ask its maker's sheet for its holding temperature, where it stays closed for good: use must stay below it. "
        f"By common practice, without a source, that is {most}, {told}."
    )


def _unguarded(control, bands, fitted):
    """The worst place of each kind with power stuck on, and with the sheet's cut-out where that comes in time."""
    if not control.harms:
        yield unknown(STUCK, "temp_c", why="No limit is known for any of its places.")
        return
    for what, burns, untold in kinds_of(STUCK, [h.at for h in control.harms], control.untold):
        left = unguarded(control, bands, fitted, burns=burns)
        yield not_fine(replace(_worst_stuck(what, control, left), place=left.harm.place), untold)


def _worst_stuck(what, control, left):
    """The verdict on the place that power stuck on brings nearest to its limit.  left: Unguarded."""
    worst, cut = left.harm, np.isfinite(left.opens_s)
    advice = "" if cut or not left.reached else " Fit a cut-out of its own, or take fewer watts."
    if cut and left.after_s > 0 and left.top_c > worst.limit_c:
        advice = " The cut-out comes too late for it: only fewer watts help that."
        if left.after_s > left.opens_s:
            advice = " It is what is left of the heat: a lower mark has to open sooner, or take fewer watts."
    return judge(
        what,
        "temp_c",
        left.top_c,
        Limit(worst.limit_c, "at most", source_words(worst.source_id)),
        why=f"Sensor fallen off, switch fused, set point mistyped, on the day of a tool left on (still air, warm room, "
        f"mains at {say('mains', control.left.mains)}): {cut_off_words(left, control.begins)}{worst.place} comes "
        f"nearest to its limit, or passes it.{when_passed(left.after_s)}{advice}",
        band=left.band,
    )


def _contacts(build, control):
    """Years that the contacts last, by the rounds of the law that holds the tool."""
    moves, window_s = default("control.relay_moves"), build.control.window_s
    seen_s = period_of(control.run) if control.law.kind == ON_OFF else window_s
    round_s = seen_s if np.isfinite(seen_s) else window_s  # not seen to switch twice: no slower than a window is sure
    hours = moves["value"] * round_s / 3600
    wanted = build.use.hours_per_year
    if wanted is None:
        return unknown(
            "contacts of the relay",
            "contact_life_s",
            why=f"They last about {hours:.0f} h of holding: how many do you use?",
        )
    return judge(
        "contacts of the relay, for a year",
        "contact_life_s",
        hours * 3600,
        Limit(wanted * 3600, "at least", "common practice, no source", advice=True),
        why=f"A rating of {moves['high']:.0f} moves at most, one every {say('window_s', round_s)}, "
        + ("a round of on-off on this tool." if control.law.kind == ON_OFF and np.isfinite(seen_s) else "a window."),
        band=Band(hours * 3600, moves["low"] * round_s, moves["high"] * round_s),
    )
