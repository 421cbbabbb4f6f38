"""Small tables of the control page on the sensor: its place, how it is fixed, and what to dial with it."""

from dataclasses import replace

import numpy as np

from ...basics.names import say
from ...chain.control.standing import dial_for
from ...sheet.build_control import FIXED
from ...studies.held_elsewhere import aim_of, for_wanted, seated, wants, with_own_lag
from ..page.lent import tells_lent
from ..page.table import table
from ..page.words import Words

SAME_M = 1e-3  # so near to its place the sensor is at it


@tells_lent
def seats(build, found):
    """The same set point with the sensor elsewhere: what is really held, and what to dial.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    way, rows = {"degrees": build.degrees, "units": build.units}, []
    seat, aim_c = found.control.standing.seat, aim_of(build, found.law.set_c)
    pieces = [p for p in found.parts[3].model.tool.pieces if p.role not in ("handle", "collar")]
    own = f"yours: {say('length_m', seat.at_m, **way)} on the {seat.on}"
    places = [(f"{own}, {fixed}", seat.on, seat.at_m, fixed) for fixed in FIXED]
    for p in pieces:
        ends = ("front", p.from_m), ("middle", (p.from_m + p.to_m) / 2)
        there = ((word, at) for word, at in ends if p.id != seat.on or abs(at - seat.at_m) >= SAME_M)
        places += [(f"{word} of the {p.id}", p.id, at, None) for word, at in there]
    for word, on, at, fixed in places:
        sensor = replace(build.sensor, on=on, at_m=float(at), attached=fixed or build.sensor.attached)
        got = seated(with_own_lag(replace(build, sensor=sensor)), found)
        if got is None:
            rows.append((word, "never gets there: it would stay on for ever", "–", "–"))
            continue
        dial = dial_for(got.standing, got.place, aim_c)
        told = say("temp_c", dial, **way) if np.isfinite(dial) else "out of reach"
        doubt = say("doubt_k", got.doubt_k, figures=2, degrees=build.degrees)
        rows.append((word, say("temp_c", got.held_c, **way), f"± {doubt}", told))
    place, dialled, aim = found.control.place, *(say("temp_c", c, **way) for c in (found.law.set_c, aim_c))
    head = ("sensor", f"dialled {dialled}, the {place} is", "give or take", f"for {aim} there, dial")
    note = f"held at steady watts: {found.law.kind} swings about that"
    bias = found.control.mean_c - found.control.held_c
    if abs(bias) >= 1.0:
        more = "higher" if bias > 0 else "lower"
        note += f", unevenly: its mean lies {say('rise_k', abs(bias), figures=2, degrees=build.degrees)} {more}"
    return table(head, rows, note)


@tells_lent
def to_dial(build, found):
    """What to dial, with the sensor and the law as they are, for what is held to be at the temperature that is wanted.

    build: Build with a controller. found: its HeldTool.
    Returns (Words, reading to dial in degC, nan where nothing is held or it is out of reach).
    """
    if found.refused:
        return Words("Nothing is held, so there is nothing to dial."), float("nan")
    way, set_c = {"degrees": build.degrees}, found.law.set_c
    aim_c = aim_of(build, set_c)
    _, dial = for_wanted(build, aim_c)
    aim, now = say("temp_c", aim_c, **way), say("temp_c", set_c, **way)
    what = f"To have the {found.control.place} itself at {aim}, on the mean of its swing by {found.law.kind}"
    if not np.isfinite(dial):
        return Words(f"{what}: out of reach with this sensor and these watts."), dial
    told = f"{what}: **dial {say('temp_c', dial, **way)}**."
    doubt = say("doubt_k", found.control.doubt_k, figures=2, **way)
    there = f"; the sensor leaves {doubt} of doubt either way, which no dial takes out."
    told += f" The dial stands at {now}" + (", so it is there already" if abs(dial - set_c) < 1.0 else "") + there
    if not wants(build):
        told += f" No wanted temperature stands on the sheet, so the {aim} of the dial is aimed at: write one first."
    return Words(told), dial
