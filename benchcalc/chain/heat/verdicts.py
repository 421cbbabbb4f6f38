"""The verdicts on temperatures: wire, parts, what is melted.  Wood and hand: chain.handle.verdicts."""

from dataclasses import replace

import numpy as np

from ...basics.names import say
from ...basics.tables import rows, source_words
from ...materials.alloys import alloy_name, alloy_value, most_of_all
from ...sheet.change import item
from ..verdict import Limit, judge, unknown
from .far_from_tip import far_words
from .glow_verdicts import BARE, finish_checks, glow_checks
from .holding_lacks import holding_words
from .lacking import waits_for
from .melting_wire import alloy_melts_c
from .solid_verdicts import solid_checks

HOTTEST = "hottest wire"


def heat_checks(build, heat, bands, lacks=()):
    """Verdicts that the settled temperatures allow.

    build: Build. heat: HeatPart, or None. bands: path -> Band. lacks: words of what is missing, of `heat_lacks`.
    Returns list of Verdict.
    """
    if heat is None:
        return _without_parts(build, lacks)
    if heat.refused:
        return [unknown("temperatures", "temp_c", why="Not worked out: " + heat.refused.replace("\n", " "))]
    made = [wire_check(build, heat, bands)] if build.coil is not None and build.coil.wire else []
    made += [_tails(build, heat, bands)] if made else []
    made += glow_checks(build, heat, bands) + finish_checks(build, heat) + solid_checks(build, heat, bands)
    made += [_wanted(build, heat, bands), *_work(build, heat, bands)]
    made += [
        unknown(
            f"conductivity of {name}",
            "temp_c",
            why="It is hotter or colder than its table reaches; the table's last "
            "value is held, so the answer is a guess there.",
        )
        for name in heat.beyond
    ]
    return [v for v in made if v is not None]


def _without_parts(build, lacks):
    """A coil whose temperatures nobody knows is not fine, whatever its watts."""
    if build.coil is None:
        return []
    why = (
        f"Not worked out. Missing: {waits_for(lacks)}."
        if lacks
        else "Not worked out: it takes the coil's power, and parts along the axis with the coil on one of them."
    )
    return [unknown("temperatures", "temp_c", why=why)]


def wire_check(build, heat, bands):
    """The verdict on the coil's hottest wire.

    build: Build with a coil and its wire. heat: HeatPart that is not refused. bands: path -> Band.
    Returns Verdict.
    """
    wire = item(build.wire, build.coil.wire)
    limit = alloy_value(wire.alloy, "service_limit_c") if wire.alloy else None
    if not wire.alloy:
        return _unnamed_wire(build, heat, bands)
    if limit is None:
        open_one = unknown(HOTTEST, "wire_c", why=f"The table has no limit for {alloy_name(wire.alloy)}.")
        return replace(open_one, value=heat.wire_c)
    melts_c = alloy_melts_c(wire.alloy)
    why = f"Long service of {alloy_name(wire.alloy)} in air; thin wire dies earlier."
    if np.any(heat.wire_c >= melts_c):
        why = f"On these watts it melts, from {say('wire_c', melts_c, degrees=build.degrees)}. {why}"
    why = f"{why} {far_words(build, heat)}".rstrip()
    judged = judge(
        HOTTEST,
        "wire_c",
        heat.wire_c,
        Limit(limit.value, "at most", source_words(limit.source_id)),
        why=why,
        band=bands.get("heat.wire_c"),
    )
    return replace(judged, melts_c=melts_c)


