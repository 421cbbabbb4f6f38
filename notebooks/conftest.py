"""Test set-up (not a workbook): kernels get the demo's sheet, and outputs of another sheet stop the run."""

import pytest
from canonical import ROOT, foreign_sheet, use_the_demo

use_the_demo()


def pytest_configure(config):
    if config.option.nbval_sanitize_with == "tests/sanitize.cfg":  # also when started from another folder
        config.option.nbval_sanitize_with = str(ROOT / "tests" / "sanitize.cfg")


def pytest_collection_modifyitems(items):
    for path in sorted({item.path for item in items if item.path.suffix == ".ipynb"}):
        if sentence := foreign_sheet(path):
            raise pytest.UsageError(sentence)
