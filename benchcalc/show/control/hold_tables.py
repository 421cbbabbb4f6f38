"""Small tables of the control page on holding: laws, tuning, window, touching work, two models."""

from dataclasses import replace

import numpy as np

from ...basics.escape import plain_text
from ...basics.names import say
from ...studies.touching import touch_row, touched, touches_of
from ...studies.tuned import warm_up_seen
from ...studies.tunings import calmest, laws_tried, own_way, tunings_tried, windows_tried
from ...thermal.control.held_run import exact_run
from ...thermal.control.modes import fast_run
from ...thermal.control.seated import SENSOR
from ..page.lent import tells_lent
from ..page.table import table
from ..page.words import Words
from .numbers import LEAST_K, swing_words

WINDOWS_S = (1.0, 2.0, 5.0, 10.0, 30.0)
WORTH_K = 5.0  # overshoot and swing together: less is not worth another law (own judgement)


def _swing(measures, way):
    """A swing, or that the run had none yet."""
    said = swing_words(measures.ripple_k, **way)
    return said if measures.settled else f"not settled, {said} so far"


def _band(law, way):
    return say("rise_k", law.band_k if law.kind == "on-off" else 1 / law.gain_per_k, **way)


@tells_lent
def laws(build, found):
    """On-off and the integral law side by side, on this tool at this dial.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    way, rows, place = {"degrees": build.degrees}, [], found.control.place
    own = [replace(one, words=f"{found.law.kind}, {one.words}") for one in own_way(found)]
    for one in [*laws_tried(build, found), *own]:
        held, sheath = one.found.held, one.found.sheath
        period = one.found.period_s
        rows.append(
            (
                one.words,
                _band(one.found.law, way),
                swing_words(held.overshoot_k, **way),
                _swing(held, way),
                say("rise_k", sheath.ripple_k, figures=2, **way),
                say("wire_c", one.found.wire_top_c, **way),
                f"{held.ready_s / 60:.1f} min",
                say("temp_c", held.mean_c, **way),
                say("window_s", period) if np.isfinite(period) else "does not switch",
                f"{one.wear_s / 3600:.0f} h",
            )
        )
    head = ("law", "band", f"{place} overshoots", f"{place} swings", "winding swings", "hottest wire", "ready")
    return table((*head, f"{place}'s mean", "one round", "a relay would last"), rows)


@tells_lent
def which_law(build, found):
    """Which of the two laws to take, from what each did.

    build: Build with a controller. found: its HeldTool.
    Returns Words.
    """
    tried = laws_tried(build, found)
    best = calmest(tried)
    if best is None:
        return Words("Neither had settled in the time watched: this tool is slow, take on-off and patience.")
    other = next(t for t in tried if t is not best)
    way = {"degrees": build.degrees}
    gain = other.restless_k - best.restless_k
    worth = "as calm, and ready first"
    if np.isfinite(gain) and gain >= LEAST_K:
        one, two = (
            [swing_words(x, **way) for x in (w.found.held.overshoot_k, w.found.held.ripple_k)] for w in (best, other)
        )
        worth = f"the calmer one, overshooting by {one[0]} and swinging by {one[1]} against {two[0]} and {two[1]}"
    if not np.isfinite(gain):
        worth = "the one that settles"
    wear = f"; with a relay mind its {best.wear_s / 3600:.0f} h" if build.control.way == "relay" else ""
    set_now = "" if best.words == found.law.kind else f" The sheet has {found.law.kind}."
    for own in own_way(found):
        if own.restless_k >= best.restless_k + WORTH_K:
            held, integral = own.found.held, say("constant_s", found.law.integral_s)
            swing = f"overshoots by {swing_words(held.overshoot_k, **way)} and swings by {_swing(held, way)}"
            set_now += (
                f" With your own band of {_band(found.law, way)} and {integral} it {swing}: take the rule's, below."
            )
    return Words(f"**Take {best.words} on this tool:** it is {worth}{wear}.{set_now}")


@tells_lent
def tuning(build, found):
    """SIMC settings, and what each does on this tool.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    way, tried = {"degrees": build.degrees}, tunings_tried(build, found)
    best = calmest(tried)
    rows = [
        (
            one.words + (", take this one" if one is best else ""),
            _band(one.found.law, way),
            say("constant_s", one.found.law.integral_s),
            swing_words(one.found.held.overshoot_k, **way),
            f"{one.found.held.ready_s / 60:.1f} min",
            _swing(one.found.held, way),
        )
        for one in [*own_way(found), *tried]
    ]
    return table(("tuning", "proportional band", "integral time", "overshoot", "ready", "swing"), rows)


