"""Many tools about the middle of their bands, settled and through the hour, by what they differ from the middle one.

The middle one is worked out on the fine mesh; all others on one a third as fine, as samples are everywhere else
(thermal/tool/alike.py), and the hour by long steps, all of them side by side (thermal/network/many_in_time.py).  What
mesh and steps miss is the middle one's own difference, and is taken off each.
Against the same tools on the fine mesh, each by itself, the ends of the 90 % bands move, of the band's width: for the
settled tool by at most 0.3 % before the readings and 0.6 % after them, for the hour, at any of its moments, by 0.8 and
2.3 % of its widest, or 0.9 K (the two demos in which nothing melts; both practice logs, one of them, ten minutes of
both).  Where something melts, the moment when it has melted is what counts: long steps would move the band of the work
by half its width.  Such tools are run each by itself, on the fine mesh.
"""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import Fault
from ...chain.heat.places import excess_of
from ...thermal.network.many_in_time import march_many, read_between
from ...thermal.network.steady import steady
from ...thermal.tool.alike import Nominal
from ...thermal.tool.model import model_of
from .trial_tool import PLACES, each_hour, hour, settled_of, settled_temps, told_in_time, tool_at

AT_ONCE = 100  # settled side by side in one slice


@dataclass(frozen=True, eq=False)
class Middle:
    """The tool of a trial with all unknowns in the middle of their bands.  near: Nominal of it."""

    trial: object
    near: Nominal

    def settled(self, places):
        """Tip, wire, handle entry and work of settled tools.

        places: (designs, k) in the unknowns' bands.
        Yields () between slices.  Returns degC (designs, 4).
        """
        found = []
        for first in range(0, len(places), AT_ONCE):
            found.append((yield from self._settled(places[first : first + AT_ONCE])))
            yield ()
        return np.concatenate(found)

    def _settled(self, places):
        try:
            build, power_w, tool = tool_at(self.trial, places)
            found = yield from self.near.settling(tool)
            if found is not None:
                return settled_of(self.trial, (build, power_w), *found)
        except Fault:  # other orders along the axis, or what is told again below
            pass
        return settled_temps(self.trial, places)

    def hours(self, places, times_s):
        """Tip, wire, handle entry and work from switching on, at the full power.

        places: (designs, k). times_s: s (t,), the last one ends the run.
        Yields () between slices.  Returns degC (designs, t, 4), nan where the tool has no such place.
        """
        if not len(places):
            return np.full((0, len(times_s), len(PLACES)), np.nan)
        seen = self._seen(places)
        if seen is None:
            return (yield from each_hour(self.trial, places, times_s))
        seen, excess_k = seen
        ends_s, off = [], []
        for time_s, temps_c in march_many(seen.model.net, float(times_s[-1])):
            told = told_in_time(seen.fine, seen.on_fine(temps_c)[None], excess_k, [time_s])[0]
            ends_s.append(time_s)
            off.append(told[1:] - told[0])
            yield ()
        own = hour(self.trial, np.zeros(len(self.trial.unknowns)), times_s)
        return own + np.moveaxis(read_between(np.asarray(times_s), np.array(ends_s), np.array(off)), 0, 1)

    def _seen(self, places):
        """The middle one and others on the coarse mesh, and how much hotter than its winding the wire of each is; None
        where that does not serve."""
        if self.near.model.net.contents:
            return None
        trial = self.trial
        try:
            build, power_w, tool = tool_at(trial, np.concatenate([np.zeros((1, places.shape[1])), places]))
            seen = self.near.coarse(tool)
        except Fault:  # other orders along the axis
            return None
        return None if seen is None else (seen, excess_of(build, trial.wire, trial.coil, power_w))


def middle_of(trial):
    """The middle of a trial's bands, settled.  trial: Trial.  Returns Middle."""
    model = model_of(tool_at(trial, np.zeros(len(trial.unknowns)))[2])
    return Middle(trial, Nominal(model, steady(model.net).temps_c))
