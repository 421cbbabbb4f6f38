"""Verdicts: a value against a limit, with margin, band, one sentence why, and source."""

from dataclasses import dataclass, replace

import numpy as np

from ..basics.band import Band
from ..basics.names import said_number, say

STATES = ("fine", "tight", "over", "not known", "does not apply")
NO_BAND = " How far off it may be cannot be told: too many of the values that the sheet allows make no tool."
WISH = 0.01  # of a wish of the maker, of its rise over a room for a temperature: nobody wishes finer (own judgement)
ROOM_C = 20.0
HARDLY = 0.06  # of a limit; less than this apart, two numbers may be shown as the same


@dataclass(frozen=True)
class Verdict:
    """One check.

    what: the words. key: SI name of the quantity (for its unit). value, limit: SI.
    sense: "at most" or "at least". margin: SI, positive when safe. band: Band or None.
    state: one of STATES (array of them for array builds). why: one sentence. source: reference.
    advice: True where the limit only advises. note: whose numbers it rests on, where they are not the maker's own.
    melts_c: from where the value, a temperature, is told as "melts". place: of many, the one that is told, in words.
    wish: as Limit.

    >>> judge("wire", "wire_c", 600.0, Limit(1000.0, "at most", "example"), why="It holds.").state
    'fine'
    """

    what: str
    key: str
    value: float
    limit: float
    sense: str
    margin: float
    band: Band | None
    state: str
    why: str
    source: str
    advice: bool = False
    note: str = ""
    melts_c: float = np.inf
    place: str = ""
    wish: bool = False

    def said(self, value, **way):
        """The value judged, or an end of its band, with its unit, or that it melts.

        value: SI float. way: units and degrees, as names.say.
        """
        return "melts" if self.melts(value) else say(self.key, float(value), **way)

    def melts(self, value):
        """Whether the value judged, or an end of its band, would be past what melts.  value: SI float, or None."""
        return value is not None and np.isfinite(self.melts_c) and value >= self.melts_c

    @property
    def named(self):
        """What is judged, and whose numbers it rests on."""
        return f"{self.what} ({self.note})" if self.note else self.what

    @property
    def borrowed(self):
        """Whether it is not known because it rests on what was borrowed from a demo."""
        return self.state == "not known" and self.note.startswith("borrowed")


@dataclass(frozen=True)
class Limit:
    """What a value is held against.

    value: SI; None or nan where it is not known. sense: "at most" or "at least". source: reference. advice: it only
    advises. wish: what the maker wants and no limit of safety: what misses it by hardly anything is tight, not over.
    """

    value: float | None
    sense: str
    source: str
    advice: bool = False
    wish: bool = False

    def slack(self, key):
        """By how much it may be missed and be no more than tight, SI: nothing but for a wish.  key: of the value."""
        if not self.wish:
            return 0.0
        return WISH * np.abs(self.value - (ROOM_C if key.endswith("_c") else 0.0))


def judge(what, key, value, limit, *, why, band=None):
    """Judge a value against a limit.

    what: words. key: SI name, e.g. "surface_load_w_m2". value: float or array, SI; nan or None means unknown.
    limit: Limit. why: one sentence. band: Band of the value, or None.
    Returns Verdict: fine (whole band safe), tight (nominal safe, band crosses the limit; or past it by less than a page
    shows, volts excepted, or short of a wish by next to nothing), over (nominal past it), not known (value, limit or an
    end of the band is missing; what is not finite is never fine).
    """
    bound, sense, source, advice = limit.value, limit.sense, limit.source, limit.advice
    if value is None or bound is None:
        return unknown(what, key, why=why, source=source, advice=advice)
    margin = (bound - value) if sense == "at most" else (value - bound)
    margin = np.where(np.abs(margin) < 1e-9 * np.abs(bound), 0.0, margin)  # equal but for rounding: on the safe side
    slack, told = limit.slack(key), {"wish": limit.wish}
    if margin.ndim:
        state = np.where(margin < 0, "over", np.where(np.isfinite(margin), "fine", "not known"))
        for i in np.argwhere((margin < 0) & (np.abs(margin) < HARDLY * np.abs(bound))):
            one = (np.broadcast_to(x, margin.shape)[tuple(i)] for x in (value, bound))
            state[tuple(i)] = "tight" if _shown_equal(key, *one) else "over"
        state = np.where((margin < 0) & (-margin <= slack), "tight", state)
        return Verdict(what, key, value, bound, sense, margin, None, state, why, source, advice, **told)
    ends = (0.0, 0.0) if band is None else (band.low, band.high)
    if not margin < 0 and not np.all(np.isfinite([margin, *ends])):
        return unknown(what, key, why=why + NO_BAND * bool(np.isfinite(margin)), source=source, advice=advice)
    band = None if band is None or not band.low < band.high else band
    worst = value if band is None else (band.high if sense == "at most" else band.low)
    past = worst - bound if sense == "at most" else bound - worst
    crosses = past > 1e-9 * abs(bound)
    past_it = margin < 0 and not (-margin < HARDLY * abs(bound) and _shown_equal(key, value, bound))
    past_it = past_it and not (-margin <= slack and np.all(np.isfinite(ends)))
    state = "over" if past_it else "tight" if crosses or margin < 0 else "fine"
    return Verdict(
        what, key, float(value), float(bound), sense, float(margin), band, state, why, source, advice, **told
    )


def _shown_equal(key, value, bound):
    """Whether a page shows a value and its limit as the same number, in metric units; volts can kill and never are."""
    return not key.endswith("_v") and said_number(key, float(value)) == said_number(key, float(bound))


def unknown(what, key, *, why, source="", advice=False):
    """A check that cannot be made yet.

    what, key: as `judge`. why: what is missing, one sentence. source, advice: as Limit.
    """
    nan = float("nan")
    return Verdict(what, key, nan, nan, "", nan, None, "not known", why, source, advice)


def not_fine(verdict, untold):
    """A verdict on the weakest of many places, some of which nobody knows: over or tight, or else not known.

    verdict: Verdict. untold: words of the places whose limit or temperature is not known.
    """
    if not untold or np.ndim(verdict.value):
        return verdict
    few = ", ".join(untold[:3]) + (f" and {len(untold) - 3} more" if len(untold) > 3 else "")
    why = f"{verdict.why} Not known: {few}."
    if verdict.state != "fine":
        return replace(verdict, why=why)
    return unknown(verdict.what, verdict.key, why=why, source=verdict.source, advice=verdict.advice)


def not_applying(what, key, *, why, source=""):
    """A check that does not apply to this build.

    what, key: as `judge`. why: one sentence. source: reference.
    """
    nan = float("nan")
    return Verdict(what, key, nan, nan, "", nan, None, "does not apply", why, source)


def worst_state(verdicts):
    """The state a link is summed up by: over, tight, not known, fine, in this order.

    verdicts: iterable of Verdict (scalar builds). Advice counts as tight at most.
    Returns one of STATES; "does not apply" when there is nothing to judge.
    """
    states = {("tight" if v.advice and v.state == "over" else v.state) for v in verdicts}
    return next((s for s in ("over", "tight", "not known", "fine") if s in states), "does not apply")
