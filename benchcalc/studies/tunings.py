"""The same tool held in several ways: tunings beside each other, windows, laws."""

from dataclasses import dataclass, replace

import numpy as np

from ..heater.power import relay_life
from ..sheet.build import Build
from ..sheet.defaults import default
from ..thermal.control.law import ON_OFF, STEADY
from .holding import HeldTool, by_law, unlike
from .tuned import tuning_of

SMOOTH = ((1.0, "tight"), (2.0, "between"), (4.0, "smooth"))
EQUAL_K = 1.0  # overshoot and swing that no bench tells apart


@dataclass(frozen=True, eq=False)
class HeldWay:
    """A way of holding and what came of it.  words: its name. found: HeldTool held by it. wear_s: contacts of a relay
    would last that long, s."""

    words: str
    found: HeldTool
    wear_s: float

    @property
    def restless_k(self):
        """Overshoot and swing of what is held together, K; inf where it had not settled."""
        held = self.found.held
        return held.overshoot_k + held.ripple_k if held.settled else np.inf


def _tried(words, found):
    period = found.period_s if np.isfinite(found.period_s) else found.law.window_s
    return HeldWay(words, found, relay_life(default("control.relay_moves")["value"], period))


def tunings_tried(build: Build, found: HeldTool) -> list:
    """The rule's settings from tight to smooth.

    build: Build with a controller. found: its HeldTool, held.
    Returns list of HeldWay.
    """
    standing = found.control.standing
    return [_tried(word, by_law(build, found, STEADY, tuning_of(build, standing, s))) for s, word in SMOOTH]


def own_way(found: HeldTool) -> list:
    """The integral law with the sheet's own settings, where they are not those of the rule.

    found: HeldTool, held.
    Returns list of one HeldWay, none by on-off or with settings of about the rule's.
    """
    return [_tried("yours", found)] if found.law.kind == STEADY and unlike(found.law, found.tuning) else []


def windows_tried(build: Build, found: HeldTool, windows_s) -> list:
    """The integral law with other windows, each tuned anew.

    build: Build with a controller. found: its HeldTool, held. windows_s: s, several.
    Returns list of HeldWay.
    """
    tried = []
    for window in windows_s:
        one = replace(build, control=replace(build.control, window_s=window))
        other = replace(found, law=replace(found.law, window_s=window), kept=found.kept.setdefault(window, {}))
        tried.append(_tried(f"{window:g}", by_law(one, other, STEADY, tuning_of(one, found.control.standing))))
    return tried


def laws_tried(build: Build, found: HeldTool) -> list:
    """On-off and the integral law, on the same tool at the same dial.

    build: Build with a controller. found: its HeldTool, held.
    Returns list of two HeldWay.
    """
    tight = tuning_of(build, found.control.standing)
    return [_tried(ON_OFF, by_law(build, found, ON_OFF, tight)), _tried(STEADY, by_law(build, found, STEADY, tight))]


def calmest(tried):
    """The way that is restless least, and of those that no bench tells apart the one that is ready first.

    tried: list of HeldWay.
    Returns HeldWay, None where none had settled.
    """
    least = min((t.restless_k for t in tried), default=np.inf)
    near = [t for t in tried if t.restless_k <= least + EQUAL_K]
    return min(near, key=lambda t: t.found.held.ready_s) if np.isfinite(least) else None
