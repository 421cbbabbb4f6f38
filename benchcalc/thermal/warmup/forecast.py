"""How far a fitted warm-up can be trusted: the choice of form, the band of its end, and what the log cannot tell."""

from dataclasses import dataclass, replace

import numpy as np

from .curve import HOTTEST_C, Data
from .end_band import CHANCE, averaged, likely_forms, linear_profile, profile_of
from .fit import Fit, fit
from .formulas import FORMS, ZERO_K, curve
from .hidden_part import by_a_bent_loss, hidden
from .together import end_by_drift

BETTER = 6.0  # a richer form must be better by this much (Bayesian information criterion)
FEW = 20  # readings; with fewer the form cannot be told (own judgement; coverage in tests)
LONG_ENOUGH = 2.0  # slow time constants that a log should last
LASTS = "The log lasts"
WORDS = {
    "end_c": "The end",
    "slow_s": "The slow time constant",
    "ratio": "The fast time constant",
}  # others may well end there


@dataclass(frozen=True, eq=False)
class Forecast:
    """A fitted log with what follows.

    best: the Fit chosen; fits: all tried; why: the choice in words; how: the way the band was got. exponent: settled
    rise goes with power^exponent, where the log has steps (else 1). low_c, high_c: 95 % band of the settled temperature
    at full power, if the form is right; wide_low_c, wide_high_c: the same if a further, slower part hides in the log,
    or a hot skin sheds more than in proportion. shapes: curves that still fit. lasted: length of the log in slow time
    constants. warnings: what the log cannot tell.
    """

    data: Data
    best: Fit
    fits: tuple
    why: str
    how: str
    exponent: float
    low_c: float
    high_c: float
    wide_low_c: float
    wide_high_c: float
    shapes: tuple
    lasted: float
    warnings: tuple

    @property
    def shape(self):
        """The Shape of the chosen fit."""
        return self.best.shape

    def band(self, of):
        """Range of anything that follows from the curve, over all shapes that still fit.

        of: function(Shape) -> number.  Returns (nominal, low, high).
        """
        values = [of(s) for s in self.shapes]
        nominal = of(self.shape)
        return nominal, min(values + [nominal]), max(values + [nominal])

    def curves(self, time_s):
        """Fitted curve and band at any times.  time_s: s (n,).  Returns (degC, low, high), each (n,)."""
        every = np.array([curve(s, time_s, self.data.steps) for s in self.shapes])
        middle = curve(self.shape, time_s, self.data.steps)
        return middle, np.minimum(every.min(axis=0), middle), np.maximum(every.max(axis=0), middle)


def choose_form(data):
    """Fit every form and choose the simplest that the log does not contradict.

    data: Data.
    Returns (Fit chosen, tuple of all Fits, why in words).
    """
    fits = tuple(fit(data, form) for form in FORMS if data.time_s.size > 6 or form == "one")
    best = fits[0]
    for richer in fits[1:]:
        if richer.score < best.score - BETTER and "ratio" not in richer.at_bound:  # no second constant at all
            best = richer
    if best is fits[0]:
        why = (
            "One time constant does: a second one, or a dead time, would not fit so much better that this log proves "
            "it."
        )
    else:
        why = (
            f"{_words(best.form)}: it leaves {best.rms_k:.2f} K RMS where one time constant leaves "
            f"{fits[0].rms_k:.2f} K" + (", with residuals in long waves" if fits[0].follow > 0.4 else "") + "."
        )
    return best, fits, why


def _words(form):
    return {"two": "Two time constants", "one with dead time": "One time constant after a dead time", "one": "One"}[
        form
    ]


def bent(data, exponent=None):
    """The same log with its power steps bent as far as the readings want: half the power gives more than half the rise.

    data: Data. exponent: known already, or None to find it.
    Returns (Data, exponent): settled rise goes with power^exponent, 0.6 to 1; 1 where the log has one level of power
    only. Radiation makes the exponent less than 1 (about 0.8 for hot bare metal); it is fitted with two time constants.
    """
    levels = {share for _, share in data.steps if share > 0}
    if len(levels) < 2:
        return data, 1.0
    from scipy.optimize import minimize_scalar

    def with_(m):
        return replace(data, steps=tuple((t, share**m if share > 0 else 0.0) for t, share in data.steps))

    if exponent is not None:
        return with_(exponent), exponent
    found = minimize_scalar(
        lambda m: fit(with_(m), "two").score, bounds=(0.6, 1.0), method="bounded", options={"xatol": 0.005}
    )
    return with_(float(found.x)), float(found.x)


