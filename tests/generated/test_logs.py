"""Logs that nobody wrote: read and fitted, or refused in words; a plain one comes back as it was drawn."""

import numpy as np
import pytest
from generated.drawn_logs import drawn_log

from benchcalc.basics.fault import Fault
from benchcalc.thermal.log.power import data_of
from benchcalc.thermal.log.reading import log_of_bytes
from benchcalc.thermal.warmup.forecast import forecast

ORDINARY, ALL = 50, 500


def told(seed):
    """What is wrong with the reading of a drawn log, "" where nothing is, and what became of it."""
    drawn = drawn_log(seed)
    try:
        log = log_of_bytes(drawn.raw, f"{seed}.csv")
    except Fault as fault:
        return (
            "a plain log is refused" if drawn.plain else "" if str(fault).strip() else "a fault says nothing"
        ), "told"
    if not (np.all(np.isfinite(log.time_s)) and np.all(np.diff(log.time_s) > 0) and np.all(np.isfinite(log.temp_c))):
        return "times or readings are no numbers in order", "read"
    if drawn.plain and log.time_s.size > 0.9 * drawn.time_s.size:
        found = np.interp(log.time_s, drawn.time_s, drawn.temp_c)
        if np.max(np.abs(found - log.temp_c)) > 0.6:
            return "readings differ from what was drawn", "read"
    try:
        end = forecast(data_of(log)[0], quick=True)
    except Fault as fault:
        return ("" if str(fault).strip() else "a fault says nothing"), "read"
    in_order = end.wide_low_c <= end.low_c <= end.high_c <= end.wide_high_c
    return ("" if in_order and np.isfinite(end.shape.end_c) else "bands are not in order"), "fitted"


def run(seeds):
    became, wrong = {}, []
    for seed in seeds:
        try:
            said, what = told(seed)
        except Exception as error:  # what must never leave: told with the seed that brings it back
            said, what = f"{type(error).__name__}: {error}", "died"
        became[what] = became.get(what, 0) + 1
        if said:
            wrong.append(f"log {seed} ({drawn_log(seed).done}): {said}")
    return became, wrong


def test_some_logs_that_nobody_wrote():
    became, wrong = run(range(ORDINARY))
    assert not wrong, "\n".join(wrong)
    assert min(became.get(k, 0) for k in ("told", "read", "fitted")) > 0, became


@pytest.mark.slow
def test_many_logs_that_nobody_wrote(table):
    became, wrong = run(range(ORDINARY, ALL))
    table("drawn logs", [f"{count} {what}" for what, count in became.items()])
    assert not wrong, "\n".join(wrong)
