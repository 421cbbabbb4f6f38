"""The card's rows before any wire is cut: the gate, the supply on the day, fuse and cut-out.  No physics here."""

from dataclasses import replace

import numpy as np

from ...basics.band import Band, band_of
from ...basics.names import say
from ...heater import protection
from ...heater.supply import LIMITS, TRIPS
from ...sheet.learned import of_that_day
from ...sheet.teachable import MAINS
from .expected import band_at
from .record import CardRow, CardSection

PLUGGED = ("transformer", "switching supply", "bench supply")
OPEN = "supply.open_v"


def gate(build, workings):
    """The gate before anything is plugged in.

    build: Build. workings: Workings.
    Returns CardSection.
    """
    supply, found = build.supply, []
    found.append(CardRow("gate.plate", "Plate: volts, amps, VA, class", words="copy it, or write: none"))
    if supply.kind in PLUGGED:
        found += [
            CardRow(
                "gate.plug",
                "Its own plug and cord, whole; closed case",
                words="yes",
                outside="No: stop. The mains side is for a licensed person.",
            ),
            CardRow(
                "gate.isolation",
                "What shows that its two sides are isolated: a mark, a test",
                words="write what and by whom",
                outside="Nothing: do not build with it. A meter that shows no connection is no proof.",
            ),
        ]
    limit = next((v for v in workings.of("supply") if v.key == "open_v" and not v.advice), None)
    says = "Stop: do not build with it." if limit is None or not np.isfinite(limit.limit) else ""
    if not says:
        says = f"Past {say('open_v', limit.limit)} no longer extra-low: stop."
    open_v = None if workings.supply is None or workings.supply.how == "one reading" else band_at(workings, OPEN)
    words = "" if open_v else "not known yet: read it with nothing connected"
    found.append(CardRow("gate.open_v", "Volts, nothing connected", "open_v", open_v, words, outside=says))
    return CardSection("1  Before anything is plugged in", tuple(found))


def supply_today(build, workings):
    """The supply's line on the day.

    build: Build. workings: Workings.
    Returns CardSection.
    """
    known = build.known.get("supply.mains")
    mains = None if known is None else Band(build.supply.mains, known.low, known.high)
    day = "battery, against its volts when the sheet was read" if build.supply.kind == "battery" else "mains volts"
    found = [
        CardRow(
            "line.mains",
            f"Today's {day}: write them",
            "",
            words=_share_words(build, mains),
            outside="Compare like days.",
        ),
        CardRow("line.source_ohm", "Source resistance: (no-load − loaded volts) / amps", "source_ohm"),
        CardRow("line.most_w", "The most that any coil can get, its tails counted to it", "load_w"),
    ]
    source = None if workings.supply is None or workings.supply.how == "one reading" else "supply.source_ohm"
    found[1] = replace(
        found[1],
        expected=None if source is None else band_at(workings, source),
        words="" if source else "not known: one more reading with another load",
        outside="Higher: a poor contact, or warm copper. Read both within a minute.",
    )
    found[2] = replace(found[2], expected=band_at(workings, "supply.most_power_w"), ask=False)
    if build.supply.kind in LIMITS and build.supply.limit_a is not None:  # it holds its volts up to there
        label = f"up to {say('limit_a', build.supply.limit_a)}, by its label"
        found[1] = CardRow("line.limit_a", "It holds its volts", words=label, ask=False)
    loaded = None if source is None else _loaded(build, workings)
    return CardSection("2  The supply today", tuple(r for r in (found[0], loaded, *found[1:]) if r is not None))


def _loaded(build, workings):
    """The volts that the line has under the load of the sheet's own last reading."""
    amps = next((float(r.amps_a) for r in reversed(build.supply.reading) if r.amps_a), None)
    line = band_at(workings, "supply.source_ohm"), band_at(workings, OPEN)
    if amps is None or None in line:
        return None
    of, drawn = ("supply.open_v", "supply.source_ohm"), workings.drawn
    volts = line[1].nominal - amps * line[0].nominal
    many = [volts] if drawn is None else drawn.outcomes[of[0]] - amps * drawn.outcomes[of[1]]
    what = f"Volts with {say('load_a', amps)} flowing, a minute at most"
    return CardRow("line.loaded_v", what, "load_v", band_of(volts, many))


def _share_words(build, mains):
    told = [] if mains is None else [f"the bands hold for {mains.low:.0%} to {mains.high:.0%} of the sheet's day"]
    day = next((e for e in of_that_day(build).learned if e.path == MAINS), None)
    if day is not None:
        told.append(f"{day.value:.0%} ({day.low:.0%} to {day.high:.0%}) when the tool was read")
    return "; ".join(told)


def fuse(build, workings):
    """Fuse and cut-outs with their places.

    build: Build. workings: Workings.
    Returns CardSection.
    """
    bench, found = workings.bench, []
    if bench is not None and np.isfinite(bench.fuse_a):
        where = (
            "at the battery's terminal" if build.supply.kind == "battery" else "in the low-voltage lead, at the supply"
        )
        unsure = ", if any: its own limit protects" if build.supply.kind in TRIPS else ""
        kinds = "; ".join(f"{kind}: {say('load_a', amps)}" for kind, amps, _ in protection.breaking(bench.fuse_a))
        found += [
            CardRow("fuse.rating", f"Fuse {where}", "", words=f"{bench.fuse_a:g} A, {bench.fuse_kind}{unsure}"),
            CardRow("fuse.breaks", "It can break (by kind of fuse)", words=kinds, ask=False),
            CardRow("fuse.short_a", "A dead short at the handle draws", "short_a", band_at(workings, "bench.short_a")),
        ]
        opens = bench.latest_s
        words = "not known" if np.isnan(opens) else "no promise" if np.isinf(opens) else f"within {_seconds(opens)}"
        acts = next((v for v in workings.of("bench") if v.key == "latest_s"), None)
        found.append(
            CardRow("fuse.opens", "and then the fuse opens", words=words, ask=False, outside=acts.why if acts else "")
        )
        found[2] = replace(found[2], ask=False, words="" if found[2].expected else "not known")
    else:
        said = bench.said if bench is not None and bench.said else "no current is known yet to choose one for"
        found.append(CardRow("fuse.rating", "Fuse in the low-voltage lead", words=said.split("\n")[0]))
    cuts = [v for link, v in workings.verdicts if "cut-out" in v.what and link != "control"]
    found += [
        CardRow(f"fuse.cut_out_{i + 1}", v.what[0].upper() + v.what[1:], words=f"{v.state}: {v.why}")
        for i, v in enumerate(cuts)
    ]
    if not cuts and workings.control is None:
        found.append(CardRow("fuse.cut_out", "Thermal cut-out: rating and place", words="none chosen on this sheet"))
    return CardSection("3  Fuse and cut-out", tuple(found))


def _seconds(time_s):
    return f"{time_s / 60:.2g} min" if time_s >= 100 else f"{time_s:.2g} s"
