"""Many designs of a whole demo through the whole chain at once: against the chain asked one by one, in a loop."""

import tracemalloc

import numpy as np
import pytest
from speed.test_speed_network import counted

import benchcalc as bc
from benchcalc.chain.heat import link
from benchcalc.chain.heat.link import AT_ONCE, nominal_heat, nth
from benchcalc.chain.workings import all_parts, drawn_builds
from benchcalc.sheet.change import get
from benchcalc.thermal.network import side_by_side

EACH = 4  # designs that the loop does
SOLVED = 4.6  # heat balances solved a design, at most: the loop of watts, temperature and ohms is closed by then
SOLVED_NEAR = 2.6  # the same of samples, which start from the nominal
MOST_BYTES = 200e6  # held at once, of 4096 designs
BYTES_EACH = 15e3  # of what is told of a design, once it is worked out


@pytest.fixture(scope="module")
def press():
    """The parts of the insert press, and a function of a number that gives so many samples of it."""
    build = bc.load_chosen("insert_press")
    parts, _ = all_parts(build)
    return parts, lambda designs: drawn_builds(build, parts["heat"], parts["wire"], designs)


@pytest.mark.parametrize("designs", [256, pytest.param(4096, marks=pytest.mark.slow)])
def test_the_whole_chain_of_many_designs(press, race, monkeypatch, designs):
    """Every uncertain input drawn; what comes out is that of the same designs one by one.  Counted: heat balances that
    are solved for a design, and calls that solve many at once."""
    parts, drawn = press
    many = drawn(designs)
    picked = np.linspace(0, designs - 1, EACH).astype(int)

    def one(i):
        own = many
        for path in many.known:
            value = get(many, path)
            if isinstance(value, np.ndarray) and value.shape == (designs,):
                own = bc.change(own, path, float(value[i]))
        return own

    singles = [one(i) for i in picked]
    near, together, each = race(
        {
            f"{designs} samples, by what they differ from the nominal": lambda: all_parts(
                many, near=nominal_heat(parts["heat"])
            )[0],
            f"{designs} designs at once, each on the fine mesh": lambda: all_parts(many)[0],
            f"{EACH} of them in a loop, of {designs // EACH} times as many": lambda: [all_parts(s)[0] for s in singles],
        }
    ).values()
    for found in (near, together):
        assert found["heat"].tip_c[picked] == pytest.approx([p["heat"].tip_c for p in each], abs=0.3)
    for by, most in ((None, SOLVED), (nominal_heat(parts["heat"]), SOLVED_NEAR)):
        with monkeypatch.context() as patch:
            solved = counted(patch, side_by_side, "eliminate")
            all_parts(many, near=by)
        sizes = [matrix.shape[1] for _, matrix in solved]
        assert sum(sizes) <= most * designs and max(sizes) <= AT_ONCE
        assert len(sizes) <= max(designs / 40, 8)  # each call solves many


@pytest.mark.parametrize("coarse", [True, pytest.param(False, marks=pytest.mark.slow)])
def test_memory_does_not_grow_with_the_designs(press, monkeypatch, coarse):
    """Counted: bytes held at most, of 64 designs taken in turn twice and three times: the same ones each time, since of
    others more may be open at once."""
    parts, drawn = press
    monkeypatch.setattr(link, "AT_ONCE", 64)
    by = nominal_heat(parts["heat"]) if coarse else None
    held_bytes(drawn(8), by)  # tables are read
    few, many = (held_bytes(nth(drawn(64), np.arange(designs) % 64), by) for designs in (128, 192))
    assert many - few < 64 * BYTES_EACH < few / 4


@pytest.mark.slow
@pytest.mark.parametrize("coarse", [True, False])
def test_thousands_of_designs_are_held_in_little(press, coarse):
    parts, drawn = press
    assert held_bytes(drawn(4096), nominal_heat(parts["heat"]) if coarse else None) < MOST_BYTES


def held_bytes(many, near):
    """Bytes held at most while samples are worked out.  many: Build of them. near: as all_parts."""
    tracemalloc.start()
    try:
        all_parts(many, near=near)
        return tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
