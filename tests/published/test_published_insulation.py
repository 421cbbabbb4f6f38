"""Published values of insulation and its ageing against ours."""

import csv
from pathlib import Path

import numpy as np
import pytest

from benchcalc.materials import ageing
from benchcalc.materials import insulation as ins
from benchcalc.thermal.tool.stack import layer_drop

TEXT = (Path(__file__).parent / "insulation.csv").read_text(encoding="utf-8")
ROWS = list(csv.DictReader(x for x in TEXT.splitlines() if not x.startswith("#")))
LINE = ageing.fit_line(*ageing.ageing_points("IEC 60216-3 worked example"))
INDEX_C = ageing.index_by_line(7.2e7, LINE.intercept, LINE.slope_k)


def at(temp_c):
    return lambda: ageing.life_by_line(temp_c, LINE.intercept, LINE.slope_k)


def motor(temp_c):
    return lambda: ageing.life_by_halving(
        temp_c, 130.0, ageing.rule("halving_motor_k")[0], ageing.rule("index_life_s")[0]
    )


def cold(text, thickness_m):
    return lambda: ins.withstand(thickness_m, ins.insulation_value(text, "dielectric_cold_v_m").low)


OURS = {
    (f"class {letter}", "class_c"): (lambda c=c: ageing.thermal_class(c - 0.5))
    for letter, c in zip("YAEBFHNR", (90, 105, 120, 130, 155, 180, 200, 220))
} | {
    ("IEC 60216-3 example", "index_c"): lambda: INDEX_C,
    ("IEC 60216-3 example", "halving_k"): lambda: ageing.halving_by_line(INDEX_C, LINE.slope_k),
    ("IEC 60216-3 example", "slope_k"): lambda: LINE.slope_k,
    ("IEC 60216-3 example at 220", "hot_life_s"): at(220.0),
    ("IEC 60216-3 example at 200", "hot_life_s"): at(200.0),
    ("IEC 60216-3 example at 180", "hot_life_s"): at(180.0),
    ("motor class 130 at 110", "hot_life_s"): motor(110.0),
    ("motor class 130 at 140", "hot_life_s"): motor(140.0),
    ("oil-paper 98 to 110", "share"): lambda: ageing.life_by_halving(
        110.0, 98.0, ageing.rule("halving_oil_paper_k")[0], 1.0
    ),
    ("glass sleeve bare", "limit_c"): lambda: ins.rating("bare glass sleeve").limit_c,
    ("glass sleeve bare", "boldest_c"): lambda: ins.rating("bare glass sleeve").boldest_c,
    ("silica sleeve", "limit_c"): lambda: ins.rating("silica sleeve").limit_c,
    ("silica sleeve", "boldest_c"): lambda: ins.rating("silica sleeve").boldest_c,
    ("mica plate", "limit_c"): lambda: ins.rating("mica board").limit_c,
    ("PTFE", "limit_c"): lambda: ins.rating("PTFE").limit_c,
    ("polyimide film 0.025 mm", "withstand_v"): cold("polyimide", 2.5e-5),
    ("mica plate 0.4 mm cold", "withstand_v"): cold("mica plate", 4e-4),
    ("silicate cement 1 mm at 801", "withstand_v"): lambda: ins.withstand(
        1e-3, ins.insulation_value("fire cement", "dielectric_hot_v_m").high
    ),
    ("insulated pipe", "drop_k"): lambda: layer_drop(100.0, 0.1, 0.05, 0.05),
    ("flat limit of a thin layer", "drop_k"): lambda: layer_drop(5000.0 * np.pi * 1.0, 1.0, 5e-5, 0.1),
}


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['case']}: {r['quantity']}")
def test_our_number_is_the_published_one(row):
    published, told = float(row["value"]), row["tolerance"]
    allowed = float(told.rstrip(" %")) * (published / 100 if told.endswith("%") else 1)
    got = float(OURS[row["case"], row["quantity"]]())
    assert abs(got - published) <= allowed * (1 + 1e-9) + 1e-9, f"{got:.6g} against {published:g}: {row['source']}"


def test_every_row_is_used_once_and_names_its_source():
    keys = [(r["case"], r["quantity"]) for r in ROWS]
    assert len(keys) == len(set(keys)) and set(keys) == set(OURS)
    assert all(len(r["source"]) > 15 and None not in r.values() for r in ROWS)


def test_the_article_s_own_index_and_line_are_not_reproduced():
    assert abs(INDEX_C - 105) > 60
    assert LINE.slope_k / 9500 > 1.5
    assert ageing.life_by_line(220.0, -15.2 + np.log(3600), 9500.0) / 3600 == pytest.approx(
        59, abs=1
    )  # where its test lasted 480 h


def test_a_round_layer_against_an_open_library():
    ht = pytest.importorskip("ht")
    for inner, thick, k in ((6e-3, 2.5e-4, 0.5), (9e-3, 5e-4, 0.3), (0.06, 1e-3, 0.08)):
        theirs = 700.0 * ht.conduction.R_cylinder(inner, inner + 2 * thick, k, 1.0)
        assert layer_drop(700.0, inner, thick, k) == pytest.approx(theirs, rel=1e-9)
