"""What to mend first: the gravest verdicts, each with the one change that cures it, worked out on the whole chain."""

from collections.abc import Callable, Generator
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from ..basics.fault import Fault
from ..basics.slices import finished
from ..chain.as_told import rested_on
from ..chain.control.in_use import HELD
from ..chain.heat.limits import INSIDE
from ..chain.supply.link import nothing_sized
from ..chain.verdict import Verdict
from ..chain.workings import Workings, with_bands, work_out
from ..sheet.build import Build
from ..sheet.key import ASSUMED
from .cures import NOTHING, Cure, and_layer, cures_of, own_cures
from .harm import harm_of, shown_first
from .own_cut_out import LEFT_ALONE, cut_out_words

MOST, SAMPLES, ROOM_C = 5, 50, 20.0
MOST_BESIDE = 4  # changes beside one that does not cure alone
IN_HAND = 0.06  # of the limit's rise over the room: a band of so few samples wanders by some kelvin
FIRE = 2  # rank of harm down to which what is over stands before all that is not known
BETTER = ("over", "not known", "tight", "fine")


@dataclass(frozen=True)
class Mend:
    """One thing to mend.

    link: its link. verdict: as it stands today. harm: what it can come to. cure: Cure, or None where none was found
    or none is called for. after: the same verdict with the cure, with its band. tip_c: tip with the cure, nan without
    one; of a verdict on holding what is held, at the dial of today. held: what that is, "" where nothing is held.
    guard: the cut-out against what nobody watches, a sentence, "" elsewhere.
    """

    link: str
    verdict: Verdict
    harm: str
    cure: Cure | None = None
    after: Verdict | None = None
    tip_c: float = float("nan")
    held: str = ""
    guard: str = ""

    @property
    def cured(self):
        """Whether the change makes it fine with its whole band."""
        return self.after is not None and self.after.state == "fine"


@dataclass(frozen=True)
class ToMend:
    """What is to be mended.  first: Mends, the gravest first. more: how many were left out. advice: Verdicts that
    only advise and are past their limit or near it. resting: how many limits are not known only since they rest on what
    the sheet assumes or borrows: there is nothing to mend in them, but to measure. assumed: what they rest on and
    the sheet only assumes, as `rested_on`."""

    first: tuple
    more: int
    advice: tuple
    resting: int = 0
    assumed: tuple = ()


def past_by(verdict):
    """How far a verdict is past its limit, as a share: of the rise over the room where it is a temperature.

    verdict: Verdict.
    Returns share, below 0 on the safe side; 0 where it is not known.
    """
    if not np.isfinite(verdict.margin) or not np.isfinite(verdict.limit):
        return 0.0
    whole = verdict.limit - ROOM_C if verdict.key.endswith("_c") else verdict.limit
    return float(-verdict.margin / max(abs(whole), 1e-12))


def mend_first(
    build: Build, workings: Workings, links: tuple | None = None, most: int = MOST, tell: Callable | None = None
) -> ToMend:
    """What to mend first, by harm and then by excess, each with the least change that cures it.

    build: Build (floats). workings: Workings of it. links: names of the links to look at, None for all. most: lines,
    as in `shown_first`. tell: function that is called with what `mend_steps` yields.
    Returns ToMend.  A change counts as a cure when it makes this verdict fine over its whole band and pushes no other
    past its limit; where none does, the one that helps most is given.
    """
    return finished(mend_steps(build, workings, links, most), tell)


def to_look_at(workings: Workings, links: tuple | None = None) -> tuple[list, list]:
    """Limits that are passed, tight or not known, the gravest first, what only advises and stands so, what only rests.

    workings: Workings. links: names of the links to look at, or as Workings.of of one verdict; None for all.
    Returns (list of (link, Verdict), list of Verdict, number of limits that only rest on what is assumed or borrowed):
    those of the supply alone where nothing can be sized on it.
    """
    supply = workings.supply
    if links is not None and supply is not None and nothing_sized(supply):  # the supply comes first, and alone
        links = ("supply",)
    own = [(link, v) for link, v in workings.verdicts if links is None or {link, f"{link}: {v.what}"} & set(links)]
    open_ones = [(link, v) for link, v in own if v.state in ("over", "tight", "not known")]
    resting = [v for _, v in open_ones if not v.advice and v.state == "not known" and v.note]
    limits = [(link, v) for link, v in open_ones if not v.advice and v not in resting]
    limits.sort(key=_gravest)
    return limits, [v for _, v in open_ones if v.advice], len(resting)


