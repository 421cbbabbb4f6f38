"""How far a fitted warm-up can be trusted: the choice of form, the band of its end, and what the log cannot tell."""

from dataclasses import dataclass, replace

import numpy as np

from .curve import USED, Data, ends_of, shape_of
from .fit import Fit, fit, solve, widening
from .formulas import FORMS, curve
from .hidden_part import by_a_bent_loss, hidden

CHANCE = 0.95
BETTER = 6.0  # a richer form must be better by this much (Bayesian information criterion)
RIVAL = 4.0  # a form this near to the best still counts for the band of a short log
FEW = 20  # readings; with fewer the form cannot be told (own judgement; coverage in tests)
LONG_ENOUGH = 2.0  # slow time constants that a log should last
HOTTEST_C = 1400.0
WORDS = {
    "end_c": "The end",
    "slow_s": "The slow time constant",
    "ratio": "The fast time constant",
}  # others may well end there


@dataclass(frozen=True, eq=False)
class Profile:
    """The road along which the end is moved: shapes that still fit (fixed end), the lowest and highest end (degC).

    open_low, open_high: True where the search met its bound, so that the log sets no end on that side.
    """

    low_c: float
    high_c: float
    shapes: tuple
    open_low: bool
    open_high: bool


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
        if richer.score < best.score - BETTER and not (richer.form == "two" and "ratio" in richer.at_bound):
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


def profile_of(data, fitted, chance=CHANCE):
    """Profile: the end is held ever farther off, all else is fitted anew, until the log objects.

    data: Data. fitted: Fit. chance: of the band, 0.5 to 0.999.
    Returns Profile.  Honest also for short logs, where an error bar on both sides is not.
    Equation: likelihood-ratio interval for one parameter, Bates and Watts, Nonlinear Regression Analysis and Its
    Applications, ch. 6 (from memory): cost(end) / cost(best) - 1 = t^2 / (n - k), widened for residuals that go
    together.
    """
    from scipy.special import stdtrit

    n, k = data.time_s.size, len(fitted.names)
    freedom = max(n / widening(fitted.follow) - k, 1.0)
    limit = fitted.scatter_k**2 * float(stdtrit(freedom, (1 + chance) / 2)) ** 2 * widening(fitted.follow)
    least = float(fitted.weight @ fitted.residual_k**2)
    sigma = float(np.sqrt(fitted.covariance[1, 1]))
    low_end, high_end = (float(e[1]) for e in ends_of(data))
    found = {}
    for side, bound in ((-1, max(low_end, -200.0)), (1, min(high_end, HOTTEST_C))):
        here, inner, shapes = float(fitted.inner[1]), fitted.inner, []
        step, inside, outside = min(max(sigma, 1e-4), 0.3 * abs(fitted.shape.rise_k) + 1e-3), here, None
        for _ in range(22):
            there = here + side * step if outside is None else (inside + outside) / 2
            met = side * (there - bound) >= 0
            there = bound if met else there
            trial, cost, _ = solve(data, fitted.form, inner, fitted.weight, {1: there}, close=1e-7)
            if cost - least <= limit:
                inside, inner = there, trial
                shapes.append(shape_of(fitted.form, trial))
                if met:
                    break
                here, step = there, 1.6 * step
            else:
                outside = there
            if outside is not None and abs(outside - inside) < 0.02 * abs(inside - fitted.inner[1]) + 1e-4:
                break
        found[side] = (inside, shapes, outside is None)
    return Profile(found[-1][0], found[1][0], tuple(found[-1][1] + found[1][1]), found[-1][2], found[1][2])


def linear_profile(data, fitted, chance=CHANCE):
    """The band of a long log from the linear errors: cheap, and there as good as the profile.

    data: Data. fitted: Fit. chance: as `profile_of`.
    Returns Profile; its shapes lie on both ends of each direction of the covariance.
    """
    from scipy.special import stdtrit

    n, k = data.time_s.size, len(fitted.names)
    t = float(stdtrit(max(n / widening(fitted.follow) - k, 1.0), (1 + chance) / 2))
    free = list(USED[fitted.form])
    low, high = ends_of(data)
    shapes = []
    for place in range(len(free)):
        sigma = np.sqrt(max(fitted.covariance[place, place], 0.0))
        if sigma == 0:
            continue
        for side in (-1, 1):
            inner = fitted.inner.copy()
            inner[free] += side * t * fitted.covariance[:, place] / sigma
            shapes.append(shape_of(fitted.form, np.clip(inner, low, high)))
    half = t * float(np.sqrt(fitted.covariance[1, 1]))
    end = fitted.shape.end_c
    return Profile(end - half, end + half, tuple(shapes), False, False)


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
    Returns Forecast.  Longer than about two slow time constants: linear errors.  Shorter: profile, over every form that
    the log cannot tell from the best.
    """
    data, exponent = bent(data, exponent)
    best, fits, why = choose_form(data)
    lasted = (data.time_s[-1] - data.steps[0][0]) / best.shape.slow_s
    near = [f for f in fits if f.score < min(x.score for x in fits) + RIVAL or f is best]
    long = lasted >= LONG_ENOUGH and not best.at_bound
    if long or quick:
        profiles, how = [linear_profile(data, best, chance)], "linear errors (the log is long enough)"
    else:
        near = [f for f in near if f.form != "one with dead time" or f is best]
        profiles = [profile_of(data, f, chance) for f in near]
        how = "profile of the end" + (
            f" over {len(near)} forms that the log cannot tell apart" if len(near) > 1 else ""
        )
    half = data.resolution_k / 2  # a sensor that reads in steps cannot tell better
    low, high = min(w.low_c for w in profiles) - half, max(w.high_c for w in profiles) + half
    shapes = tuple(s for w in profiles for s in w.shapes)
    slow = (low, high) if quick else hidden(data, best)
    less = 0.0 if quick else by_a_bent_loss(data)
    wide_low, wide_high = min(low + less, slow[0]), max(high, min(slow[1], HOTTEST_C))
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
            f"The log lasts {lasted:.1f} slow time constants: too short to be sure of its end. Two or more are wanted, "
            f"that is {LONG_ENOUGH * best.shape.slow_s / 60:.0f} min."
        )
    if any(w.open_high for w in profiles):
        told.append("The log sets no upper end: it could go on rising. Only a longer log can tell.")
    if len(near) > 1 and lasted < LONG_ENOUGH:
        told.append("A slow part (a handle's wood, a thick tube) may still be hidden: the band holds that case too.")
    if best.follow > 0.3:
        told.append(
            f"Neighbouring residuals go together ({best.follow:.2f}): the form is not the whole truth, so the end may "
            "lie outside the band; the errors were widened for it."
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
