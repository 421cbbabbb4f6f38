"""The build card: every row worked out from the chain of a sheet, in the order of the bench.  No physics here."""

from ...chain.cautions.cautions import cautions_for, is_stop
from ...chain.log.verdicts import opposite_words
from . import coil_rows, heated, supply_rows, timed
from .record import Card, CardSection

READ_FIRST = (
    supply_rows.gate,
    supply_rows.supply_today,
    supply_rows.fuse,
    coil_rows.wire,
    coil_rows.winding,
    coil_rows.tails,
)
HEATED = (heated.parts, heated.closed, heated.heat_up, heated.at_the_tool)


def stop_of(build, workings):
    """Why nothing may be built by a sheet.

    build: Build. workings: Workings.
    Returns sentence, "" where it may.
    """
    if workings.supply is not None and workings.supply.refused:
        return workings.supply.refused
    over = [v for v in workings.of("supply") if v.key == "open_v" and v.state == "over" and not v.advice]
    if over:
        return over[0].why
    return ""


def build_card(build, workings):
    """The card of a sheet.

    build: Build (floats). workings: Workings of it, with samples.
    Returns Card; with `stop` said it holds the gate alone.
    """
    stop = stop_of(build, workings)
    cautions = sorted(cautions_for(build, workings), key=lambda r: not is_stop(r))
    sections = [supply_rows.gate(build, workings)] if stop else _sections(build, workings)
    over = tuple(v for _, v in workings.verdicts if v.state == "over" and not v.advice)
    used = dict.fromkeys(v.source for _, v in workings.verdicts if v.source)
    return Card(
        build.name,
        build.invented,
        stop,
        tuple(s for s in sections if s.rows or s.said),
        tuple(cautions),
        tuple(used),
        over,
        _unjudged(workings),
        opposite_words(build, workings),
    )


def _unjudged(workings):
    """Why there are no temperatures to be judged, "" where there are."""
    if workings.heat is not None and not workings.heat.refused:
        return ""
    told = next((v.why for v in workings.of("heat") if v.key == "temp_c" and v.state == "not known"), "")
    return told or "Not worked out."


def _sections(build, workings) -> list[CardSection]:
    spread = timed.spread_for(build, workings)
    return [
        *(make(build, workings) for make in (*READ_FIRST, *HEATED)),
        timed.in_time(build, workings, spread),
        heated.soaked(build, workings),
        heated.later(build, workings),
    ]
