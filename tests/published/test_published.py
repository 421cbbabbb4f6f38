"""Every check value of tests/published/*.csv against the function of ours that should give it.

Beside the files stand the cases, by group: OURS {(case, quantity): function}, and SIZE {unit: in SI} where these
answer in SI; without it they answer in the row's unit.
"""

import csv
from pathlib import Path

import pytest
from published import (
    bench_cases,
    electrical_cases,
    handle_cases,
    insulation_cases,
    metals_cases,
    power_cases,
    surface_cases,
    warmup_cases,
)

FOLDER = Path(__file__).parent
CASES = {
    "bench": bench_cases,
    "gauges": electrical_cases,
    "handle": handle_cases,
    "insulation": insulation_cases,
    "metals": metals_cases,
    "power": power_cases,
    "supply": electrical_cases,
    "surface": surface_cases,
    "warmup": warmup_cases,
    "wire": electrical_cases,
}


def rows_of(name):
    """The rows of one file as dicts; lines that begin with # tell about it."""
    with (FOLDER / f"{name}.csv").open(newline="", encoding="utf-8") as text:
        return list(csv.DictReader(line for line in text if not line.startswith("#")))


ROWS = [(name, row) for name in CASES for row in rows_of(name)]


def allowed(row):
    """The tolerance of a row in its own unit."""
    size = float(row["tolerance"].rstrip(" %"))
    return size * float(row["value"]) / 100 if row["tolerance"].endswith("%") else size


@pytest.mark.parametrize("name, row", ROWS, ids=[f"{n}, {r['case']}: {r['quantity']}" for n, r in ROWS])
def test_our_number_is_the_published_one(name, row):
    sizes = getattr(CASES[name], "SIZE", None)
    published, size = float(row["value"]), 1 if sizes is None else sizes[row["unit"]]
    got = float(CASES[name].OURS[row["case"], row["quantity"]]()) / size
    assert abs(got - published) <= allowed(row) * (1 + 1e-9), (
        f"{got:.6g} against {published:g} {row['unit']}: {row['source']}"
    )


def test_every_file_has_its_cases():
    assert {path.stem for path in FOLDER.glob("*.csv")} == set(CASES)


@pytest.mark.parametrize("cases", dict.fromkeys(CASES.values()), ids=lambda c: c.__name__.rpartition(".")[2])
def test_every_row_is_used_once_and_names_its_source(cases):
    files = [name for name, of in CASES.items() if of is cases]
    rows = [row for name, row in ROWS if name in files]
    keys = [(row["case"], row["quantity"]) for row in rows]
    assert len(keys) == len(set(keys)) and set(keys) == set(cases.OURS)
    for row in rows:
        assert None not in row and None not in row.values(), row
        assert len(row["source"]) > 15 and float(row["tolerance"].rstrip(" %")) >= 0, row