def _seconds(time_s):
    """A time of the tuning, so that sums can be followed by hand.  time_s: s."""
    return f"{time_s:.0f} s" if time_s >= 100 else f"{time_s:.3g} s"


@tells_lent
def where_from(build, found):
    """Where gain and integral time come from: the warm-up that the sensor sees, as the rule boils it down.

    build: Build with a controller. found: its HeldTool.
    Returns Words.
    """
    way, t, seen = {"degrees": build.degrees}, found.tuning, warm_up_seen(build, found.control.standing)
    shape, s = seen.shape, _seconds
    told = [
        f"From {plain_text(seen.source)}: {say('rise_k', shape.rise_k, **way)} at full power, with time constants of "
        f"{s(shape.slow_s)} and {s(shape.fast_s)}, dead time {s(shape.dead_s)}"
        + (f", and the sensor's lag of {s(seen.lag_s)} added." if seen.lag_s else ".")
    ]
    if t.full_k < 0.98 * shape.rise_k:
        told.append(
            "The loop answers within a few delays and never sees the end of that curve, so the rule counts a part of "
            f"it, as steep as the whole: {say('rise_k', t.full_k, **way)}, with {s(t.slow_s)} and {s(t.second_s)} "
            "(rules for a numerator, Skogestad 2003)."
        )
    elif t.zero_s >= 0.5:
        told.append(
            f"The curve starts more steeply than two constants in a row would let it: a part of the heat is there at "
            f"once. It comes to {s(t.zero_s)} in the numerator, which the rule takes off the second constant: "
            f"{s(t.second_s)} of it is left (rule T3, Skogestad 2003)."
        )
    told.append(
        f"**Half rule:** half of those {s(t.second_s)} goes to the constant, {s(t.slow_s)} + {s(t.second_s / 2)} = "
        f"**{s(t.lumped_s)}**; the other half, "
        + (f"{s(t.late_s)} of dead time and smaller lags " if t.late_s else "")
        + f"and half a window of {s(build.control.window_s)} make the delay: **{s(t.delay_s)}**. The wanted constant "
        f"is {s(t.closed_s)}."
    )
    slow_s = 4 * (t.closed_s + t.delay_s)
    chosen = "the constant itself, the smaller" if t.lumped_s < slow_s else "four times the sum, the smaller"
    told.append(
        f"The integral time is the smaller of the constant, {s(t.lumped_s)}, and four times the sum of wanted "
        f"constant and delay, {s(slow_s)}: **{t.integral_s:.0f} s**, {chosen}. Full power over "
        f"**{say('rise_k', 1 / t.gain_per_k, **way)}**."
    )
    return Words(" ".join(told))


