"""The card's rows of time: temperatures from cold, where a marker turns, what a controller holds.  No physics here."""

import numpy as np

from ...basics.band import Band
from ...basics.fault import Fault
from ...basics.names import say
from ...basics.tables import rows as table_rows
from ...chain.control.in_use import held_band, place_share
from ...chain.heat.still_air import is_unread
from ...thermal.control.measures import NEAR_K, mean_over
from ..spread_in_time import spread_in_time
from ..when_and_where import front_of
from .expected import band_at
from .heated import exact, way_of
from .record import CardRow, CardSection

MOMENTS_S = (480.0, 3600.0)
LOOK_S = 60.0  # a swing is averaged over this time, or over a round of on and off
SAYS = {"tip_c": "Tip", "work_c": "What is melted", "entry_c": "Tube at the handle", "grip_c": "Handle outside"}


def spread_for(build, workings, held=None):
    """The tool's first hour with its bands, or None where the heat model has nothing to work on or no bands, or where
    a controller takes the power back before the first row of it.

    build: Build. workings: Workings. held: OnCard, or None without a controller.
    """
    if _full_power_until(held) < MOMENTS_S[0]:
        return None
    try:
        found = spread_in_time(build, workings, until_s=MOMENTS_S[-1])
    except Fault:
        return None
    return found if found.ranged else None


def in_time(build, workings, spread, held=None):
    """Temperatures at eight minutes, at an hour and settled, or held; where a melting marker turns.

    build: Build. workings: Workings. spread: SpreadInTime or None. held: OnCard, or None without a controller.
    Returns CardSection.
    """
    title, until_s = "12  Temperatures and times from cold", _full_power_until(held)
    found = _times(build, workings, spread, until_s)
    wire_c = band_at(workings, "heat.wire_c")
    if wire_c is not None and np.isinf(until_s):
        found.append(CardRow("time.wire_c", "Hottest wire, settled (nobody can read it)", "wire_c", wire_c, ask=False))
    for name, temp_c in _two_markers(spread):
        for t in (t for t in MOMENTS_S if t <= until_s):
            what = f"{name} ({say('temp_c', temp_c, **way_of(build))}) melts as far as, {t / 60:.0f} min"
            id = f"time.{name}_{t / 60:.0f}".replace(" ", "_")
            found.append(CardRow(id, what, "front_m", front_of(spread, temp_c, t)))
    rows = (*found, *_held(workings, held))
    said = "" if rows else "No heat can be worked out for this sheet."
    lie = ["markers lie on the tube"] * any(row.key == "front_m" for row in rows)
    moves = say("air_speed_m_s", build.room.air_speed_m_s, **way_of(build)) if found and is_unread(build) else ""
    lie += [f"air at {moves}, which nobody read: hotter where it is still"] if moves else []
    lie += ["after so many minutes: at full power, without controller and switch"] if found and _holds(held) else []
    said = said or "; ".join(lie)
    return CardSection(title, rows, said)


def _times(build, workings, spread, until_s):
    """Rows of what is read at eight minutes, an hour and settled, as long as the power is full.  A row past a limit of
    the tool has no space for a reading: nobody waits for it."""
    found, cooler = [], "Outside: is the probe pressed on hard? Then joints, draught: page 06 learns them from a log."
    for field, word in SAYS.items() if spread is not None else ():
        if not np.isfinite(spread.settled[field]):
            continue
        moves = abs(spread.settled[field] - spread.band_at(field, MOMENTS_S[-1]).nominal) >= 1.0
        for t in (*MOMENTS_S, *((np.inf,) if moves else ())):
            if t > until_s:
                continue
            when = "settled, after hours" if np.isinf(t) else f"after {t / 60:.0f} min"
            id = f"time.{field}_{'settled' if np.isinf(t) else round(t / 60)}"
            band, past = spread.band_at(field, t), _past(build, workings, field, spread.band_at(field, t).nominal)
            found.append(CardRow(id, f"{word}, {when}", field, band, ask=not past, outside=past or cooler))
            cooler = ""
    return found


def _past(build, workings, field, temp_c):
    """What to do where what does the work would be past what its job bears; "" where it is not.  Limits of wood and
    hand are for years and for long holding: one reading may pass them."""
    if field not in ("tip_c", "work_c"):
        return ""
    limits = [
        v.limit
        for _, v in workings.verdicts
        if v.key == field and v.sense == "at most" and v.state == "over" and not v.advice and temp_c > v.limit
    ]
    return f"Never go there: switch off at {say(field, min(limits), **way_of(build))}." if limits else ""


def _holds(held):
    return held is not None and not held.found.refused


def _full_power_until(held):
    """When a controller takes the power back for the first time, s; inf without one."""
    if not _holds(held):
        return np.inf
    run = held.found.run
    back = np.flatnonzero(run.share[1:] < 1)
    return float(run.time_s[back[0]]) if back.size else np.inf


def _held(workings, held):
    """The controller's display, what is held by it, and what else is hot then."""
    if not _holds(held):
        return ()
    found, ready_s = held.found, held.found.held.ready_s
    control = found.control
    soon = f"{ready_s / 60:.1f} min" if np.isfinite(ready_s) else "not within the first hour"
    mean, doubt = found.held.mean_c if found.held.settled else control.held_c, control.doubt_k
    return (
        CardRow("held.ready", f"Controller: from cold to within {NEAR_K:.0f} K of what it holds, about", words=soon),
        CardRow("held.set_c", "Controller: set point", "set_c", exact(control.set_c)),
        CardRow(
            "held.held_c",
            f"the {control.place} itself then, on the mean, by another thermometer",
            "held_c",
            Band(mean, mean - doubt, mean + doubt) if np.isfinite(doubt) else exact(mean),
            outside="The difference is the dial's offset: page 08.",
        ),
        *_beside(workings, held),
    )


def _beside(workings, held):
    """What else is hot while it is held: tube at the handle, handle, and the wire at the top of a pulse."""
    found, build = held.found, held.build
    run, room = found.run, build.room.ambient_c

    def row(id, what, key, temp_c, ask):
        band = held_band(build, found.control, temp_c, place_share(workings.bands, key, room))
        known = np.isfinite([band.low, band.high]).all()
        return CardRow(id, what, key, band if known else exact(temp_c), ask=ask)

    for name in ("entry", "grip"):
        if name in run.temp_c:
            late = run.time_s >= run.time_s[-1] - max(np.nan_to_num(found.period_s), LOOK_S)
            temp_c = mean_over(run.time_s[late], run.temp_c[name][late])
            what = f"{SAYS[f'{name}_c']}, held, {run.time_s[-1] / 60:.0f} min after switching on"
            yield row(f"held.{name}_c", what, f"{name}_c", temp_c, True)
    what = "Hottest wire while it is held (nobody can read it)"
    yield row("held.wire_c", what, "wire_c", found.wire_top_c, False)


def _two_markers(spread):
    """The safe markers that turn on the settled tube: the coolest and the hottest."""
    if spread is None or not spread.tube:
        return ()
    low, high = spread.bare_settled_c.min(), spread.bare_settled_c.max()
    found = [r for r in table_rows("markers") if r["safe"] == "yes" and low < r["low_c"] < high]
    found = sorted(((r["marker"], r["low_c"]) for r in found), key=lambda m: m[1])
    return tuple(dict.fromkeys([found[0], found[-1]])) if found else ()