def assumed_here(build, workings, resting):
    """What the limits that only rest on guesses rest on.

    build: Build. workings: Workings of it. resting: how many such limits there are.
    Returns tuple, as `rested_on`.
    """
    return rested_on(build, workings.verdicts) if resting else ()


def _gravest(one):
    """Order of a (link, Verdict): what is known to shock, short or burn; a shock or a short that nobody rules out; what
    else is over; not known; tight; of each the gravest harm first, then what is furthest past its limit."""
    (rank, _), state = harm_of(one[1]), one[1].state
    steps = ("over", rank <= FIRE), ("not known", rank == 1), ("over", True), ("not known", True), ("tight", True)
    return next(k for k, (of, so) in enumerate(steps) if state == of and so), rank, -past_by(one[1])


def mend_steps(build: Build, workings: Workings, links: tuple | None = None, most: int = MOST) -> Generator:
    """As `mend_first`, a tried change a step, so that whatever else there is to do comes in between.

    build, workings, links, most: as `mend_first`.
    Yields (line that is looked at, of how many), counted from 1; returns the ToMend.
    """
    limits, advice, resting = to_look_at(workings, links)
    bench, first = _Bench(build, workings), []
    shown = shown_first(limits, most)
    for number, (link, verdict) in enumerate(shown, 1):
        trying = bench.mend(link, verdict)
        while True:
            try:
                next(trying)
            except StopIteration as done:
                first.append(replace(done.value, guard=bench.guard(verdict)))
                break
            yield number, len(shown)
    left, assumed = len(limits) - len(shown), assumed_here(build, workings, resting)
    return ToMend(tuple(first), left, tuple(advice), resting, assumed)


class _Bench:
    """Tries changes on one tool, each once."""

    def __init__(self, build, workings):
        self.build, self.workings = _as_measured(build), workings
        self.tried, self.with_band, self.general, self.guards = {}, {}, None, {}

    def mend(self, link, verdict):
        """The Mend of one verdict, after a step for each tried change."""
        harm = harm_of(verdict)[1]
        if verdict.state == "not known":
            return Mend(link, verdict, harm)
        general = [c for c in self._general() if not (verdict.what.startswith(LEFT_ALONE) and c.is_posture)]
        if harm == "fire":  # how it lies is the first thing that a hand changes
            general.sort(key=lambda c: c.is_posture)
        own = own_cures(self.build, self.workings, verdict)
        own += and_layer(self.build, NOTHING, verdict) if verdict.what.endswith(INSIDE) else []
        found = yield from self._best_of([*own, *general], link, verdict)
        for _ in range(MOST_BESIDE):  # what gets too hot with the best change may be another place
            before = found
            if found is None or found.cured or found.after.place == verdict.place:
                break
            more = and_layer(self.build, found.cure, found.after)
            if not more and found.cure.of_layers:
                more = [found.cure.beside(cure) for cure in general]
            found = yield from self._best_of(more, link, verdict, found)
            if found is before:
                break
        helps = found is not None and _better(found.after, verdict) and not _hotter_still(found.after, verdict)
        return found if helps else Mend(link, verdict, harm)

    def _best_of(self, cures, link, verdict, found=None):
        """The Mend by the first cure that cures, else by the one that helps most; None by none, after a step for each.

        found: Mend that they have to beat, or None.
        """
        harm = harm_of(verdict)[1]
        for cure in cures:
            rough = self._after(cure, link, verdict)
            yield
            if rough is not None and rough.state == "fine" and _too_near(rough, verdict):
                rough = replace(rough, state="tight")
            beaten = rough is None or (rough.state != "fine" and found and not _better(rough, found.after))
            if beaten or self._spoils(cure):
                continue
            if rough.state == "fine":
                after = self._banded(cure, link, verdict)
                yield
                if _surely(after):
                    return Mend(link, verdict, harm, cure, after, *self._reached(link, cure))
                rough = after
            if found is None or _better(rough, found.after):
                found = Mend(link, verdict, harm, cure, rough, *self._reached(link, cure))
        return found

    def guard(self, verdict):
        """The cut-out against what nobody watches, in a sentence; "" where nothing is to be guarded."""
        if not verdict.what.startswith(LEFT_ALONE) or verdict.state not in ("over", "tight"):
            return ""
        if verdict.place not in self.guards:
            self.guards[verdict.place] = cut_out_words(self.build, self.workings, verdict.place)
        return self.guards[verdict.place]

    def _general(self):
        if self.general is None:
            heat = self.workings.parts.get("heat")
            self.general = [] if heat is None or heat.refused else cures_of(self.build)
        return self.general

    def _work(self, cure):
        if cure not in self.tried:
            try:
                self.tried[cure] = work_out(cure.on(self.build), samples=0)
            except Fault:  # this tool cannot be changed so
                self.tried[cure] = None
        return self.tried[cure]

    def _after(self, cure, link, verdict):
        workings = self._work(cure)
        return None if workings is None else _same(workings, link, verdict)

    def _banded(self, cure, link, verdict):
        if cure not in self.with_band:
            self.with_band[cure] = with_bands(cure.on(self.build), self._work(cure), samples=SAMPLES)
        return _same(self.with_band[cure], link, verdict)

    def _spoils(self, cure):
        """Whether a change pushes something past a limit that holds today."""
        today = self.workings.verdicts
        was = {(link, v.what) for link, v in today if v.state == "over"}
        held = any(v.what.startswith(HELD) for _, v in today)  # what holds nothing has no such limit that it keeps
        return any(
            v.state == "over" and not v.advice and (link, v.what) not in was and (held or not v.what.startswith(HELD))
            for link, v in self._work(cure).verdicts
        )

    def _reached(self, link, cure):
        """How hot the tip then is, and what is held at the dial of today: a held tool is not at its full watts."""
        parts = self._work(cure).parts
        if link == "control":
            return float(parts["control"].mean_c), parts["control"].place
        return (float("nan") if parts.get("heat") is None else float(parts["heat"].tip_c)), ""


