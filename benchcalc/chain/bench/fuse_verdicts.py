"""The verdicts on the fuse in the low-voltage lead: does it act on a short, and can it break what a battery gives?"""

import numpy as np

from ...basics.band import Band
from ...basics.tables import source_words
from ...heater import protection
from ...heater.supply import TRIPS
from ..verdict import Limit, judge, not_applying, unknown

ACTS_S = 5.0  # a fuse acts, here, when it opens a short within five seconds (own judgement)
ACTS = "fuse in the low-voltage lead acts on a short"


def fuse_checks(supply, bench, bands):
    """Verdicts on the fuse.

    supply, bench: parts. bands: path -> Band.
    Returns list of Verdict.
    """
    if supply.refused:
        return []
    if supply.kind in TRIPS and supply.limit_a is not None and np.any(np.isfinite(bench.load_a)):
        return [_trips(supply)]
    if np.any(np.isfinite(bench.fuse_a)) and np.all(np.isnan(bench.short_a)):
        made = [_short_unknown(supply)]
    elif np.ndim(bench.fuse_a):
        made = [_of_many(bench)] * (not np.all(np.isnan(bench.latest_s)))
    elif np.isnan(bench.fuse_a):
        source = source_words("IEC60127-2")
        made = [unknown(ACTS, "latest_s", why=bench.said.split("\n")[0], source=source, advice=True)] * bool(bench.said)
    else:
        made = [_acts(supply, bench, bands)]
    if supply.kind == "battery" and not np.ndim(bench.fuse_a):
        made.append(_breaks(supply, bench, bands))
    return made


def _trips(supply):
    return not_applying(
        ACTS,
        "latest_s",
        source=source_words("IEC60127-2"),
        why=f"Such a supply trips by itself at {np.max(supply.limit_a):.3g} A, and starts again: no fuse is promised "
        "to open on that. Its own limit protects, so the cable must carry that limit for hours.",
    )


def _short_unknown(supply):
    one = supply.how == "one reading"
    return unknown(
        ACTS,
        "latest_s",
        source=source_words("IEC60127-2"),
        advice=True,
        why="What this supply gives into a short is not known: "
        + (
            "one loaded reading does not tell it. Take its voltage with no load."
            if one
            else "it is its limit, and that is not on the sheet. Read its label."
        ),
    )


def _of_many(bench):
    return judge(
        ACTS,
        "latest_s",
        bench.latest_s,
        Limit(ACTS_S, "at most", source_words("IEC60127-2"), advice=True),
        why="The fuse proposed for each current, against a short at the handle.",
    )


def _acts(supply, bench, bands):
    source = source_words("IEC60127-2")
    fuse = f"{bench.fuse_a:g} A {bench.fuse_kind}"
    times = f"{bench.short_a:.3g} A, {bench.short_a / bench.fuse_a:.1f} times the rating of a {fuse} fuse"
    least = "at least " if supply.rectifier == "bridge with capacitor" else ""  # the winding may have fewer ohms
    acts = bench.latest_s <= ACTS_S
    late = {
        "transformer": "the supply is too soft. Fit a thermal cut-out on the transformer, at a place that was read at "
        "the end of a soak",
        "bench supply": "its limit is too near the rating. Set it just above the coil's current: then it protects",
        "battery": "the battery is too soft. Take a pack whose own protection acts",
    }[supply.kind]
    return judge(
        ACTS,
        "latest_s",
        bench.latest_s,
        Limit(ACTS_S, "at most", source, advice=True),
        why=f"A short at the handle draws {least}{times}. "
        + ("It opens." if acts else f"That need not open it in time: {late}, and never leave the tool alone."),
        band=_latest_band(bench, bands),
    )


def _latest_band(bench, bands):
    """The opening time over what the short may draw; None without a band."""
    short = bands.get("bench.short_a")
    if short is None or not np.isfinite(short.low):
        return None
    slow, fast = (protection.opening(bench.fuse_kind, bench.fuse_a, a).latest_s for a in (short.low, short.high))
    return Band(bench.latest_s, fast, slow)


def _breaks(supply, bench, bands):
    """Whether a glass fuse can break what a battery gives into a short at its own terminals, cold and full."""
    what = "short of the battery, against what a glass fuse breaks"
    weakest, most_a, row = protection.breaking(np.fmax(bench.fuse_a, 0.0))[0]
    source = source_words(row["source_id"]) + "; from memory: check the standard"
    if not supply.source_ohm > 0:
        return unknown(
            what,
            "short_a",
            source=source,
            why="The battery's resistance is not known, and a good one gives some hundred amperes: put a fuse marked "
            "for direct current at its terminal, a flat blade fuse or a ceramic one.",
        )
    open_v = bands["supply.open_in_use_v"].high if "supply.open_in_use_v" in bands else supply.open_in_use_v
    source_ohm = bands["supply.source_ohm"].low if "supply.source_ohm" in bands else supply.source_ohm
    short = open_v / source_ohm if source_ohm > 0 else np.inf
    return judge(
        what,
        "short_a",
        short,
        Limit(most_a, "at most", source, advice=True),
        why=f"At the terminals, full and by the lowest resistance of its band. Past this a {weakest} may burst or burn "
        "on; that number is for alternating current, and direct current is harder to break: put a fuse that is marked "
        "for direct current at the terminal.",
    )
