"""Temperatures in words are told by the glossary, in the degrees that the sheet uses."""

import ast
import re
from dataclasses import replace
from pathlib import Path

import pytest

import benchcalc as bc
from benchcalc.show.panel.designs import difference

ROOT = Path(bc.__file__).parent
CLASS_IN_C = (  # evenings and their papers count in degC throughout; a sheet out of a job is not a sheet yet
    "studies/lesson/",
    "show/lesson/",
    "studies/from_job.py",
    "show/editor/job_view.py",
    "show/insulation/tables.py:points_and_lines",
)
DEMOS = ("insert_press", "foil_iron", "foam_bow", "wax_pot")


def _untold(path):
    """Calls of say and its like for a temperature or a difference that are not told which degrees to use."""
    name = path.relative_to(ROOT).as_posix()
    for function in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(function, ast.FunctionDef) or f"{name}:{function.name}".startswith(CLASS_IN_C):
            continue
        for call in ast.walk(function):
            if not isinstance(call, ast.Call) or getattr(call.func, "id", "") not in ("say", "said_number", "shown"):
                continue
            key = call.args[0].value if call.args and isinstance(call.args[0], ast.Constant) else ""
            told = {k.arg for k in call.keywords}
            if re.search(r"_[ck]$", key) and not key.endswith(("j_k", "per_k")) and not told & {"degrees", None}:
                yield f"{name}:{call.lineno} {ast.unparse(call)}"


def test_every_temperature_is_told_in_the_degrees_of_its_sheet():
    found = [
        f
        for room in ("chain", "studies", "show")
        for path in sorted((ROOT / room).rglob("*.py"))
        for f in _untold(path)
    ]
    assert not found, found


def test_no_temperature_is_turned_into_fahrenheit_by_hand():
    found = [
        f"{path.relative_to(ROOT)}: {line.strip()}"
        for room in ("chain", "show")
        for path in sorted((ROOT / room).rglob("*.py"))
        for line in path.read_text(encoding="utf-8").splitlines()
        if re.search(r"1\.8 \+ 32|9 / 5 \+ 32|:[.\d]*[fg]\} deg[CF]", line)
    ]
    assert not found, found


@pytest.mark.parametrize("demo", DEMOS)
def test_a_sheet_in_fahrenheit_is_told_no_celsius(demo):
    build = replace(bc.load_chosen(demo), units="inch", degrees="F")
    for link, v in bc.work_out(build, samples=0).verdicts:
        words = f"{v.what} {v.why} {v.place}"
        assert not re.search(r"degC|\d K\b|[\d.]+ mm\b|m/s", words), (link, words)


def test_two_temperatures_differ_by_the_glossarys_step():
    assert difference("283 degC", "321 degC") == "+38 K"
    assert difference("541 degF", "610 degF") == "+69 degF"