def _as_measured(build):
    """The build as if nothing in it were borrowed or marked as assumed: cures are tried on that."""
    known = {p: replace(k, line=None) if k.how == ASSUMED else k for p, k in build.known.items()}
    return replace(build, begun_from=None, known=MappingProxyType(known))


def _same(workings, link, verdict):
    """The same check after a change; of a layer that became another one, that at its place."""
    own = [v for name, v in workings.verdicts if name == link]
    place = verdict.what.rsplit(", ", 1)[-1] if ", " in verdict.what else verdict.what
    on_tails, between = " on the tails", verdict.what.rfind(" between ")
    place = on_tails if place.endswith(on_tails) else verdict.what[between:] if between > 0 else place
    found = [v for v in own if v.what == verdict.what] or [
        v for v in own if v.key == verdict.key and v.what.endswith(place)
    ]
    return next(iter(found), None)


def _too_near(rough, today):
    """Whether a cure without its band would surely cross the limit with one, by the width that the band has today."""
    if today.band is None or not np.isfinite(today.value):
        return False
    wide = today.band.high - today.value if today.sense == "at most" else today.value - today.band.low
    shrink = min(1.0, max(0.0, (rough.value - ROOM_C) / max(today.value - ROOM_C, 1e-9)))
    return rough.margin < 0.8 * wide * (shrink if today.key.endswith("_c") else 1.0)


def _surely(verdict):
    """Whether a verdict is fine with a little in hand, so that another draw of the band does not change it."""
    if verdict.state != "fine" or verdict.band is None:
        return verdict.state == "fine"
    end = verdict.band.high if verdict.sense == "at most" else verdict.band.low
    left = verdict.limit - end if verdict.sense == "at most" else end - verdict.limit
    return past_by(replace(verdict, margin=left)) < -IN_HAND


def _hotter_still(after, today):
    """Whether a limit is still passed with a change, by a place that gets hotter than today's worst one."""
    return after.state == "over" and after.key.endswith("_c") and after.sense == "at most" and after.value > today.value


def _better(one, other):
    """Whether a verdict stands clearly better than another on the same thing."""
    return (BETTER.index(one.state), -past_by(one)) > (BETTER.index(other.state), -past_by(other) + 0.02)
