"""The verdicts of the bench: is the transformer cool enough for hours, big enough, and does its fuse act?"""

from dataclasses import replace

import numpy as np

from ...basics.band import Band
from ...basics.tables import source_words
from ...heater import soak
from ...heater.rectified import form_factor
from ..supply.link import nothing_sized
from ..verdict import Limit, judge, not_applying, unknown
from .cable_verdicts import cable_checks
from .cut_out import cut_out_checks
from .fuse_verdicts import fuse_checks
from .hours import ENOUGH
from .link import end_room, mains_hz, soak_end

CHECK = "; from memory: check the standard"
ENOUGH_AMPS = 1.05  # the coil's amps over those of a soak test; with more the test was too easy (own judgement)


def bench_checks(build, supply, bench, bands):
    """Verdicts on soak, core and fuse.

    build: Build. supply, bench: parts or None. bands: path -> Band.
    Returns list of Verdict.
    """
    if bench is None or supply.refused:
        return []
    tested = not np.all(np.isnan(bench.winding_c))  # no test is asked for before the supply's line is known
    return [
        *(_soak(build, bench, bands) if tested or not nothing_sized(supply) else ()),
        *cut_out_checks(build, bench),
        *_core(build, bench, bands),
        *_half_wave(build, bench),
        *fuse_checks(supply, bench, bands),
        *cable_checks(build, supply, bench, bands),
    ]


def _soak(build, bench, bands):
    what = "supply's winding after hours of load"
    if build.supply.kind != "transformer":
        yield not_applying(
            what,
            "winding_c",
            why="Only a transformer is judged by its winding; another supply has a label and a limit.",
        )
        return
    limit, row = soak.class_limit(int(build.soak.winding_class or 105))
    source = source_words(row["source_id"]) + CHECK
    if not np.ndim(bench.winding_c) and np.isnan(bench.winding_c):
        yield unknown(
            what,
            "winding_c",
            source=source,
            why="No soak test on the sheet. Volts that hold up prove nothing: read the primary cold, load the supply "
            "for some hours, and unplug it for each reading. Stop at any smell, or when the core is too hot to hold.",
        )
        return
    if "do not fall" in bench.said:
        yield unknown(what, "winding_c", why=bench.said + " Take the readings again.", source=source)
        return
    band = _at_most_amps(build, bands)
    lacks = " ".join(said for said in (_amps_lack(build, bench), _hours_lack(build, bench)) if said)
    why = f"Mean of the winding, from its ohms; class {build.soak.winding_class or 105:g}" + (
        " taken, since the transformer bears no mark." if build.soak.winding_class is None else "."
    )
    why += "".join(f" {said}" for said in (lacks, bench.said) if said)
    made = judge(what, "winding_c", bench.winding_c, Limit(limit, "at most", source), why=why, band=band)
    too_short = np.isfinite(bench.settled_k) and _too_short(bench)
    if too_short and made.state != "over":
        why += " The hours were too short to settle: go on."
        made = unknown(what, "winding_c", why=why, source=source)
    yield _unless_over(build, bench, made, lacks)
    if np.isfinite(bench.settled_k):
        made = _heading(build, bench, Limit(limit, "at most", source), _most_over_tested(build, bands))
        yield _unless_over(build, bench, made, lacks)


def _unless_over(build, bench, made, lacks):
    """A verdict of a test at too few amps, or at amps that nobody wrote down: over, or else not known."""
    amps, used = build.soak.load_a, bench.winding_a
    if amps is not None and (np.ndim(used) or np.ndim(amps)):
        lacking, margin, state = np.broadcast_arrays(used > ENOUGH_AMPS * amps, made.margin, made.state)
        return replace(made, state=np.where(lacking & ~(margin < 0), "not known", state))
    if not lacks or np.any(np.asarray(made.state) == "over"):
        return made
    why = made.why if lacks in made.why else f"{made.why} {lacks}"
    return unknown(made.what, made.key, why=why, source=made.source)


