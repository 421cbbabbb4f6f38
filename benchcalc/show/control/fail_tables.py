"""Small tables of the control page on failing: what each fault does, which limits it passes, what stops it."""

import numpy as np

from ...basics.names import say
from ...studies.holding import after_rule, back_of, cut_out, harm_possible, rule_of
from ..page.table import table

MISTYPED = 1.8  # a set point of degrees F typed where degrees C are meant, and the like


def faults(build, found):
    """Each fault: what the controller sees and does, where what is held and the wire end.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    control, law, way = found.control, found.law, {"degrees": build.degrees}
    stuck, wire = control.stuck, _wire_end(found)
    full = (say("temp_c", control.stuck_c, **way), say("temp_c", wire, **way))
    cold = ("cools to the room", "cools to the room")
    broken = full if build.sensor.broken_as == "cold" else cold
    wrong_c = law.set_c * MISTYPED + 32
    reachable = min(wrong_c, float(stuck.temp_c[control.place][-1]))
    at = (
        float(np.interp(reachable, stuck.temp_c[control.place], stuck.temp_c["sheath"]))
        + wire
        - stuck.temp_c["sheath"][-1]
    )
    rows = [
        ("sensor fallen off", "a cold reading: full power for ever", *full),
        (
            "sensor wire broken",
            f"reads {build.sensor.broken_as}: " + ("full power" if broken is full else "off"),
            *broken,
        ),
        ("sensor wires touching", "reads its own far end, the room: full power for ever", *full),
        ("switch fused, or a strand across it", "the controller says off, nothing listens", *full),
        (
            f"set point mistyped, {say('temp_c', wrong_c, **way)}: degrees F where C are meant",
            "it does as it is told",
            say("temp_c", reachable, **way),
            say("temp_c", at, **way),
        ),
        ("no mains, fuse blown", "nothing", *cold),
    ]
    return table(("fault", "what happens", f"the {control.place} ends at", "the hottest wire ends at"), rows)


def _wire_end(found):
    """Hottest wire with power stuck on."""
    return next((h.end_c for h in found.control.harms if h.place == "the wire"), float("nan"))


def minutes_stuck(build, found, minutes=(1, 2, 5, 10, 30, 120)):
    """The held tool from the moment the sensor falls off.

    build: Build with a controller. found: its HeldTool. minutes: times to show.
    Returns Table.
    """
    run, way = found.control.stuck, {"degrees": build.degrees}
    names = [n for n in (found.control.place, "sheath", "entry", "grip") if n in run.temp_c]
    words = {"sheath": "winding, its mean", "entry": "tube at the handle", "grip": "handle outside"}
    rows = [
        (f"{m} min", *(say("temp_c", float(np.interp(60 * m, run.time_s, run.temp_c[n])), **way) for n in names))
        for m in minutes
    ]
    return table(("after", *(words.get(n, n) for n in names)), rows)


def harms(build, found):
    """Every limit that is known, against power stuck on at high mains in the end.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    way, rows = {"degrees": build.degrees}, []
    for h in found.control.harms:
        rows.append((h.place, say("temp_c", h.end_c, **way), say("limit_c", h.limit_c, **way), _when(h)))
    return table(("place", "ends at", "limit", "passed after"), rows or [("no limit is known", "–", "–", "–")])


def _when(harm):
    if harm.after_s == 0:
        return "in use already"
    if not harm.end_c > harm.limit_c:
        return "never"
    return f"{harm.after_s / 60:.1f} min" if np.isfinite(harm.after_s) else "more than two hours"


def stops(build, found):
    """What can stop it: the controller's own rule, and a cut-out that needs no controller.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    way, rule, best = {"degrees": build.degrees}, rule_of(build, found), cut_out(build, found)
    rows = []
    if rule is None:
        rows.append(("a rule in the controller", "none spares it held and at work within five minutes", "–"))
    else:
        there = after_rule(found, rule)[found.control.place]
        least = say("rise_k", rule.rise_k, figures=2, **way)
        words = (
            f"below {say('temp_c', back_of(found.law), **way)}, full power for {say('window_s', rule.wait_s)} and less "
            f"than {least} of rise: off"
        )
        left = f"the {found.control.place} is then at {say('temp_c', there, **way)}"
        rows.append(("a rule in the controller", words, left))
    where = "an independent cut-out"
    early = [h.place for h in found.control.harms if h.after_s == 0]
    if early:
        words = f"none can spare {', '.join(early)}: use passes that limit already"
        rows.append((where, words, "mend that first, on the page of that part"))
    if found.control.untold:
        words = "nobody knows the limit or the temperature of " + ", ".join(found.control.untold)
        rows.append((where, words, "no rating can be trusted before that is known"))
    if not harm_possible(build, found):
        words = "no other limit on this sheet is passed in two hours of it"
        rows.append((where, words, "still never alone: skin, paper and flux have limits too"))
    elif best is None:
        rows.append(
            (
                where,
                "no rating fits anywhere on it, both tolerances counted",
                "lower the watts until stuck on harms nothing",
            )
        )
    else:
        words = (
            f"{best.key}, {say('length_m', best.at_m, units=build.units)} from the tip: in use "
            f"{say('temp_c', best.normal_c, **way)} at most, at the first harm {say('temp_c', best.fail_c, **way)}"
        )
        spare = say("spare_k", min(best.spare_low_k, best.spare_high_k), figures=2, **way)
        rows.append((where, words, f"{spare} to spare on the tighter side"))
    return table(("what stops it", "how", "what that leaves"), rows)
