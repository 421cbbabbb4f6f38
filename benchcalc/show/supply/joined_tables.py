"""Table of windings joined in series and in parallel."""

import numpy as np

from ...basics.names import say
from ...chain.supply.joined import joined_windings
from ...chain.supply.link import judged_volts, nothing_sized
from ...heater.windings import parallel_line
from ..page.table import table


def joined_lines(build, workings):
    """The sheet's winding alone, and two like it joined: the line that results.

    build: Build. workings: Workings.
    Returns Table.
    """
    rows = []
    for j in joined_windings(build, workings.supply):
        most = "nothing is sized for it" if j.refused else say("most_power_w", j.most_power_w)
        note = j.refused or "within extra-low voltage"
        rows.append((j.word, say("open_v", float(j.open_v)), say("source_ohm", float(j.source_ohm)), most, note))
    return table(
        ("windings", "no load", "source resistance", "most it could give", "no-load voltage"),
        rows or [("The sheet has no transformer whose line is known.", *["–"] * 4)],
    )


def goes_round(build, workings):
    """What goes round between two windings like the sheet's, in parallel, whose volts differ a little, in words.

    build: Build. workings: Workings.
    """
    line = workings.supply
    if line is None or line.kind != "transformer" or nothing_sized(line) or not line.winding_ohm > 0:
        return "no transformer with a known line here"
    return uneven(float(judged_volts(build.supply, line.open_v)[0]), line.winding_ohm)


def uneven(open_v, source_ohm, share=0.02):
    """What goes round between two windings in parallel whose volts differ, in words.

    open_v, source_ohm: of each. share: by which their volts differ, 0 to 0.02.
    """
    _, _, amps = parallel_line(open_v, source_ohm, open_v * (1 - share), source_ohm)
    return f"{share:.0%} apart: {say('load_a', float(np.asarray(amps)))} goes round, with no load at all"
