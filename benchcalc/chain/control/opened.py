"""Power stuck on until a cut-out opens, and what each place comes to after that: heat goes on walking outwards."""

from dataclasses import dataclass, replace

import numpy as np

from ...thermal.control.held_run import Held
from ...thermal.control.law import State
from ...thermal.network.history import WarmUp
from ...thermal.network.warm_up import warm_up
from ..heat.in_time import time_to
from ..parts import kept_last
from .cut_out import cut_out_run
from .stuck import STUCK_S, passing_of, readings_of

TOL_K = 0.1
MOST_KEPT = 8  # cut-outs that are tried on one tool


@dataclass(frozen=True, eq=False)
class Joined:
    """A run, and the one that goes on from at_s, s, where power is off."""

    before: WarmUp
    after: WarmUp
    at_s: float

    @property
    def net(self):
        """Network of both."""
        return self.before.net

    def at(self, times_s, nodes):
        """Temperatures of nodes, degC (times, nodes).  times_s: s (t,). nodes: their numbers."""
        times = np.asarray(times_s, dtype=float)
        late = times > self.at_s
        found = np.empty((times.size, len(nodes)))
        found[~late] = self.before.at(times[~late], nodes)
        found[late] = self.after.at(times[late] - self.at_s, nodes)
        return found


def opens_after(control, fitted):
    """When a cut-out opens at the latest with power stuck on.

    control: ControlPart with its run of power stuck on. fitted: CutOut of the sheet.
    Returns s, nan for never.  It is taken to be as warm as the metal under it: one that hangs in the air is later.
    """
    run = control.stuck
    return float(time_to(run.time_s, cut_out_run(control, fitted.at_m), fitted.rating_c + fitted.late_k))


def opened(control, fitted):
    """Power stuck on until a cut-out opens, and none after that.

    control: ControlPart with its run of power stuck on. fitted: CutOut of the sheet, or None.
    Returns Passing of two hours, None where it never opens or is open already in use.
    """
    if fitted is None or fitted.spare_low_k < 0:
        return None
    opens_s = opens_after(control, fitted)
    if not np.isfinite(opens_s) or opens_s >= STUCK_S:
        return None
    stuck, left = control.stuck, control.left
    key = stuck.run.time_s.tobytes(), stuck.temp_c["sheath"].tobytes(), opens_s
    return kept_last(left.kept.setdefault("opened", {}), key, lambda: _opened(stuck, left, opens_s), MOST_KEPT)


def after_opening(control, cut):
    """The places that have a limit, with the power off once a cut-out has opened.

    control: ControlPart. cut: Passing of `opened`.
    Returns tuple of (curve in degC at cut.run.time_s, s when the limit is passed, nan for never), for control.harms.
    """
    curves = {(p.word, p.name, p.key): curve for p, curve in zip(cut.places, cut.curves_c)}
    own = [(curves[h.at.word, h.at.name, h.at.key], h.limit_c) for h in control.harms]
    return tuple((curve, float(time_to(cut.run.time_s, curve, limit_c))) for curve, limit_c in own)


def _opened(stuck, left, opens_s):
    net = left.heat.model.net
    off = replace(net, power_w=np.zeros_like(net.power_w))
    start = stuck.run.at(np.array([opens_s]))[0]
    run = Joined(stuck.run, warm_up(off, STUCK_S - opens_s, start_c=start, accounted=False, tol_k=TOL_K), opens_s)
    time_s = np.union1d(stuck.time_s, opens_s)
    share = (time_s <= opens_s).astype(float)
    return passing_of(left, Held(time_s, share, readings_of(left, run, time_s, stuck.temp_c), State(), run))
