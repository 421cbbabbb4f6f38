"""What lets one page serve every sheet: fill the gaps it must fill, and say what it cannot derive."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from ...basics.escape import plain_lines
from ...basics.fault import Fault
from ...basics.names import NAMES, say
from ...chain.supply.link import nothing_sized
from ...chain.workings import Workings, chain, links, work_out
from ...sheet.build import Build, Coil
from ...sheet.choose import FIRST_DEMO, load_chosen
from ...sheet.defaults import fill
from ...sheet.roles import part_with_role
from .lesson import Words, sheet_line
from .order import tell_order
from .worked import Derivation, shown_in, worked

HARDLY_WARM_K = 2.0  # a wire that rises less over the room heats nothing


def open_sheet() -> tuple[Build, Words]:
    """The chosen sheet, or the first demo with the faults of the chosen one told.

    Returns (Build, Words): the Words name the sheet and what it borrows.  From here on a cell of the page that comes
    before the ones it rests on says so.
    """
    tell_order()
    try:
        build = load_chosen()
        return build, sheet_line(build)
    except Fault as told:
        demo = load_chosen(FIRST_DEMO)
        faults = plain_lines(told)
        return _lent(), Words(
            f"**Your chosen sheet cannot be read yet.** Mend it and run the page again:\n\n{faults}\n\n"
            f"Until then this page goes on with a demo.\n\n{sheet_line(demo).text}"
        )


def ready(build: Build, *needs: str) -> tuple[Build, Words]:
    """The build a page goes on with, and a sentence on what was put in where the sheet is silent.

    build: Build of the chosen sheet. needs: any of "supply", "wire", "coil", "parts", "power", "tube with a handle".
    Returns (Build, Words).  No coil: a straight piece of the first wire.  No wanted power: that of
    the first demo.  No supply, wire or parts: the first demo stands in for the whole sheet.
    """
    has = {
        "supply": build.supply.kind,
        "wire": build.wire,
        "parts": [p for p in build.part if p.role != "frame"],
        "tube with a handle": _tube_into_handle(build),
    }
    missing = [n for n in has if n in needs and not has[n]]
    if missing:
        return _lent(), Words(
            f"Your sheet names no {' and no '.join(missing)} yet: this page goes on with the demo {FIRST_DEMO}. "
            "Add it to your sheet and come back."
        )
    if "parts" in needs and (why := _no_heat(build)):
        return _lent(), Words(f"{why}\n\n**This page goes on with the demo {FIRST_DEMO}.**")
    told = []
    if "coil" in needs and build.coil is None:
        build = fill(replace(build, coil=Coil(wire=build.wire[0].id)))
        told.append("Your sheet has no coil yet: the page takes a straight piece of your first wire.")
    if "power" in needs and build.want.power_w is None:
        wanted_w = load_chosen(FIRST_DEMO).want.power_w
        build = replace(build, want=replace(build.want, power_w=wanted_w))
        told.append(f"Your sheet wants no power yet: the page takes {wanted_w:g} W.")
    supply = links(build)[0] if "supply" in needs else None
    stops = "" if supply is None else nothing_sized(supply)
    if "coil" in needs and np.isnan(links(build)[2].length_m):
        supply, wire, _ = links(build)
        why = stops or (
            f"the wanted {wire.wanted_w:.3g} W are more than the {wire.most_in_coil_w:.3g} W that this supply can put "
            "into any coil"
            if wire.wanted_w > wire.most_in_coil_w
            else "the supply is not known well enough"
        )
        first = "**Your supply is refused.** " if stops and supply.refused else ""
        return _lent(), Words(
            f"{first}No length of wire can be told for your sheet: {why.rstrip('.')}. Change that in "
            f"00_start_here. **This page goes on with the demo {FIRST_DEMO}: its numbers are not for your supply.**"
        )
    if stops:
        refused = "**Your supply is refused: nothing on this page is sized, planned or tested with it.**"
        told.insert(0, f"{refused if supply.refused else '**Nothing can be sized on your supply yet.**'} {stops}")
    return build, Words("  \n".join(told))


def _no_heat(build):
    """Why there are no temperatures to look at, or ""."""
    heat, none = chain(build)[3], "No temperatures can be worked out for your sheet yet."
    if heat is None:
        why = next((v.why for v in work_out(build, samples=0).of("heat") if v.key == "temp_c"), "")
        lacks = why.removeprefix("Not worked out. ")
        return f"{none} {lacks or 'It needs a coil on one of its parts, and a supply that gives it power.'}"
    if heat.refused:
        return f"{none} {plain_lines(heat.refused)}"
    if heat.wire_c - build.room.ambient_c < HARDLY_WARM_K:
        wire = say("wire_c", heat.wire_c, degrees=build.degrees)
        return f"Your tool hardly warms: its hottest wire settles at {wire}, so there is nothing to look at yet."
    return ""


def _tube_into_handle(build):
    """Whether the tube of a sheet runs into its handle: both have their places, and the handle begins on the tube."""
    tube, handle = (part_with_role(build, role, placed=True) for role in ("tube", "handle"))
    return None not in (tube, handle) and tube.from_m < handle.from_m < tube.to_m


def _lent():
    """The first demo, named as lent at every verdict."""
    demo = load_chosen(FIRST_DEMO)
    return replace(demo, lent=FIRST_DEMO)


def derive(
    fn: Callable, *, on: Build | None = None, fed: Workings | None = None, **values: float | None
) -> Derivation | Words:
    """A worked derivation, or one sentence on what is missing for it.

    fn: a straight function. on: Build whose units it is shown in, None for metric. fed: Workings whose supply must not
    be refused for it, None where it does not matter. values: its arguments, SI; None or nan where not known.
    Returns Derivation, or Words.
    """
    if fed is not None and fed.supply is not None and fed.supply.refused:
        return Words(f"*Not derived here. {plain_lines(fed.supply.refused)}*")
    lacking = [NAMES[k].word for k, v in values.items() if v is None or not np.isfinite(v)]
    if lacking:
        few = lacking[0] if len(lacking) == 1 else f"{', '.join(lacking[:-1])} and {lacking[-1]}"
        return Words(f"*Not derived here: this sheet gives no value that may be used for {few}.*")
    try:
        with np.errstate(all="ignore"):
            made = worked(fn, **values)
    except Fault as told:
        return Words(f"*Not derived here: {told}*")
    except ZeroDivisionError:
        return Words("*Not derived here: with these numbers there is no answer.*")
    if not np.isfinite(made.value):
        return Words("*Not derived here: with these numbers there is no answer.*")
    return made if on is None else shown_in(made, on.units, on.degrees)
