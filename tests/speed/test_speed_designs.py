"""Many designs of a whole demo through the whole chain at once: against the chain asked one by one, in a loop."""

import numpy as np
import pytest
from speed.test_speed_network import counted

import benchcalc as bc
from benchcalc.chain.workings import all_parts, drawn_builds
from benchcalc.sheet.change import get
from benchcalc.thermal.network import side_by_side

EACH = 4  # designs that the loop does
SOLVED = 4.6  # heat balances solved a design, at most: the loop of watts, temperature and ohms is closed by then


@pytest.mark.parametrize("designs", [256, pytest.param(4096, marks=pytest.mark.slow)])
def test_the_whole_chain_of_many_designs(race, monkeypatch, designs):
    """Every uncertain input drawn; what comes out is that of the same designs one by one.  Counted: heat balances that
    are solved for a design, and calls that solve many at once."""
    build = bc.load_chosen("insert_press")
    parts, _ = all_parts(build)
    many = drawn_builds(build, parts["heat"], parts["wire"], designs)
    picked = np.linspace(0, designs - 1, EACH).astype(int)

    def one(i):
        own = many
        for path in many.known:
            value = get(many, path)
            if isinstance(value, np.ndarray) and value.shape == (designs,):
                own = bc.change(own, path, float(value[i]))
        return own

    singles = [one(i) for i in picked]
    together, each = race(
        {
            f"{designs} designs at once": lambda: all_parts(many)[0],
            f"{EACH} of them in a loop, of {designs // EACH} times as many": lambda: [all_parts(s)[0] for s in singles],
        }
    ).values()
    assert together["heat"].tip_c[picked] == pytest.approx([p["heat"].tip_c for p in each], abs=0.3)
    solved = counted(monkeypatch, side_by_side, "eliminate")
    all_parts(many)
    sizes = [matrix.shape[1] for _, matrix in solved]
    assert sum(sizes) <= SOLVED * designs
    assert len(sizes) <= max(designs / 40, 8)  # each call solves many
