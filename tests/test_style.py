"""The habits of the code: ruff finds nothing, and would lay nothing out otherwise (settings in pyproject.toml)."""

import shutil
import subprocess
import sys
from importlib.util import find_spec

import pytest
from canonical import ROOT


@pytest.mark.parametrize("what", [("check",), ("format", "--check")], ids=" ".join)
def test_ruff_finds_nothing(what):
    if find_spec("ruff") is None and shutil.which("ruff") is None:
        pytest.skip("ruff is not installed: the layout is not checked (pip install -e '.[test]')")
    ruff = [sys.executable, "-m", "ruff"] if find_spec("ruff") else ["ruff"]
    found = subprocess.run([*ruff, *what, "--no-cache", "benchcalc", "tests"], cwd=ROOT, capture_output=True, text=True)
    if found.returncode:
        pytest.fail(f"{found.stdout}{found.stderr}", pytrace=False)
