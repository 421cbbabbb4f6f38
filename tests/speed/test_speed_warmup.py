"""Fitting a log against an open fitting library that is given a good start: at the same answer, with fewer curves."""

import lmfit
import numpy as np
import pytest

from benchcalc.thermal.warmup import fit as fit_module
from benchcalc.thermal.warmup.curve import Data
from benchcalc.thermal.warmup.fit import fit
from benchcalc.thermal.warmup.formulas import Shape, curve

MOST_CURVES = 20  # that the search works out; a grid of starts comes before it


def test_a_log_of_a_thousand_points(race, monkeypatch):
    """Two time constants fitted to 1000 points, start values included."""
    truth = Shape("two", 20.0, 300.0, 300.0, 60.0, 1.1)
    t = np.linspace(0, 1500, 1000)
    y = curve(truth, t) + np.random.default_rng(1).normal(0, 1.0, t.size)
    data = Data(t, y)

    def residual(p):
        v = p.valuesdict()
        w = v["roundness"] / (1 - v["ratio"])
        return (
            v["start"]
            + (v["end"] - v["start"]) * (1 - w * np.exp(-t / v["slow"]) - (1 - w) * np.exp(-t / v["slow"] / v["ratio"]))
            - y
        )

    def theirs():
        p = lmfit.Parameters()
        for name, value, low, high in (
            ("start", 25, None, None),
            ("end", 300, None, None),
            ("slow", 250, 10, 3e4),
            ("ratio", 0.3, 0.01, 0.9),
            ("roundness", 0.8, 0, 1),
        ):
            p.add(name, value, min=low, max=high)
        return lmfit.minimize(residual, p)

    answers = race(
        {"fit, start values found by itself": lambda: fit(data, "two"), "lmfit leastsq, start values given": theirs}
    )
    ours, found = answers.values()
    assert ours.shape.end_c == pytest.approx(found.params["end"].value, abs=0.02)
    counted, model = [], fit_module.model
    monkeypatch.setattr(fit_module, "model", lambda *a, **k: (counted.append(1), model(*a, **k))[1])
    fit(data, "two")
    assert 0 < len(counted) <= min(MOST_CURVES, found.nfev)
