"""Pages on sheets that nobody wrote: each runs to its end, whatever the sheet lacks or asks for."""

import pytest
from canonical import ROOT, demo_environment
from generated.drawn_sheets import drawn_sheet
from warm_shell import run_page

import benchcalc as bc

PAGES = sorted((ROOT / "notebooks").glob("[0-9][0-9]_*.ipynb"))
ROUNDS = 4


def good_seeds(first):
    """Seeds of sheets that are read and have something to work on, from a first one on."""
    for seed in range(first, 10**6):
        try:
            build = bc.read(drawn_sheet(seed)[0])
        except bc.Fault:
            continue
        if bc.work_out(build, samples=0).coil is not None:
            yield seed


@pytest.mark.slow
@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_pages_run_on_sheets_that_nobody_wrote(page, tmp_path):
    seeds = good_seeds(5000 + 100 * PAGES.index(page))
    wrong = []
    for seed in [next(seeds) for _ in range(ROUNDS)]:
        own = tmp_path / f"drawn_{seed}.toml"
        own.write_text(drawn_sheet(seed)[0], encoding="utf-8")
        variables = demo_environment() | {"BENCHCALC_SHEET": str(own), "BENCHCALC_MY": str(tmp_path)}
        shown, errors = run_page(page, variables)
        wrong += [f"sheet {seed}: {error}" for error in errors]
        assert shown, seed
    assert not wrong, "\n".join(wrong)