@tells_lent
def windows(build, found):
    """What the switching window does to what is held and to the wire, each row tuned anew.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    way, rows, head = {"degrees": build.degrees}, [], build.control.window_s
    for window, one in zip(WINDOWS_S, windows_tried(build, found, WINDOWS_S)):
        held = one.found.held
        rows.append(
            (
                say("window_s", window) + (", yours" if window == head else ""),
                _band(one.found.law, way),
                _swing(held, way),
                say("rise_k", one.found.sheath.ripple_k, figures=2, **way),
                say("wire_c", one.found.wire_top_c, **way),
                "too few in a swing of the loop"
                if any("seldom" in word for word, _ in one.found.remarks)
                else "enough",
            )
        )
    place = f"{found.control.place} swings by"
    head = ("window", "band by the rule", place, "winding swings by", "hottest wire", "windows")
    return table(head, rows, "each row with the gain that the rule gives for its own window")


def remarks(build, found):
    """What speaks against the law and window that are set: what they do badly, a calmer law, limits passed in use.

    build: Build with a controller. found: its HeldTool.
    Returns Words.
    """
    told, way = [said for _, said in found.remarks], {"degrees": build.degrees}
    tried = laws_tried(build, found)
    best = calmest(tried)
    own = next(t for t in tried if t.words == found.law.kind)
    if best is not None and best is not own and not own.restless_k - best.restless_k < WORTH_K:
        swing = swing_words(found.held.ripple_k, **way)
        told.append(f"By {found.law.kind} the {found.control.place} swings by {swing}: {best.words} is calmer here.")
    passed = [h for h in found.control.harms if h.after_s == 0]
    told += [
        f"{h.place[:1].upper()}{h.place[1:]} gets {say('temp_c', h.used_c, **way)} in use, past its "
        f"{say('limit_c', h.limit_c, **way)}."
        for h in passed
    ]
    if found.control.untold:
        told.append(f"Not known: {', '.join(found.control.untold)}.")
    nothing = "Nothing that this page looks at speaks against the window and the law that are set: not the swing, not "
    return Words(" ".join(told) or nothing + "what the wire, the insulation and the wood get in use.")


@tells_lent
def touches(build, found):
    """What touching work does, held until it is back or half an hour is over.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    way, rows, own = {"degrees": build.degrees}, [], touch_row(build)["touch"] if build.control.touch else None
    for name in touches_of(found):
        one = touched(build, found, name)
        late = f"not within {one.run.time_s[-1] / 60:.0f} min"
        back = f"{one.back_s:.0f} s" if one.back_s > 0 else "never leaves it" if one.back_s == 0 else late
        rows.append(
            (
                one.words + (", yours" if name == own else ""),
                say("energy_j", one.energy_j),
                say("rise_k", one.dip_k, figures=2, **way),
                f"{one.lowest_s:.0f} s",
                back,
            )
        )
    place = found.control.place
    return table(("touched", "heat it takes", f"the {place} dips by", "lowest after", "within 5 K again after"), rows)


@tells_lent
def two_models(build, found, seconds=60.0):
    """The fast model of the sliders against every step solved, from one start.

    build: Build with a controller. found: its HeldTool.
    seconds: s, watched from the held state with the set point a little higher.
    Returns (Table, largest difference at what is held and at the sensor in K).
    """
    standing, place = found.control.standing, found.control.place
    law = replace(found.law, kind="proportional-integral", set_c=found.law.set_c + 5.0)
    start = standing.settled(found.control.duty)
    fast = fast_run(standing.kept_modes, law, standing.seat.watch, seconds, start_c=start)
    exact = exact_run(standing.seat.net, law, standing.seat.watch, seconds, start_c=start, tol_k=0.1)
    way, rows, worst = {"degrees": build.degrees}, [], 0.0
    temps = exact.run.at(fast.time_s)  # told at the fast one's own times: a long piece is no straight line
    for name, word in ((place, place), (SENSOR, "sensor"), ("sheath", "winding")):
        nodes, weights = standing.seat.watch[name]
        a, b = temps[:, list(nodes)] @ np.asarray(weights), fast.temp_c[name]
        off = float(np.abs(a - b).max())
        worst = worst if name == "sheath" else max(worst, off)
        late = fast.time_s >= seconds - 20.0
        rows.append((word, *(say("temp_c", float(x[late].mean()), **way) for x in (a, b)), f"{off:.2f} K"))
    account = exact.run
    lost = abs(account.closure_j) / max(account.supplied_j, 1.0)
    kept = (
        "less than a millionth of what was put in" if lost < 1e-6 else f"{1e6 * lost:.2g} millionths of what was put in"
    )
    rows.append(("heat unaccounted for", kept, "–", "–"))
    return table(("place", "every step solved", "fast model", "apart by, at most"), rows), worst
