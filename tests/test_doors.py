"""The two front doors: what they export is there, and pages use nothing else."""

import ast
import json

import pytest
from canonical import source_of, workbooks

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
    import benchcalc as bc

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
