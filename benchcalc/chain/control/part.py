"""What the control link gives: what a held tool settles at, and what happens when control fails."""

from dataclasses import dataclass, field

import numpy as np

from ...thermal.control.held_run import Held
from ...thermal.control.law import Law
from ..heat.left_on import LeftOn
from ..heat.limits import WeakPlace
from ..parts import NAN

BEGINS = ("held", "full power", "cold")


@dataclass(frozen=True, eq=False)
class Harm:
    """One limit and whether power stuck on passes it.  at: WeakPlace, with where it settles. after_s: when it is
    passed, 0 where use passes it already, nan for never. curve_c: of the place with power stuck on, degC. used_c:
    hottest that the place gets in use, degC."""

    at: WeakPlace
    after_s: float
    curve_c: np.ndarray
    used_c: float = NAN

    @property
    def place(self):
        """The place in words."""
        return self.at.word

    @property
    def end_c(self):
        """Where it settles, degC."""
        return float(self.at.value_c)

    @property
    def limit_c(self):
        """Its limit, degC."""
        return float(self.at.limit_c)

    @property
    def source_id(self):
        """Source of the limit."""
        return self.at.source_id


@dataclass(frozen=True, eq=False)
class ControlPart:
    """The held tool.  set_c: set point. held_c: what is held settles there at steady power; mean_c: the mean of its
    swing by the law, held_c where that had not settled; offset_k: mean_c over the reading; swing_k: top of what is held
    over held_c, on the way up or later. law, run: what holds it and what came. full_c (low_c,
    high_c at low and high mains): reading at full power. hold_w, duty: mean watts, share of the time on. on_w: while
    on. doubt_k: of sensor, cold end and attachment. place: "tip" or "work". refused: why it is not held, or "";
    beyond: of a dial out of reach what parts the reading from the metal, and what would reach it.

    What power stuck on does stands whether it is held or not. left: LeftOn, the tool it ends as, or None. begins: the
    state it begins from, one of BEGINS. stuck: the run of two hours, stuck_c: what is held at its end. harms: limits.
    untold: places that nobody knows, in words. normal_c: hottest of each node in use; used: of watched
    places, by name."""

    set_c: float = NAN
    held_c: float = NAN
    mean_c: float = NAN
    offset_k: float = NAN
    full_c: float = NAN
    low_c: float = NAN
    high_c: float = NAN
    hold_w: float = NAN
    duty: float = NAN
    on_w: float = NAN
    doubt_k: float = NAN
    swing_k: float = NAN
    stuck_c: float = NAN
    place: str = ""
    harms: tuple = ()
    untold: tuple = ()
    stuck: Held | None = None
    normal_c: np.ndarray | None = None
    standing: object = None
    left: LeftOn | None = None
    begins: str = ""
    refused: str = ""
    beyond: str = ""
    law: Law | None = None
    run: Held | None = None
    used: dict = field(default_factory=dict)

    @property
    def use_doubt_k(self):
        """How much hotter what is held may be in use than it settles: its sensor's doubt and its swing, K."""
        return float(np.nan_to_num(self.doubt_k) + np.nan_to_num(self.swing_k))

    @property
    def passed(self):
        """The limits that power stuck on passes and use does not, those first that come first."""
        return tuple(h for h in self.harms if h.end_c > h.limit_c and h.after_s > 0)