def _amps_lack(build, bench):
    """What is wrong with the amps of a soak test, or ""."""
    amps, used = build.soak.load_a, bench.winding_a
    if amps is None:
        return "The test says no amps, so nobody knows what it tells of: write amps = ... under [soak]."
    if not np.ndim(used) and not np.ndim(amps) and used > ENOUGH_AMPS * amps:
        return f"The coil draws {used:.3g} A, more than the {amps:.3g} A of the test: it will be hotter. Test again."
    return ""


def _hours_lack(build, bench):
    """What is wrong with the hours of a soak test, or ""."""
    if np.ndim(bench.winding_c) or soak_end(build) is not None:
        return ""
    return (
        "Fewer than three readings over the hours tell where they lead: nobody knows whether it had settled. Write "
        "more of them under [[soak.hour]], each with hours and ohm."
    )


def _at_most_amps(build, bands):
    """Band of the winding after the test, its high end with the most amps that the coil may draw."""
    band, room = bands.get("bench.winding_c"), end_room(build)
    if band is None:
        return None
    return Band(band.nominal, band.low, room + (band.high - room) * _most_over_tested(build, bands))


def _most_over_tested(build, bands):
    """By how much a winding may rise more than in its test: the most amps of the coil over those of the test, squared,
    at least 1; 1 where either is not known."""
    used, amps = bands.get("bench.winding_a"), build.soak.load_a
    if used is None or amps is None or not used.high > amps > 0:
        return 1.0
    return (used.high / amps) ** 2


def _too_short(bench):
    """Whether the soak saw less than enough of where its hours may lead."""
    return bench.reached * bench.settled_k < ENOUGH * bench.settled_high_k


def _heading(build, bench, limit, most):
    """Where the hours lead, with its outer band: a test that saw too little of the way is no answer.  most: times the
    rise, by the most amps of the coil."""
    what = "supply's winding, where the hours lead"
    room = end_room(build)
    band = Band(bench.settled_k + room, bench.settled_low_k + room, most * bench.settled_high_k + room)
    short = _too_short(bench)
    why = f"Outer band, for a slow part that may still hide; the test saw {bench.reached:.0%} of the likeliest way" + (
        ": too short to tell, go on." if short else "."
    )
    made = judge(what, "winding_c", band.nominal, limit, why=why, band=band)
    return unknown(what, "winding_c", why=why, source=limit.source) if short and made.state != "over" else made


def _core(build, bench, bands):
    what, source = "load against the core's hint", source_words("RADIO-REF-1946")
    core = build.supply.core
    if core in ("toroid", "cut core"):
        yield not_applying(
            what, "load_va", why=f"The core rule is of stacked E-I cores; it says nothing of a {core}.", source=source
        )
    elif np.all(np.isfinite(bench.core_va)) and not np.all(np.isnan(bench.load_va)):
        yield judge(
            what,
            "load_va",
            bench.load_va,
            Limit(bench.core_va, "at most", source, advice=True),
            why=f"A stacked core of this section usually carries no more, at {mains_hz(build):g} Hz. A hint: the soak "
            "test decides.",
            band=bands.get("bench.load_va"),
        )


def _half_wave(build, bench):
    """A single diode draws one-way current through the winding, which no closed form here turns into heat."""
    if build.supply.rectifier != "half" or np.all(np.isnan(bench.winding_a)):
        return
    one_way = np.max(bench.winding_a) / form_factor("half", 1e3)
    yield unknown(
        "core behind a single diode",
        "winding_a",
        source=source_words("COMMON-PRACTICE"),
        why=f"One-way current of about {one_way:.2g} A on average pushes the iron to one side: it draws more from the "
        "mains and warms with no load at all, a ring core most. Only a soak test with the diode in place tells how "
        "much; a bridge of four diodes does not do it.",
    )
