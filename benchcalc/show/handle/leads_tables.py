"""Tables of the lead-out: temperatures on the way, other tails side by side, ways of earthing."""

from dataclasses import replace

import numpy as np

from ...basics.fault import Fault
from ...basics.names import say
from ...basics.tables import rows as _rows
from ...chain.leads.link import work_leads
from ...chain.leads.verdicts import unlike_tails
from ...chain.wire.link import tail_section
from ...chain.workings import chain
from ...sheet.roles import part_with_role
from ..page.table import table


def way_out(build, workings):
    """Temperatures along the tails from the coil to the cable.

    build: Build. workings: Workings.
    Returns Table.
    """
    heat, leads = workings.heat, workings.leads
    if leads is None or np.isnan(leads.way_m):
        return table(("tails",), [("No tails run rearward through this tool.",)])
    doubt = unlike_tails(build, leads)
    if doubt:
        return table(("tails",), [(doubt,)])
    places, temps = heat.model.along("leads", heat.temps_c)
    handle = part_with_role(build, "handle", placed=True)
    spots = (
        [("behind the coil", float(places[0]))]
        + ([("where the handle begins", handle.from_m)] if handle is not None else [])
        + [("joint to the cable", leads.at_m)]
    )
    out = [
        (
            word,
            say("length_m", at, units=build.units),
            say("temp_c", float(np.interp(at, places, temps)), degrees=build.degrees),
        )
        for word, at in spots
    ]
    if np.isfinite(leads.carried_w):
        out.append(("heat they carry into the handle", "–", f"{leads.carried_w:.2g} W"))
    return table(("place on the tails", "from the tip", "settles at"), out)


def other_tails(build, workings):
    """Tails of other kinds in the same tool.

    build: Build. workings: Workings.
    Returns Table.
    """
    if workings.leads is None or np.isnan(workings.leads.way_m):
        return table(("tails",), [("No tails run rearward through this tool.",)])
    tails = replace(build.coil.tails, resistance_ohm=None, length_m=build.coil.tails.length_m or workings.leads.way_m)
    cases = [("as on the sheet", build.coil.tails)]
    cases += [
        (word, replace(tails, strands=n, material=None))
        for word, n in (("own wire, single", 1), ("own wire, doubled", 2), ("own wire, trebled", 3))
    ]
    section_m2 = tail_section(tails)
    copper = replace(tails, material="copper", section_m2=section_m2, strands=1)
    cases.append((f"copper, {say('area_m2', section_m2, figures=2)} each", copper))
    out, way = [], {"degrees": build.degrees}
    for word, one in cases:
        try:
            with_these = replace(build, coil=replace(build.coil, tails=one))
            _, wire, coil, heat, _ = chain(with_these)
            leads = work_leads(with_these, wire, coil, heat)
        except Fault as told:
            out.append((word, str(told), "–", "–", "–"))
            continue
        if heat is None or heat.refused or leads is None:
            out.append((word, "no temperatures can be told with these", "–", "–", "–"))
            continue
        out.append(
            (
                word,
                say("tails_w", coil.tails_w),
                say("tails_c", leads.tails_c, **way) if np.isfinite(leads.tails_c) else "not known",
                say("entry_c", heat.entry_c, **way),
                "cannot be: too few ohms for this wire"
                if unlike_tails(with_these, leads)
                else say("joint_c", leads.joint_c, **way),
            )
        )
    return table(
        (
            "tails as long as their way to the joint",
            "heat made in them",
            "hottest",
            "tube at the handle",
            "joint to the cable",
        ),
        out,
    )


def earthing():
    """Ways to treat the tool's bare metal, each with what a fault does.  Returns Table."""
    return table(
        ("way", "practice", "a first fault", "a second fault", "when the work is earthed"),
        [(r["way"], r["practice"], r["first_fault"], r["second_fault"], r["work_on_earth"]) for r in _rows("earthing")],
    )
