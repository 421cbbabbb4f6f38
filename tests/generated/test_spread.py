"""Tools that nobody designed: their spread from the coarse mesh beside that of the same samples on the fine one."""

import numpy as np
import pytest
from chain.heat.test_alike import STEEP, ends_moved
from generated.drawn_sheets import drawn_sheet

import benchcalc as bc
from benchcalc.basics.fault import Fault


def worst_of(seed):
    """The band that moves most, over its width, the steep ones left out and alone; None for a sheet without one."""
    try:
        off = ends_moved(bc.read(drawn_sheet(seed)[0]))
    except Fault:
        return None
    steep = max((share for key, share in off.items() if key in STEEP), default=0.0)
    rest = [share for key, share in off.items() if key not in STEEP]
    return (max(rest), steep) if rest else None


@pytest.mark.parametrize("seed", [441])
def test_a_drawn_tool_keeps_its_spread(seed):
    rest, steep = worst_of(seed)
    assert rest < 0.03 and steep < 0.06


@pytest.mark.slow
def test_drawn_tools_keep_their_spread(table):
    found = np.array([pair for pair in map(worst_of, range(300)) if pair is not None])
    ends = [
        f"{np.median(x):.4f} in the middle, {np.percentile(x, 95):.4f} for 95 of 100, {x.max():.4f} at most"
        for x in found.T
    ]
    table("spread of drawn tools on a coarse mesh, over the width of the band", [f"{len(found)} tools", *ends])
    assert len(found) > 40
    assert np.median(found[:, 0]) < 0.01
    assert (np.percentile(found, 95, axis=0) < (0.03, 0.05)).all()
