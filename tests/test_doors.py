"""The two front doors: what they export is there, and pages use nothing else."""

import ast
import doctest
import inspect
import json
import sys

import pytest
from canonical import source_of, workbooks

import benchcalc as bc
from benchcalc import pages

FORMULA_ROOMS = ("heater", "thermal", "materials")  # a page imports the modules whose derivations it shows
NUMPY = ("numpy",)


def imports_of(source):
    """(module, name) of each import in a cell's source; name None for a plain import."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from ((alias.name, None) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from (("." * node.level + (node.module or ""), alias.name) for alias in node.names)


def allowed(module, name):
    """Whether a page may import this."""
    if module == "benchcalc":
        return name in (None, "pages")
    parts = module.split(".")
    return module in ("benchcalc.pages", *NUMPY) or (parts[0] == "benchcalc" and parts[1] in FORMULA_ROOMS)


def reaches_inside(source):
    """Attributes taken of the package that the light door does not export, such as bc.heater."""
    for node in ast.walk(ast.parse(source)):
        own = isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "bc"
        if own and node.attr not in bc.__all__:
            yield node.attr


@pytest.mark.parametrize("path", workbooks(), ids=lambda path: path.name)
def test_pages_import_only_the_doors_numpy_and_formula_modules(path):
    for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
        if cell["cell_type"] != "code":
            continue
        bad = [
            f"{module} {name or ''}".strip()
            for module, name in imports_of(source_of(cell))
            if not allowed(module, name)
        ]
        bad += [f"bc.{name}" for name in reaches_inside(source_of(cell))]
        assert not bad, f"{path.name}, cell {cell['id']}: {', '.join(bad)}: add it to benchcalc/pages.py"


def test_the_rule_for_imports_can_fail():
    source = "import scipy\nfrom benchcalc.chain.workings import links\nfrom benchcalc import heater\nimport os"
    assert [allowed(*one) for one in imports_of(source)] == [False] * 4
    assert all(
        allowed(*one)
        for one in imports_of(
            "import numpy as np\nimport benchcalc as bc\nfrom benchcalc.heater import coil\nfrom benchcalc import pages"
        )
    )
    assert list(reaches_inside("bc.heater.rectified.true_share(1)")) == ["heater"]


@pytest.mark.parametrize("name", pages.__all__)
def test_what_pages_export_is_there(name):
    assert getattr(pages, name) is getattr(pages, name) is not None


def test_every_name_for_pages_is_used_by_a_page():
    used = {
        name
        for path in workbooks()
        for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]
        if cell["cell_type"] == "code"
        for module, name in imports_of(source_of(cell))
        if module == "benchcalc.pages"
    }
    assert used == set(pages.__all__)


def test_a_name_that_pages_do_not_export_is_refused():
    with pytest.raises(AttributeError, match="tabels"):
        pages.tabels  # noqa: B018
    assert set(dir(pages)) == set(pages.__all__)


# ---- types and examples

DOOR_THINGS = [("benchcalc", bc), ("benchcalc.pages", pages)]
DOOR_THINGS += [(f"bc.{name}", getattr(bc, name)) for name in bc.__all__]
DOOR_THINGS += [(f"pages.{name}", getattr(pages, name)) for name in pages.__all__ if callable(getattr(pages, name))]


def without_type(function):
    """Names of the arguments of a function that lack an annotation, and "return" if that is missing."""
    spec = inspect.signature(function)
    bare = [name for name, one in spec.parameters.items() if one.annotation is inspect.Parameter.empty]
    return bare + ["return"] * (spec.return_annotation is inspect.Signature.empty)


@pytest.fixture
def own_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    monkeypatch.setenv("BENCHCALC_SHEET", "insert_press")


def examples_of(name, thing):
    """The examples in one thing's own docstring, with the names of the module that defines it."""
    home = thing if inspect.ismodule(thing) else sys.modules[thing.__module__]
    return doctest.DocTestFinder(recurse=False).find(thing, name, module=home)


@pytest.mark.parametrize("name, thing", DOOR_THINGS, ids=[name for name, _ in DOOR_THINGS])
def test_examples_run(name, thing, own_folder):
    for one in examples_of(name, thing):
        said = []
        doctest.DocTestRunner(optionflags=doctest.REPORT_ONLY_FIRST_FAILURE).run(one, out=said.append)
        assert not said, "".join(said)


@pytest.mark.parametrize("name", bc.__all__)
def test_what_the_library_exports_has_an_example(name):
    assert [one for test in examples_of(name, getattr(bc, name)) for one in test.examples], f"no example in {name}"


@pytest.mark.parametrize("name, thing", [one for one in DOOR_THINGS if inspect.isfunction(one[1])])
def test_what_the_doors_export_is_annotated(name, thing):
    assert without_type(thing) == []


def test_a_wrong_example_and_a_bare_argument_are_found():
    def half(x, y: float):
        """>>> 1 + 1
        3
        """

    said = []
    for one in doctest.DocTestFinder(recurse=False).find(half, "half", module=sys.modules[__name__]):
        doctest.DocTestRunner().run(one, out=said.append)
    assert said and without_type(half) == ["x", "return"]


def test_types_that_a_user_of_the_library_meets_are_exported():
    build = bc.load_chosen("insert_press")
    workings = bc.work_out(build, samples=20)
    met = {
        type(build),
        type(workings),
        type(next(iter(workings.bands.values()))),
        type(workings.verdicts[0][1]),
        type(next(iter(build.known.values()))),
        type(bc.parse("1 mm", "m")),
    }
    assert met == {bc.Build, bc.Workings, bc.Band, bc.Verdict, bc.Known, bc.Quantity}
    with pytest.raises(bc.Fault) as told:
        bc.parse("1", "m")
    assert type(told.value.complaints[0]) is bc.Complaint
