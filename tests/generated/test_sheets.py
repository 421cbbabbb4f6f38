"""Sheets that nobody wrote: only Faults leave read, nothing leaves work_out, what is no number is never fine."""

import random
from dataclasses import fields

import numpy as np
import pytest
from chain.test_arrays import numeric_paths, tried
from generated.drawn_sheets import drawn_sheet

import benchcalc as bc
from benchcalc.studies.today import bands_today

ORDINARY, ALL = 60, 3000
SIDE_BY_SIDE = 6  # one sheet in so many is worked out side by side with others too


def told(seed):
    """(what is wrong with a drawn sheet, list of text; what became of it)."""
    text, _ = drawn_sheet(seed)
    try:
        build = bc.read(text)
    except bc.Fault as fault:
        return ([] if str(fault).strip() else ["a fault says nothing"]), "told"
    out = bc.work_out(build, samples=20 if seed % 50 == 0 else 0)
    wrong = [f"{link}, {v.what}: fine with {v.value}, {v.limit}" for link, v in out.verdicts if not_fine(v)]
    wrong += [f"{link}, {v.what}: {v.why}" for link, v in out.verdicts if {"nan", "None"} & set(v.why.split())]
    if seed % SIDE_BY_SIDE == 0:
        wrong += apart(build, random.Random(seed))
    return wrong, "worked out" if out.heat is not None and not out.heat.refused else "partly worked out"


def not_fine(v):
    """Whether a verdict is fine and holds what is no number.  v: Verdict."""
    return v.state == "fine" and not np.all(np.isfinite([v.value, v.limit, v.margin]))


def apart(build, rng):
    """Where three values of a field side by side give other numbers than one by one: list of text."""
    paths = [p for p in numeric_paths(build) if isinstance(bc.get(build, p), float) and not p.startswith("learned")]
    if not paths:
        return []
    path = rng.choice(paths)
    values = tried(bc.get(build, path), path)
    together = bc.links(bc.change(build, path, values))
    singles = [bc.links(bc.change(build, path, float(x))) for x in values]
    wrong = []
    for i, part in enumerate(together):
        for f in fields(part) if part is not None else ():
            many = getattr(part, f.name)
            if isinstance(many, float | np.ndarray) and not f.name.startswith("_"):
                one = np.array([getattr(s[i], f.name) for s in singles], float)
                if not np.allclose(np.broadcast_to(many, 3), one, rtol=1e-9, atol=0, equal_nan=True):
                    wrong.append(f"{path}: {f.name} {many} side by side, {one} one by one")
    return wrong


def run(seeds):
    """(how many sheets became what, list of text on what is wrong) of some seeds."""
    became, wrong = {}, []
    for seed in seeds:
        try:
            said, what = told(seed)
        except Exception as error:  # what must never leave: told with the seed that brings it back
            said, what = [f"{type(error).__name__}: {error}"], "died"
        became[what] = became.get(what, 0) + 1
        wrong += [f"sheet {seed} ({drawn_sheet(seed)[1]}): {one}" for one in said]
    return became, wrong


def test_some_sheets_that_nobody_wrote():
    became, wrong = run(range(ORDINARY))
    assert not wrong, "\n".join(wrong)
    assert min(became.get(k, 0) for k in ("told", "worked out")) > 0, became


@pytest.mark.slow
@pytest.mark.parametrize("tenth", range(10))
def test_many_sheets_that_nobody_wrote(tenth, table):
    became, wrong = run(range(ORDINARY + tenth, ALL, 10))
    table("drawn sheets", [f"{count} {what}" for what, count in became.items()])
    assert not wrong, "\n".join(wrong)


def test_a_day_of_which_samples_cannot_be_worked_out_has_no_band():
    build = bc.read(drawn_sheet(5503)[0])
    found = bands_today(build, bc.work_out(build))["heat.wire_c"]
    assert np.isfinite(found.nominal) and np.isnan(found.low) and np.isnan(found.high)
