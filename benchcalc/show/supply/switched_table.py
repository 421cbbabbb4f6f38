"""Direct volts that are switched on and off fast: what falls with the share of the time, and what does not."""

import numpy as np

from ...basics.names import say
from ...chain.control.link import line_of
from ...chain.workings import Workings
from ...heater.ways_down import full_watts, trips, way_down
from ...sheet.build import Build
from ..page.table import Table, table
from .tables import instead_of

SHARES = (1.0, 0.5, 0.25, 0.1)


def switched(build: Build, workings: Workings) -> Table:
    """The sheet's coil on its own direct supply behind a fast switch.

    build: Build. workings: Workings.
    Returns Table: watts go with the share of the time, effective amps with its root, peak amps not at all.
    """
    head = ("turned down to", "watts in the coil", "effective amps", "amps while on")
    if (no := instead_of(workings, head[0])) is not None:
        return no
    supply, wire, coil = workings.supply, workings.wire, workings.coil
    if supply is None or supply.output != "DC":
        return table(head[:1], [("Only direct volts are switched this way; yours alternate: take whole cycles.",)])
    if coil is None or not np.isfinite([supply.open_in_use_v, supply.source_in_use_ohm, coil.hot_ohm]).all():
        return table(head[:1], [("This needs the supply's line and a coil on the sheet.",)])
    line = line_of(supply, wire, coil)
    if why := trips(line):
        return table(head[:1], [(f"{why} A smaller share of the time does not help: the peak stays.",)])
    full_w, full_a = full_watts(line)
    rows = [("nothing, no switch", say("coil_w", full_w), say("load_a", full_a), say("load_a", full_a))]
    for share in SHARES[1:]:
        way = way_down(line, "switched DC", share)
        rows.append(
            (
                f"{share:.0%} of those watts",
                say("coil_w", way.coil_w),
                say("load_a", way.equal_a),
                say("load_a", way.peak_a),
            )
        )
    cold_a = supply.open_in_use_v / (supply.source_in_use_ohm + coil.meter_ohm)
    limit = "no limit on the sheet" if supply.limit_a is None else f"the limit is {say('limit_a', supply.limit_a)}"
    caption = f"cold wire asks for {say('load_a', cold_a)} while on; {limit}"
    return table(head, rows, caption)
