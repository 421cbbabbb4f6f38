"""Bands out of samples: of the numbers of a link's part, and of the margin of each verdict."""

from dataclasses import fields, replace

import numpy as np

from ..basics.band import Band, band_of
from ..basics.names import suffix_of
from .verdict import Limit, judge

JUDGED = ("fine", "tight", "over")
NEVER_BELOW_0 = ("v", "a", "w", "ohm", "m2", "kg", "w_m2")


def number_bands(name, one, drawn, n):
    """The bands of the numbers of one link.

    name: of the link. one, drawn: its part and the part of its samples, or None. n: number of samples.
    Returns dict of path -> Band.
    """
    if one is None or drawn is None:
        return {}
    bands = {}
    for f in fields(one):
        nominal, samples = getattr(one, f.name), getattr(drawn, f.name)
        if isinstance(nominal, float) and not isinstance(nominal, bool) and isinstance(samples, (float, np.ndarray)):
            spread = np.broadcast_to(samples, (n,)) if np.ndim(samples) < 2 else samples
            bands[f"{name}.{f.name}"] = band_of(nominal, spread)
    return bands


def margin_path(link, what):
    """The path of a margin's band among other bands.  link, what: of the verdict."""
    return f"margin.{link}.{what}"


def margin_bands(verdicts, margins, lost=frozenset()):
    """The bands of the margins of verdicts, in which doubt of the limit counts as well as doubt of the value.

    verdicts: (link, Verdict) pairs. margins: (link, what is judged) -> margin in each sample (n,), SI. lost: names of
    links of which no sample could be worked out.
    Returns dict of path -> Band, only where a margin moves; a sample that cannot be worked out counts as past all.
    """
    bands = {}
    for link, v in verdicts:
        many = margins.get((link, v.what))
        if v.state not in JUDGED or np.ndim(v.margin):
            continue
        if link in lost:
            bands[margin_path(link, v.what)] = band_of(v.margin, ())
        elif many is not None and not np.all(many == many[0]):
            bands[margin_path(link, v.what)] = band_of(v.margin, many)
    return bands


def lost_links(links, parts, many_parts):
    """Names of the links that work out this build and none of its samples.

    links: Links. parts, many_parts: name of a link -> part or None, of the build and of its samples.
    """
    lost = (x.name for x in links if x.arrays and many_parts.get(x.name) is None)
    return frozenset(name for name in lost if parts.get(name) is not None)


def with_margins(verdicts, bands):
    """Verdicts in which one without a band of its own is judged by that of its margin.

    verdicts: (link, Verdict) pairs. bands: path -> Band, those of `margin_bands` among them.
    Returns tuple of (link, Verdict).
    """
    return tuple((link, _by_margin(v, bands.get(margin_path(link, v.what)))) for link, v in verdicts)


def _by_margin(v, margin):
    if margin is None or v.band is not None or np.ndim(v.value) or v.state not in JUDGED:
        return v
    ends = [v.limit - m if v.sense == "at most" else v.limit + m for m in (margin.low, margin.high)]
    band = Band(v.value, min(ends), max(ends))
    if v.value > 0 > band.low and suffix_of(v.key) in NEVER_BELOW_0:  # what moves is the limit, far away or not
        if margin.low > 0:
            return v
        band = Band(v.value, 0.0, band.high)
    judged = judge(v.what, v.key, v.value, Limit(v.limit, v.sense, v.source, v.advice, v.wish), why=v.why, band=band)
    return replace(judged, melts_c=v.melts_c)
