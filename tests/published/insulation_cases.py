"""Published values of insulation and its ageing against ours."""

import numpy as np

from benchcalc.basics.tables import one
from benchcalc.materials import ageing
from benchcalc.materials import insulation as ins
from benchcalc.thermal.tool.stack import layer_drop

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
    (f"class {letter}", "class_c"): (lambda x=letter: one("thermal_classes", "letter", x)["class_c"])
    for letter in "YAEBFHNR"
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
