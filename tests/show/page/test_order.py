"""Cells of a page run out of order: a sentence, no traceback, and the run stops all the same."""

from canonical import ROOT, demo_environment
from warm_shell import run_forked

OPENED = "from benchcalc.pages import open_sheet\nbuild, sheet = open_sheet()"
CAUGHT = """
from IPython import get_ipython
from IPython.utils.capture import capture_output
with capture_output() as caught:
    result = get_ipython().run_cell({cell!r})
assert not result.success
said = "".join(o.data.get("text/markdown", "") for o in caught.outputs)
"""


EARLY = ["shared_tables.readings(build, workings)", "for i in (1,):\n    found[i]", "(lambda: workings)()"]


def test_a_cell_that_comes_too_early_says_so_and_other_errors_are_shown_as_always():
    check = (
        'assert "came too early" in said and "Run All Above" in said, (said, caught.stdout)\n'
        'assert "Traceback" not in caught.stdout + caught.stderr'
    )
    early = [CAUGHT.format(cell=cell) + check for cell in EARLY]
    other = CAUGHT.format(cell="exec('missing', {})") + 'assert "came too early" not in said'
    _, errors = run_forked([OPENED, *early, other], ROOT, demo_environment())
    assert len(errors) == 1 and errors[0].startswith("Traceback") and "missing" in errors[0], errors


def test_a_page_run_from_its_middle_stops_there():
    _, errors = run_forked([OPENED, "workings.supply", "1 / 0"], ROOT, demo_environment())
    assert "workings" in "".join(errors) and "ZeroDivision" not in "".join(errors)
