"""Two windings like the sheet's, joined: the line that results, judged like any other.  No physics here."""

from dataclasses import dataclass, replace

from ...heater.supply import most_with_limit
from ...heater.windings import parallel_line, series_line
from ...sheet.build import Build
from ...sheet.change import change
from .link import SupplyPart, work_supply


@dataclass(frozen=True)
class JoinedWindings:
    """Windings joined one way: word, the line, the most it gives, why it is refused or ""."""

    word: str
    open_v: float
    source_ohm: float
    most_power_w: float
    refused: str


def joined_windings(build: Build, supply: SupplyPart | None):
    """The sheet's transformer alone, and with a second winding like it in series and in parallel.

    build: Build (floats). supply: SupplyPart or None.
    Returns tuple of JoinedWindings; empty for another kind of supply, or without its line.
    """
    if supply is None or supply.kind != "transformer" or supply.refused or supply.unknown:
        return ()
    one = supply.open_v, supply.source_ohm
    lines = (("one winding", one), ("two, in series", series_line(*one, *one)))
    if one[1] > 0:
        lines += (("two, in parallel", parallel_line(*one, *one)[:2]),)
    made = []
    for word, (open_v, source_ohm) in lines:
        bare = replace(build, supply=replace(build.supply, reading=()))
        like = work_supply(change(change(bare, "supply.open_v", float(open_v)), "supply.source_ohm", float(source_ohm)))
        most_w, _ = most_with_limit(like.open_in_use_v, like.source_in_use_ohm, None)
        made.append(JoinedWindings(word, open_v, source_ohm, float(most_w), like.refused))
    return tuple(made)