def forecast(data, chance=CHANCE, *, quick=False, exponent=None):
    """Fit a log, choose the form, and say where it ends, with an honest band.

    data: Data. chance: of the band, 0.5 to 0.999. quick: linear errors only and nothing hidden, for a moving slider.
    exponent: of the power steps, None to find it.
    Returns Forecast.  Longer than about two slow time constants: linear errors.  Shorter: profile.  Both over every
    form that the log cannot tell from the best, and with a room that drifts.
    """
    data, exponent = bent(data, exponent)
    best, fits, why = choose_form(data)
    lasted = (data.time_s[-1] - data.steps[0][0]) / best.shape.slow_s
    found = _end_of(data, best, fits, chance, quick or (lasted >= LONG_ENOUGH and not best.at_bound))
    near, profiles, low, high, how = found
    shapes = tuple(s for w in profiles for s in w.shapes)
    slow = (low, high) if quick else hidden(data, best)
    less = 0.0 if quick else by_a_bent_loss(data)
    low, high = max(low, -ZERO_K), min(high, max(HOTTEST_C, best.shape.end_c))  # what can be at all
    wide_low, wide_high = max(min(low + less, slow[0]), -ZERO_K), max(high, min(slow[1], HOTTEST_C))
    if data.time_s.size < FEW and not quick:  # too few to tell the form by: the inner band is the outer one
        low, high, how = (
            wide_low,
            wide_high,
            how + f"; fewer than {FEW} readings cannot tell the form, so the outer band stands",
        )
    return Forecast(
        data,
        best,
        fits,
        why,
        how,
        exponent,
        low,
        high,
        wide_low,
        wide_high,
        shapes,
        float(lasted),
        _warnings(data, best, near, profiles, lasted, low, high),
    )


def _end_of(data, best, fits, chance, linear):
    """Band of the end: every form by its weight, never narrower than the chosen one's own.

    Returns (Fits in it, their Profiles, low, high, how in words).
    """
    from scipy.special import ndtri

    likely = likely_forms(fits, data.resolution_k)
    if not any(f is best for f, _ in likely):
        likely.append((best, 0.0))
    half = data.resolution_k / 2  # a sensor that reads in steps cannot tell better
    z, profiles, ends = float(ndtri((1 + chance) / 2)), [], []
    for f, weight in likely:
        one = linear_profile(data, f, chance) if linear else profile_of(data, f, chance)
        off, end = z * end_by_drift(data, f), f.shape.end_c
        ends.append((weight, end, end - np.hypot(end - one.low_c, off), end + np.hypot(one.high_c - end, off)))
        profiles.append(one)
    own = next(e for e, (f, _) in zip(ends, likely) if f is best)
    low, high = averaged(ends, chance) if len(ends) > 1 else own[2:]
    how = "linear errors (the log is long enough)" if linear else "profile of the end"
    how += f" over {len(ends)} forms that the log cannot tell apart" if len(ends) > 1 else ""
    return [f for f, _ in likely], profiles, float(min(low, own[2]) - half), float(max(high, own[3]) + half), how


def noise_of(data):
    """Scatter of the readings from their second differences, whatever the curve.  data: Data.  Returns K."""
    bend = data.temp_c[:-2] - 2 * data.temp_c[1:-1] + data.temp_c[2:]
    return max(1.4826 * float(np.median(np.abs(bend - np.median(bend)))) / np.sqrt(6), data.resolution_k / np.sqrt(12))


def _warnings(data, best, near, profiles, lasted, low, high):
    told = []
    if data.time_s.size < FEW:
        told.append(
            f"{data.time_s.size} readings are too few to tell one time constant from two: the outer band is given. "
            f"{FEW} or more make it narrower."
        )
    if lasted < LONG_ENOUGH:
        told.append(
            f"{LASTS} {lasted:.1f} slow time constants: too short to be sure of its end. Two or more are wanted, "
            f"that is {LONG_ENOUGH * best.shape.slow_s / 60:.0f} min."
        )
    if any(w.open_high for w in profiles):
        told.append("The log sets no upper end: it could go on rising. Only a longer log can tell.")
    if len(near) > 1 and lasted < LONG_ENOUGH:
        told.append("A slow part (a handle's wood, a thick tube) may still be hidden: the band holds that case too.")
    if best.follow > 0.3:
        told.append(
            f"Neighbouring residuals go together ({best.follow:.2f}): {data.time_s.size} readings are worth "
            f"{data.time_s.size / best.widen:.0f}, and the errors were widened for it. The form is not the whole "
            "truth, so the end may still lie outside the band."
        )
    scatter = noise_of(data)
    if best.scatter_k > 4 * scatter + data.resolution_k:
        told.append(
            f"The readings leave the curve by {best.scatter_k:.1f} K though they scatter by only {scatter:.1f} K: "
            "something melted, the power changed, or the probe moved. No curve of this kind can foretell its end."
        )
    if high - low > 0.3 * abs(best.shape.rise_k):
        told.append("The band is wider than a third of the rise: read the end from a longer log.")
    told += [
        f"{WORDS[n]} ended at a bound of the search: the log says nothing beyond it."
        for n in best.at_bound
        if n in WORDS
    ]
    return tuple(told)