def _unnamed_wire(build, heat, bands):
    """The wire whose alloy nobody has named: over where no alloy of the list serves so hot, else not known."""
    (key, most), why = most_of_all("service_limit_c"), "Nobody has named the wire's alloy"
    past, melts_c = np.asarray(heat.wire_c) > most.value, alloy_melts_c(None)
    if not np.any(past):
        open_one = unknown(HOTTEST, "wire_c", why=f"{why}, so it is not known what it stands.")
        return replace(open_one, value=heat.wire_c)
    way = {"degrees": build.degrees}
    why += f"; of the list {alloy_name(key)} serves hottest in air, to {say('limit_c', most.value, **way)}"
    if np.any(heat.wire_c >= melts_c):
        why += f", and the last of them begins to melt at {say('limit_c', melts_c, **way)}"
    why = f"{why}. {far_words(build, heat)}".rstrip()
    limit = Limit(most.value, "at most", source_words(most.source_id))
    judged = judge(HOTTEST, "wire_c", heat.wire_c, limit, why=why, band=bands.get("heat.wire_c"))
    if past.ndim:
        margin = np.where(past, judged.margin, np.nan)
        judged = replace(judged, margin=margin, state=np.where(past, judged.state, "not known"))
    return replace(judged, melts_c=melts_c)


def _tails(build, heat, bands):
    """The tails against the alloy's limit, where they are of the coil's own wire and hotter than the winding."""
    alloy = item(build.wire, build.coil.wire).alloy
    limit = alloy_value(alloy, "service_limit_c") if alloy else None
    if limit is None or build.coil.tails.material is not None or not np.any(heat.tails_c > heat.wire_c):
        return None
    judged = judge(
        "tails, hotter than the winding",
        "tails_c",
        heat.tails_c,
        Limit(limit.value, "at most", source_words(limit.source_id)),
        why=f"They are of the same wire: long service of {alloy_name(alloy)} in air. More strands or copper cool them.",
        band=bands.get("heat.tails_c"),
    )
    return replace(judged, melts_c=alloy_melts_c(alloy))


def _wanted(build, heat, bands):
    """Whether the tip reaches the temperature that the sheet wants."""
    if build.want.tip_c is None:
        return None
    no_tip = np.all(np.isnan(heat.tip_c))
    why = "No part of the sheet has the role of a tip." if no_tip else "Left on, without control, it settles here."
    if not no_tip and not np.ndim(heat.tip_c) and np.all(heat.tip_c < build.want.tip_c):
        why = f"{why} {far_words(build, heat)}".rstrip()
    return judge(
        "tip against the wanted temperature",
        "tip_c",
        heat.tip_c,
        Limit(build.want.tip_c, "at least", "your own sheet", wish=True),
        band=bands.get("heat.tip_c"),
        why=why,
    )


def _work(build, heat, bands):
    job = job_row(build.want.job) if build.want.job else None
    if job is None:
        return
    work = not np.all(np.isnan(heat.work_c))
    bare = build.coil is not None and build.coil.mounting == BARE
    at, key = (
        (heat.work_c, "heat.work_c") if work else (heat.wire_c, "heat.wire_c") if bare else (heat.tip_c, "heat.tip_c")
    )
    what = "what is melted, left on" if work else "wire, left on" if bare else "tip, left on"
    if np.all(np.isnan(at)):
        return
    why = f"Never above this for: {job['job']}. Without control the tool settles here by itself."
    if not bare and np.any(np.asarray(at) > job["never_c"]):
        why += " " + holding_words(build)
    yield judge(
        what,
        key.split(".")[1],
        at,
        Limit(job["never_c"], "at most", source_words(job["source_id"])),
        why=why,
        band=bands.get(key),
    )
    yield judge(
        "hot enough for the job",
        key.split(".")[1],
        at,
        Limit(job["low_c"], "at least", source_words(job["source_id"]), advice=True),
        why=f"Working range for: {job['job']}, its lower end.",
        band=bands.get(key),
    )


def job_row(text):
    """The row of data/work.csv behind a job's name, or None.

    text: job or other spelling.
    """
    wanted = " ".join(str(text).lower().split())
    for row in rows("work"):
        if wanted in (w.strip().lower() for w in (row["job"], *(row["words"] or "").split(";"))):
            return row
    return None
