"""The tool in time: warming up, cooling down, the power for a temperature."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.fault import closest, fault
from ...basics.names import say
from ...basics.tables import rows
from ...sheet.build import Build
from ...sheet.change import change
from ...sheet.roles import ids_by_role
from ...thermal.network.warm_up import warm_up
from ...thermal.tool.model import model_of
from ..wire.coil import CoilPart
from ..wire.link import WirePart
from .link import nominal_heat, work_heat
from .part import HeatPart
from .places import entry_of
from .tool_of import tool_of
from .verdicts import job_row

HOUR_S = 3600.0
NEAR_K = 5.0
CLOSURE_TOLERANCE_K = 0.1  # per step: keeps the energy account within 1e-4 of what was supplied


@dataclass(frozen=True, eq=False)
class Warming:
    """A run: times (s) and the temperatures that matter at each (degC), nan where the tool has no such place."""

    time_s: np.ndarray
    tip_c: np.ndarray
    wire_c: np.ndarray
    entry_c: np.ndarray
    grip_c: np.ndarray
    work_c: np.ndarray
    hottest_metal_c: np.ndarray
    supplied_j: float
    stored_j: float
    lost_j: float
    closure_j: float
    model: object
    run: object


def warming(
    build: Build,
    wire: WirePart,
    coil: CoilPart,
    heat: HeatPart,
    *,
    until_s: float = HOUR_S,
    points: int = 361,
    cooling: bool = False,
) -> Warming:
    """Switch on from cold, or off from hot, and watch.

    build, wire, coil, heat: parts of the chain (floats). until_s: s, above 0. points: number of times.
    cooling: switched off, from the settled tool on.
    Returns Warming.  Power is taken as steady: the hot factor is that of the settled wire.
    Raises Fault where no heat was worked out.
    """
    model = _model(heat)
    share = 0.0 if cooling else 1.0
    net = replace(model.net, power_w=model.net.power_w * share)
    start = heat.temps_c if cooling else None
    run = warm_up(net, until_s, start_c=start, tol_k=CLOSURE_TOLERANCE_K)
    time_s = np.linspace(0.0, until_s, points)
    temps = run.at(time_s)
    excess = heat.excess_k * share * (time_s > 0)  # built up within seconds, and gone as fast
    found = places_in_time(model, temps, excess)
    return Warming(
        time_s,
        *(found[key] for key in ("tip_c", "wire_c", "entry_c", "grip_c", "work_c", "hottest_metal_c")),
        run.supplied_j,
        run.stored_j,
        run.lost_j,
        run.closure_j,
        model,
        run,
    )


def places_in_time(model, temps_c, excess_k):
    """The temperatures that matter, at many moments, of one design or many.

    model: Model. temps_c: degC (times, nodes), or (times, designs, nodes) where the model has designs. excess_k: how
    much hotter the wire is than its winding, K (times,) or (times, designs).
    Returns {field of Warming: degC (times,) or (times, designs)}, nan where the tool has no such place.
    """
    roles, none = ids_by_role(model.tool.pieces), np.full(temps_c.shape[:-1], np.nan)
    wooden = next((p.rings > 1 for p in model.tool.pieces if p.role == "handle"), False)

    def first(role):
        return model.along(roles[role], temps_c)[1][..., 0] if role in roles else none

    metal = [model.along(p.id, temps_c)[1].max(axis=-1) for p in model.tool.pieces if p.role != "handle"]
    return {
        "tip_c": first("tip"),
        "wire_c": model.along("coil", temps_c)[1].max(axis=-1) + excess_k,
        "entry_c": np.broadcast_to(entry_of(model, temps_c, roles), none.shape) if "handle" in roles else none,
        "grip_c": model.shell(f"{roles['handle']} skin", temps_c)[1].max(axis=-1) if wooden else none,
        "work_c": first("work"),
        "hottest_metal_c": np.max(metal, axis=0),
    }


def _model(heat):
    if heat is None or heat.model is None or heat.model.designs:
        raise fault(
            "heat",
            "",
            "has not been worked out for this sheet.",
            heat.refused
            if heat is not None
            else "It needs parts with places along the axis, and a coil on one of them.",
        )
    return heat.model


def time_to(time_s: np.ndarray, values_c: np.ndarray, wanted_c: float) -> float:
    """First time at which a rising curve reaches a temperature.

    time_s: s (n,). values_c: degC (n,). wanted_c: degC.
    Returns s, on a straight line between points; nan where it never does.
    """
    above = np.flatnonzero(values_c >= wanted_c)
    if above.size == 0:
        return float("nan")
    i = int(above[0])
    if i == 0:
        return float(time_s[0])
    share = (wanted_c - values_c[i - 1]) / (values_c[i] - values_c[i - 1])
    return float(time_s[i - 1] + share * (time_s[i] - time_s[i - 1]))


def time_below(time_s, values_c, wanted_c):
    """Last time at which a falling curve is still above a temperature.

    time_s: s (n,). values_c: degC (n,). wanted_c: degC.
    Returns s; 0 where it never is, nan where it is still above at the end.
    """
    above = np.flatnonzero(values_c > wanted_c)
    if above.size == 0:
        return 0.0
    i = int(above[-1])
    if i == len(time_s) - 1:
        return float("nan")
    share = (values_c[i] - wanted_c) / (values_c[i] - values_c[i + 1])
    return float(time_s[i] + share * (time_s[i + 1] - time_s[i]))


def power_for(
    build: Build, wire: WirePart, coil: CoilPart, wanted_c: float, *, at: str = "tip_c", most_w: float = 3000.0
) -> float:
    """Power in the coil at which a place settles at a temperature.

    build, wire, coil: parts of the chain (floats). wanted_c: degC, above the room. at: a temperature of
    HeatPart ("tip_c", "wire_c", "entry_c", "grip_c", "work_c"). most_w: W, where the search ends.
    Returns W.  The temperature rises with power, so there is one answer; radiation makes it less than
    in proportion.
    Raises Fault: at or below the room, out of reach of most_w, no such place on this tool.
    """
    from scipy.optimize import brentq

    ambient = build.room.ambient_c
    wanted, room = (say("temp_c", c, degrees=build.degrees) for c in (wanted_c, ambient))
    if wanted_c <= ambient:
        raise fault("wanted temperature", wanted, f"is not above the room ({room}).")

    kept = [None]

    def off(power_w):
        heat = work_heat(build, wire, coil, power_w, near=kept[0])
        kept[0] = nominal_heat(heat)
        if heat is None or heat.refused or np.isnan(getattr(heat, at)):
            raise fault("power for a temperature", at, "has no such place on this tool.", heat.refused if heat else "")
        return getattr(heat, at) - wanted_c

    high = 10.0
    while off(high) < 0:
        high *= 2
        if high > most_w:
            raise fault("wanted temperature", wanted, f"is out of reach of {most_w:g} W.")
    return float(brentq(off, 1e-6, high, xtol=1e-3))


def time_for_job(build: Build, wire: WirePart, coil: CoilPart, heat: HeatPart) -> tuple[float, float, str]:
    """Time after switching on until the tool is hot enough for the sheet's job.

    build, wire, coil, heat: parts of the chain (floats).
    Returns (time s, nan where it never is; temperature degC; which place).  The lower end of the job's
    working range in data/work.csv counts.
    Raises Fault: no job on the sheet, or none of that name.
    """
    job = job_row(build.want.job) if build.want.job else None
    if job is None:
        raise fault(
            "want.job",
            build.want.job or "",
            "is no job in data/work.csv.",
            closest(build.want.job or "", [r["job"] for r in rows("work")]),
        )
    run = warming(build, wire, coil, heat, until_s=3 * HOUR_S, points=1081)
    place, values = ("work", run.work_c) if np.isfinite(run.work_c[0]) else ("tip", run.tip_c)
    return time_to(run.time_s, values, job["low_c"]), job["low_c"], place


def safe_after(
    build: Build, wire: WirePart, coil: CoilPart, heat: HeatPart, *, touch_s: float = 1.0
) -> tuple[float, float]:
    """Time after switching off until no metal burns at a touch.

    build, wire, coil, heat: parts of the chain (floats). touch_s: contact time, s, one of data/touch_limits.csv.
    Returns (time s, limit degC).  In still air, so it errs on the slow side; the handle's wood is left out: it is
    the metal that burns.
    """
    row = next(r for r in rows("touch_limits") if r["surface"] == "metal" and float(r["contact_time_s"]) == touch_s)
    still = model_of(tool_of(change(build, "room.air_speed_m_s", 0.0), wire, coil))  # the same cells, no draught
    run = warming(build, wire, coil, replace(heat, model=still), until_s=3 * HOUR_S, points=1081, cooling=True)
    return time_below(run.time_s, run.hottest_metal_c, row["value"]), row["value"]
