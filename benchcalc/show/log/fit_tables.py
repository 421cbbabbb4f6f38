"""Tables of the fit to a log: its forms side by side, its own report, what goes together."""

from ...basics.names import say
from ...chain.log.by_hand import delay_of, guess_of, smooth_guess
from ...chain.log.end import is_no_end
from ..page.table import table
from .panel import CANNOT_TELL

FORM_WORDS = {"one": "one time constant", "one with dead time": "one, after a dead time", "two": "two time constants"}


PARAMETERS = {
    "start_c": "start",
    "end_c": "end at full power",
    "slow_s": "slow time constant",
    "ratio": "fast over slow",
    "roundness": "roundness of the start (1: as if under a sleeve)",
    "dead_s": "dead time",
}


def forms(part, degrees="C"):
    """The forms side by side: what each leaves over.  part: LogPart. degrees: "C" or "F".  Returns Table."""
    best = min(f.score for f in part.forecast.fits)
    rows = [
        (
            FORM_WORDS[f.form] + (" (chosen)" if f is part.forecast.best else ""),
            _end(part, f.shape.end_c, degrees),
            say("rise_k", f.rms_k, degrees=degrees),
            f"{f.follow:.2f}",
            f"{f.score - best:.0f}",
        )
        for f in part.forecast.fits
    ]
    return table(("form", "end", "residual, RMS", "neighbours go together", "worse by"), rows)


def _end(part, end_c, degrees):
    """An end in words, none where no metal of the tool could bear it.  part: LogPart. end_c: degC."""
    return CANNOT_TELL if part.no_end or is_no_end(end_c, end_c, part.most_c) else say("end_c", end_c, degrees=degrees)


def hand_and_fit(part, step_s, rises_k, degrees="C"):
    """The guess from two readings beside the fit, and the fit's own curve read in the same way.

    part: LogPart. step_s: of the first of the two readings. rises_k: of both over the start. degrees: "C" or "F".
    Returns Table.
    """
    shape = part.forecast.shape
    guesses = (
        ("by hand, from two readings", guess_of(shape.start_c, step_s, rises_k)),
        ("the fitted curve at the same two times, by the same two formulas", smooth_guess(shape, step_s)),
    )
    rows = [
        (
            words,
            _end(part, g.end_c, degrees) if g.end_c == g.end_c else "none: it does not slow down yet",
            say("constant_s", g.constant_s) if g.end_c < part.most_c else "–",
        )
        for words, g in guesses
    ]
    told = f"{say('constant_s', shape.slow_s)}, after a delay of {say('constant_s', delay_of(shape))}"
    end = CANNOT_TELL if part.no_end else say("end_c", shape.end_c, degrees=degrees)
    rows.append(("by the fit, which parts the delay from the slowness", end, "–" if part.no_end else told))
    return table(("", "end", "time constant"), rows)


def fit_report(part, degrees="C"):
    """The fit's own report: start values, bounds, errors, what ended at a bound or never moved.

    part: LogPart. degrees: "C" or "F".
    """
    fit, rows = part.forecast.best, []
    for name, first, value, error, low, high in zip(fit.names, fit.first, fit.value, fit.error, fit.low, fit.high):
        state = "at a bound" if name in fit.at_bound else "never moved" if name in fit.never_moved else "free"
        rows.append(
            (
                PARAMETERS[name],
                *(_told(name, x, degrees) for x in (first, value)),
                _told(name, error, degrees, True),
                f"{_told(name, low, degrees)} to {_told(name, high, degrees)}",
                state,
            )
        )
    return table(("", "began at", "found", "one sigma", "bounds", "state"), rows)


def _told(name, value, degrees, difference=False):
    if name.endswith("_s"):
        return say("lasted_s" if value > 600 else name, value)
    if name.endswith("_c"):
        key = "rise_k" if difference else name
        return say(key, value, figures=3 if difference else 4, degrees=degrees)
    return f"{value:.3g}"


def correlations(part):
    """The strongest correlations of the fit.  part: LogPart.  Returns Table."""
    fit = part.forecast.best
    pairs = [(abs(fit.correlation[i, j]), i, j) for i in range(len(fit.names)) for j in range(i)]
    rows = [
        (f"{PARAMETERS[fit.names[i]]} with {PARAMETERS[fit.names[j]]}", f"{fit.correlation[i, j]:+.2f}")
        for _, i, j in sorted(pairs, reverse=True)[:4]
    ]
    return table(("goes together", "correlation"), rows)
