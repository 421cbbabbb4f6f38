"""The build card: every row worked out from the chain of a sheet, in the order of the bench.  No physics here."""

from dataclasses import replace

from ...basics.names import say
from ...chain.cautions.cautions import cautions_for, is_stop
from ...chain.log.verdicts import opposite_words
from . import coil_rows, control_rows, heated, supply_rows, timed
from .record import Card, CardSection

READ_FIRST = (
    supply_rows.gate,
    supply_rows.supply_today,
    supply_rows.fuse,
    coil_rows.wire,
    coil_rows.winding,
    coil_rows.tails,
)
COLD_OHM = "cold ohms of the finished coil"
POWERED = ("9 ", "10 ", "11 ", "12 ")  # sections with power in the coil
HEATED = (heated.parts, heated.closed, heated.heat_up)


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
        *_not_judged(workings),
        any("cut-out" in v.what for _, v in workings.verdicts),
    )


def _not_judged(workings):
    """(words of what nobody knows, how many limits only rest on what is assumed or borrowed)."""
    unknown = [v for _, v in workings.verdicts if v.state == "not known" and not v.advice]
    return tuple(dict.fromkeys(v.what for v in unknown if not v.note)), sum(bool(v.note) for v in unknown)


def _unjudged(workings):
    """Why there are no temperatures to be judged, "" where there are."""
    if workings.heat is not None and not workings.heat.refused:
        return ""
    told = next((v.why for v in workings.of("heat") if v.key == "temp_c" and v.state == "not known"), "")
    return told or "Not worked out."


def other_coil(build, workings):
    """That the coil as it was read is not the coil that the card reckons with, "" where it is, or nobody read it.

    build: Build. workings: Workings.
    """
    read = next((v for _, v in workings.verdicts if v.what == COLD_OHM and v.state == "over"), None)
    if read is None or build.as_built.cold_ohm is None:
        return ""
    planned, was = say("cold_ohm", workings.coil.meter_ohm), say("cold_ohm", read.value)
    return f"STOP: for the coil as planned, {planned}, not for this one, read as {was}. No power until that is found."


def stopped(sections, stop):
    """The sections, those with power in the coil headed by why there must be none.

    sections: list of CardSection. stop: sentence, "" for none.
    """
    if not stop:
        return sections
    return [
        replace(s, said=f"{stop} {s.said}".strip()) if s.title.startswith(POWERED) and s.rows else s for s in sections
    ]


def _sections(build, workings) -> list[CardSection]:
    return stopped(_planned(build, workings), other_coil(build, workings))


def _planned(build, workings) -> list[CardSection]:
    held = control_rows.on_card(build, workings)
    spread = timed.spread_for(build, workings, held)
    first = [make(build, workings) for make in READ_FIRST]
    fuse = READ_FIRST.index(supply_rows.fuse)
    first[fuse] = replace(first[fuse], rows=(*first[fuse].rows, *control_rows.cut_out_rows(build, held)))
    return [
        *first,
        *(make(build, workings) for make in HEATED),
        control_rows.to_set(build, held),
        control_rows.behind_gate(build, held, heated.at_the_tool(build, workings)),
        control_rows.behind_gate(build, held, timed.in_time(build, workings, spread, held)),
        heated.soaked(build, workings),
        heated.later(build, workings),
    ]
