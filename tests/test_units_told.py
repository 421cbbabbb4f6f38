"""Temperatures in words are told by the glossary, in the degrees that the sheet uses."""

import ast
import re
from dataclasses import replace
from pathlib import Path

import pytest

import benchcalc as bc
from benchcalc.basics.names import in_degrees
from benchcalc.basics.tables import rows
from benchcalc.materials.metals import service_note
from benchcalc.show.panel.designs import difference

ROOT = Path(bc.__file__).parent
CLASS_IN_C = (  # evenings and their papers count in degC throughout; a sheet out of a job is not a sheet yet
    "studies/lesson/",
    "show/lesson/",
    "studies/from_job.py",
    "show/editor/job_view.py",
    "show/insulation/tables.py:points_and_lines",
)
TOLD = ("service_limit_c", "rating_means", "gives_off")
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


def test_temperatures_in_words_of_the_tables_follow_the_sheet():
    assert in_degrees("smokes from about 250 to 300 degC, gone at 600 degC", "F") == (
        "smokes from about 482 to 572 degF, gone at 1112 degF"
    )
    assert in_degrees("two tables differ by 220 K", "F") == "two tables differ by 220 K"
    assert in_degrees("from 200 degC", "C") == "from 200 degC"


@pytest.mark.parametrize("table, column", [("metal_values", "note"), ("insulation_notes", "text")])
def test_no_temperature_in_words_that_verdicts_tell_stands_without_its_unit(table, column):
    told = [r[column] for r in rows(table) if r[column] and r.get("quantity", r.get("topic")) in TOLD]
    assert len(told) > 20
    for words in told:
        bare = re.sub(r"-?\d+(?: to -?\d+)? degC|\d+ K\b|\d+ h\b|13-4|22-5|C\d+|T6", "", words)
        assert not re.search(r"\b\d{3,4}\b", bare), words


def test_a_metal_that_is_as_another_is_told_by_that_ones_words():
    for metal in ("brass-70-30", "copper-dhp"):
        assert not service_note(metal).startswith("as ") and "degF" in service_note(metal, "F")
