"""Tables of the parts list as a store of heat, and of the log's heat capacity beside it."""

import numpy as np

from ...basics.names import say
from ...chain.log.link import listed_parts
from ...thermal.warmup.as_seen import seen_capacity
from ...thermal.warmup.formulas import no_loss_time, time_near_end, time_to_temp
from ..page.table import table
from .panel import CANNOT_TELL, minutes


def slow_or_not(build, workings, part=None):
    """The parts list as a store of heat: what each part takes, and the shortest time, nothing lost.

    build: Build. workings: Workings. part: LogPart to set beside it, or None.
    Returns Table.
    """
    parts, watts = listed_parts(build, workings.heat), workings.coil.coil_w if workings.coil is not None else np.nan
    if not parts:
        return table(("parts list",), [("This sheet has no parts with lengths and diameters yet.",)])
    room, rows, total = build.room.ambient_c, [], 0.0
    for p in parts:
        heat_j = p.capacity_j_k * (p.mean_c - room)
        total += heat_j
        rows.append(
            (
                p.id,
                say("mass_kg", p.mass_kg) if np.isfinite(p.mass_kg) else "–",
                say("capacity_j_k", p.capacity_j_k),
                say("temp_c", p.mean_c, degrees=build.degrees),
                f"{heat_j / 1000:.2f} kJ",
                minutes(no_loss_time(p.capacity_j_k, p.mean_c - room, watts)),
            )
        )
    rows.append(("all of it", "", "", "", f"{total / 1000:.2f} kJ", minutes(total / watts)))
    if part is not None and part.no_end:
        rows.append(("measured", "", "", CANNOT_TELL, "", CANNOT_TELL))
    elif part is not None:
        near = 0.63 * (part.end_c - part.forecast.shape.start_c) + part.forecast.shape.start_c
        rows.append(
            (
                "measured: 63 % of the rise after",
                "",
                "",
                say("temp_c", near, degrees=build.degrees),
                "",
                minutes(time_to_temp(part.forecast.shape, near)),
            )
        )
        rows.append(
            ("measured: within 5 K of the end after", "", "", "", "", minutes(time_near_end(part.forecast.shape)))
        )
    return table(
        ("part", "mass", "heat capacity", "settles at (mean)", "heat it takes", "at full power, nothing lost"), rows
    )


def capacity_beside(build, workings, part, place_c):
    """Fitted against listed heat capacity.

    build: Build. workings: Workings. part: LogPart. place_c: settled temperature at the probe's place by the model,
    degC.
    Returns (Table, ratio of fitted to listed; nan where one is missing).
    """
    parts = listed_parts(build, workings.heat)
    listed = seen_capacity(parts, place_c, build.room.ambient_c) if parts and np.isfinite(place_c) else np.nan
    ratio = part.capacity_j_k / listed
    meant = (
        "not known"
        if not np.isfinite(ratio)
        else "they agree: metal and watts are what the sheet says"
        if 0.75 <= ratio <= 1.33
        else "more heat goes in than the list holds: metal left out, watts lower than believed, or a probe that "
        "reads low"
        if ratio > 1.33
        else "less than listed: watts higher than believed, or a part that never gets warm is counted"
    )
    return table(
        ("heat capacity as a probe sees it", ""),
        [
            ("fitted to the log", say("capacity_j_k", part.capacity_j_k)),
            ("from the parts list", say("capacity_j_k", listed)),
            ("fitted over listed", f"{ratio:.2f}" if np.isfinite(ratio) else "–"),
            ("what it means", meant),
        ],
    ), ratio
