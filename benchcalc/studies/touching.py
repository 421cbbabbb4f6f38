"""A held tool touches work: how far what is held and its reading dip, and when they are back."""

from dataclasses import dataclass, replace

import numpy as np

from ..basics.tables import one, rows
from ..chain.heat.verdicts import job_row
from ..sheet.build import Build
from ..thermal.control.held_run import Held, exact_run, looked_at
from ..thermal.control.law import State
from ..thermal.control.seated import WORK, with_work
from ..thermal.network.curves import heat_of, melting
from .holding import HeldTool

TOUCH_WINDOW_S, TOUCH_LOOK_S = 4.0, 1.0  # a dip of many seconds needs no finer pulses
EVERY_S = 0.25  # a dip is looked for this often, whenever the switch moves
BACK_K = 5.0
TURNED = 0.95  # share of the time watched: a dip that is lowest later than that may still go on
WATCHED_S, LONGEST_S = 120.0, 1800.0


@dataclass(frozen=True)
class Touch:
    """What a touch does.  dip_k: of what is held, after lowest_s. back_s: until it is within 5 K again, 0 where it
    never leaves that, nan if not in the time watched. energy_j: heat that the work takes in all. run: Held."""

    words: str
    dip_k: float
    lowest_s: float
    back_s: float
    energy_j: float
    run: Held


def touched(build: Build, found: HeldTool, touch: str | None = None, until_s: float = WATCHED_S) -> Touch:
    """The tip touches work, held until then.

    build: Build with a controller. found: its HeldTool. touch: of data/touches.csv, None for the sheet's own, else for
    the job's, else a joint. until_s: s; watched for longer, up to half an hour, where it is not back by then.
    Returns Touch, stepped exactly; worked out once for each held tool.
    """
    row = touch_row(build, touch)
    kept = found.kept.setdefault("touched", {})
    key = (row["touch"], until_s)
    if key not in kept:
        one = _touched(build, found, row, until_s)
        while np.isnan(one.back_s) and one.run.time_s[-1] < LONGEST_S:
            one = _touched(build, found, row, min(4 * one.run.time_s[-1], LONGEST_S))
        kept[key] = one
    return kept[key]


def _touched(build, found, row, until_s):
    seat, control = found.control.standing.seat, found.control
    job = one("work", "job", row["job"])
    melts_j_k = row["melts_kg"] * job["specific_heat_j_kgk"]
    capacity = row["mass_kg"] * row["specific_heat_j_kgk"] + (melts_j_k if row["melts_kg"] < row["mass_kg"] else 0.0)
    latent = row["melts_kg"] * (job["latent_j_kg"] or 0.0)
    low, high = job["melting_low_c"], job["melting_high_c"]
    content = melting(capacity, low, high, latent) if latent and low is not None else None
    (node,), _ = seat.watch[control.place]
    net = with_work(seat.net, node, capacity, row["contact_w_k"], content)
    at = net.names.index(WORK)
    watch = {n: (tuple(k + (k >= at) for k in nodes), w) for n, (nodes, w) in seat.watch.items()}
    start = np.insert(control.standing.settled(control.duty), at, build.room.ambient_c)
    law = replace(found.law, window_s=max(found.law.window_s, TOUCH_WINDOW_S), look_s=TOUCH_LOOK_S)
    run = exact_run(net, law, watch, until_s, start_c=start, state=State(True, control.duty), tol_k=0.1)
    run = looked_at(run, watch, EVERY_S)
    curve = run.temp_c[control.place]
    low_at = int(curve.argmin())
    back = np.flatnonzero(curve[low_at:] >= control.held_c - BACK_K)
    back_s = float("nan")
    if back.size and low_at < TURNED * (curve.size - 1):
        back_s = 0.0 if back[0] == 0 else float(run.time_s[low_at + back[0]])  # it never left that, or came back to it
    end_c, room_c = float(run.run[WORK]), build.room.ambient_c
    taken = heat_of(content, end_c) - heat_of(content, room_c) if content else capacity * (end_c - room_c)
    return Touch(
        row["words"],
        float(max(control.held_c - curve.min(), 0.0)),
        float(run.time_s[low_at]),
        back_s,
        float(taken),
        run,
    )


def touch_row(build, touch=None):
    """The row of data/touches.csv that fits a build.

    build: Build with a controller. touch: its name, or None.
    Returns dict.
    """
    known = {r["touch"]: r for r in rows("touches")}
    job = job_row(build.want.job) if build.want.job else None
    of_job = None if job is None else next((k for k in ("wax", "insert", "solder") if k in job["job"]), None)
    guess = {"wax": "cold wax", "insert": "insert"}.get(of_job, "joint")
    return known[touch or build.control.touch or guess]


def touches_of(found):
    """Names of the touches that a tool can meet: a pot is not soldered with, an iron melts no block of wax.

    found: HeldTool.
    """
    melts = found.control.place == "work"
    return [r["touch"] for r in rows("touches") if melts == (r["touch"] == "cold wax")]
