"""What the control link gives: what a held tool settles at, and what happens when control fails."""

from dataclasses import dataclass

import numpy as np

from ...thermal.control.held_run import Held
from ..parts import NAN


@dataclass(frozen=True)
class Harm:
    """One limit and whether power stuck on passes it.  place: in words; end_c, limit_c: where it settles and its limit,
    degC; after_s: when it is passed, 0 where use passes it already, nan for never; source_id: of the limit."""

    place: str
    end_c: float
    limit_c: float
    after_s: float
    source_id: str


@dataclass(frozen=True, eq=False)
class ControlPart:
    """The held tool.  set_c: set point. held_c: what is held settles there; offset_k: over the reading. full_c (low_c,
    high_c at low and high mains): reading at full power. hold_w, duty: mean watts, share of the time on. on_w: while
    on. doubt_k: of sensor, cold end and attachment. stuck_c: what is held, with power stuck on at high mains for two
    hours. place: "tip" or "work". harms, stuck: limits and the run then. normal_c: hottest of each node in use;
    failing_c: each node when the first limit is passed, or None. refused: why nothing was worked out, or ""."""

    set_c: float = NAN
    held_c: float = NAN
    offset_k: float = NAN
    full_c: float = NAN
    low_c: float = NAN
    high_c: float = NAN
    hold_w: float = NAN
    duty: float = NAN
    on_w: float = NAN
    doubt_k: float = NAN
    stuck_c: float = NAN
    place: str = ""
    harms: tuple = ()
    stuck: Held | None = None
    normal_c: np.ndarray | None = None
    failing_c: np.ndarray | None = None
    standing: object = None
    refused: str = ""

    @property
    def passed(self):
        """The limits that power stuck on passes and use does not, those first that come first."""
        return tuple(h for h in self.harms if h.end_c > h.limit_c and h.after_s > 0)
