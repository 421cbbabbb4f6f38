"""A process killed while it saves never leaves an empty or half file and never loses what it saved before."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ORDINARY, ALL = 25, 500


def run(folder, kills, seed):
    made = subprocess.run(
        [sys.executable, Path(__file__).with_name("killed_saves.py"), folder, str(kills), str(seed)],
        capture_output=True,
        text=True,
        env=os.environ | {"BENCHCALC_MY": str(folder)},
    )
    assert made.returncode == 0, made.stderr
    return made.stdout.splitlines()


@pytest.mark.skipif(not hasattr(os, "fork"), reason="a process is copied and killed here")
@pytest.mark.parametrize("kills, seed", [(ORDINARY, 1), pytest.param(ALL - ORDINARY, 2, marks=pytest.mark.slow)])
def test_killed_saves_lose_nothing(kills, seed, tmp_path, table):
    *wrong, last = run(tmp_path, kills, seed)
    table("killed saves", [last])
    assert not wrong, "\n".join(wrong)
    assert int(last.split()[2]) > kills / 10, "hardly a save came to its end before it was killed"
