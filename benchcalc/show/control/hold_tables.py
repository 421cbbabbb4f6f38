"""Small tables of the control page on holding: tuning, the window, the sensor's seat, touching work, two models."""

from dataclasses import replace

import numpy as np

from ...basics.names import say
from ...chain.control.link import work_control
from ...chain.control.standing import hold
from ...chain.workings import chain
from ...studies.held_elsewhere import dial_for
from ...studies.held_elsewhere import for_wanted as for_wanted
from ...studies.held_elsewhere import hold_band as hold_band
from ...studies.holding import fitting_touches, law_of, touched
from ...studies.tuned import tuning_of
from ...thermal.control.held_run import exact_run
from ...thermal.control.measures import measures_of
from ...thermal.control.seated import SENSOR
from ..page.table import table

SMOOTH = ((1.0, "tight"), (2.0, "between"), (4.0, "smooth"))
WINDOWS_S = (1.0, 2.0, 5.0, 10.0, 30.0)
LEAST_K = 0.5


def tuning(build, found):
    """SIMC settings, and what each does on this tool.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    way, rows = {"degrees": build.degrees}, []
    for smooth, word in SMOOTH:
        one = tuning_of(build, found.control.standing, smooth)
        law = replace(found.law, kind="proportional-integral", gain_per_k=one.gain_per_k, integral_s=one.integral_s)
        told = measures_of(hold(found.control.standing, law), found.control.place, found.law.set_c)
        rows.append(
            (
                word,
                say("rise_k", 1 / one.gain_per_k, **way),
                say("constant_s", one.integral_s),
                _kelvin(told.overshoot_k, way),
                f"{told.ready_s / 60:.1f} min",
                _kelvin(told.ripple_k, way) if told.settled else "not settled in the time watched",
            )
        )
    return table(("tuning", "proportional band", "integral time", "overshoot", "ready", "swing"), rows)


def _kelvin(rise_k, way):
    """A swing in words; what no thermometer of a bench tells from nothing is called so."""
    least = say("rise_k", LEAST_K, figures=2, **way)
    return f"less than {least}" if rise_k < LEAST_K else say("rise_k", rise_k, figures=2, **way)


def windows(build, found):
    """What the switching window does to what is held and to the wire.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    way, rows = {"degrees": build.degrees}, []
    for window in WINDOWS_S:
        one = replace(build, control=replace(build.control, window_s=window))
        own = tuning_of(one, found.control.standing)
        law = replace(law_of(one, found.law.set_c, own), kind="proportional-integral")
        run = hold(found.control.standing, law)
        tip, wire = (measures_of(run, place, found.law.set_c) for place in (found.control.place, "sheath"))
        rows.append(
            (
                say("window_s", window),
                _kelvin(tip.ripple_k, way) if tip.settled else "not settled in the time watched",
                say("rise_k", wire.ripple_k, figures=2, **way),
                say("temp_c", wire.top_c, **way),
            )
        )
    return table(("window", f"{found.control.place} swings by", "winding swings by", "winding's top"), rows)


def seats(build, found):
    """The same set point with the sensor elsewhere: what is really held, and what to dial.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    way, rows = {"degrees": build.degrees, "units": build.units}, []
    pieces = [p for p in found.parts[3].model.tool.pieces if p.role not in ("handle", "collar")]
    for p in pieces:
        middle = (p.from_m + p.to_m) / 2
        for word, at in (("front of the ", p.from_m), ("middle of the ", middle)):
            one = replace(build, sensor=replace(build.sensor, on=p.id, at_m=float(at)))
            got = work_control(one, *found.parts)
            if got is None or got.refused:
                rows.append((word + p.id, "out of reach", "–"))
                continue
            dial = dial_for(got, found.law.set_c)
            told = say("temp_c", dial, **way) if np.isfinite(dial) else "out of reach"
            rows.append((word + p.id, say("temp_c", got.held_c, **way), told))
    place, wanted = found.control.place, say("temp_c", found.law.set_c, **way)
    return table(("sensor on", f"dialled {wanted}, the {place} is", f"for {wanted} there, dial"), rows)


def touches(build, found):
    """What touching work does, held until then.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    way, rows = {"degrees": build.degrees}, []
    for row in fitting_touches(found):
        one = touched(build, found, row["touch"])
        rows.append(
            (
                one.words,
                say("energy_j", one.energy_j),
                say("rise_k", one.dip_k, figures=2, **way),
                f"{one.back_s:.0f} s" if np.isfinite(one.back_s) else "not within 2 min",
            )
        )
    return table(("touched", "heat it takes", f"the {found.control.place} dips by", "within 5 K again after"), rows)


def two_models(build, found, seconds=60.0):
    """The fast model of the sliders against every step solved, from one start.

    build: Build with a controller. found: its HeldTool.
    seconds: s, watched from the held state with the set point a little higher.
    Returns (Table, largest difference at what is held and at the sensor in K).
    """
    standing, place = found.control.standing, found.control.place
    law = replace(found.law, kind="proportional-integral", set_c=found.law.set_c + 5.0)
    start = standing.settled(found.control.duty)
    from ...thermal.control.modes import fast_run

    fast = fast_run(standing.kept_modes, law, standing.seat.watch, seconds, start_c=start)
    exact = exact_run(standing.seat.net, law, standing.seat.watch, seconds, start_c=start, tol_k=0.1)
    way, rows, worst = {"degrees": build.degrees}, [], 0.0
    at = np.arange(0.0, seconds)
    stepped = exact.run.at(at)
    for name, word in ((place, place), (SENSOR, "sensor"), ("sheath", "winding's mean")):
        a = stepped[:, list(standing.seat.watch[name][0])] @ np.asarray(standing.seat.watch[name][1])
        b = np.interp(at, fast.time_s, fast.temp_c[name])
        off = abs(float(a.mean() - b.mean())) if name == "sheath" else float(np.abs(a - b).max())
        worst = worst if name == "sheath" else max(worst, off)
        rows.append(
            (word, *(say("temp_c", float(x[-20:].mean()), **way) for x in (a, b)), say("rise_k", off, figures=2, **way))
        )
    account = exact.run
    lost = abs(account.closure_j) / account.supplied_j
    kept = "less than a millionth of it" if lost < 1e-6 else f"{lost:.0e} of it"
    rows.append(("heat unaccounted for", kept, "–", "–"))
    return table(("place", "every step solved", "fast model", "apart by"), rows), worst


def full_parts(build):
    """Supply, wire, coil and heat of a build.  build: Build.  Returns tuple."""
    return tuple(chain(build)[:4])
