"""The verdicts on the lead-out: joint and cable."""

import numpy as np

from ...basics.names import say
from ...basics.tables import rows, source_words
from ...materials.bulk import solid_key
from ..heat.tails import is_unlike
from ..verdict import Limit, judge, not_applying, unknown
from .limits import SOLDERED, USUAL_SOLDER, lead_limit

MOST_DROP = 0.05  # of the coil's volts (common practice, no source)
PRACTICE = "common practice, no source"


def leads_checks(build, leads, bands):
    """Verdicts on joint and cable.

    build: Build. leads: LeadsPart or None. bands: path -> Band.
    Returns list of Verdict.
    """
    if leads is None:
        return []
    made = [*_cable(leads)]
    if not np.all(np.isnan(leads.way_m)):
        made = [*_joint(build, leads, bands), *made]
    return made


def _source(row):
    return source_words(row["source_id"]) + (
        "; from memory: check the maker's sheet" if row["basis"] == "memory" else ""
    )


def unlike_tails(build, leads):
    """Why the temperatures along the tails cannot be believed, or "": ohms that the coil's own wire cannot have over
    the way.

    build: Build. leads: LeadsPart.
    """
    if not is_unlike(build, leads.tails_ohm, leads.own_ohm):
        return ""
    way = say("length_m", float(np.min(leads.way_m)), figures=2, units=build.units)
    return (
        f"The tails count as {np.min(leads.tails_ohm):.2g} ohm, but the coil's own wire has "
        f"{np.min(leads.own_ohm):.2g} ohm over the {way} to the joint. Under [coil.tails] write their length instead "
        'of ohms, or their metal and its section, e.g. material = "copper" and section = "0.5 mm2".'
    )


def _joint(build, leads, bands):
    out, band = build.lead_out, bands.get("leads.joint_c")
    what = "joint to the cable"
    doubt = unlike_tails(build, leads)
    if doubt:
        yield unknown(what, "joint_c", why=doubt)
        yield unknown(
            "insulation of the cable at the joint", "joint_c", why="Nor can it be told what the cable's end meets."
        )
        return
    if out.joint is None:
        yield unknown(
            what,
            "joint_c",
            why="The sheet does not say how the tails meet the cable: write joint under [lead_out], "
            "crimped, clamped or soldered.",
        )
    elif out.joint == SOLDERED:
        solder = out.solder or USUAL_SOLDER
        row = lead_limit(solder)
        melts = next(
            r["value"]
            for r in rows("metal_values")
            if r["key"] == solid_key(solder)[1] and r["quantity"] == "melting_low_c"
        )
        yield judge(
            what,
            "joint_c",
            leads.joint_c,
            Limit(row["value"], "at most", _source(row)),
            why=(
                "Loaded solder creeps from here on, long before it melts at "
                + say("limit_c", melts, degrees=build.degrees)
                + ("." if out.solder else "; tin-lead taken, since the sheet names no solder.")
            ),
            band=band,
        )
    else:
        yield not_applying(
            what,
            "joint_c",
            why=f"A joint that is {out.joint} holds what the cable's insulation beside it stands.",
            source=PRACTICE,
        )
    yield _insulation(leads, out, band)


def _insulation(leads, out, band):
    """The insulation of the cable where it is joined to the tails."""
    if out.cable is None:
        return unknown(
            "insulation of the cable at the joint",
            "joint_c",
            why='The sheet does not name it: write cable under [lead_out], e.g. "PVC" or "silicone rubber".',
        )
    row = lead_limit(out.cable)
    return judge(
        "insulation of the cable at the joint",
        "joint_c",
        leads.joint_c,
        Limit(row["value"] if row else None, "at most", _source(row) if row else ""),
        why="Past this it softens or turns brittle, and the cores may meet.",
        band=band,
    )


def _cable(leads):
    if not np.all(np.isnan(leads.cable_drop_v)):
        yield judge(
            "volts lost in the cable, as a share",
            "cable_share",
            leads.cable_share,
            Limit(MOST_DROP, "at most", PRACTICE, advice=True),
            why="What is lost here warms the cable instead of the tip.",
        )
