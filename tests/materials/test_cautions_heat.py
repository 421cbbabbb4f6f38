"""Cautions that hang on a temperature: the sentence names the number, and the number is the table's limit."""

import math

from benchcalc.basics import tables


def value(topic, key, quantity):
    return next(r["value"] for r in tables.rows(topic) if (r["key"], r["quantity"]) == (key, quantity))


def test_heat_cautions_name_the_number_they_hang_on():
    numbers = {}
    for row in tables.rows("cautions"):
        name, above, number = row["trigger"].partition(">")
        if above and name.endswith("_c"):
            numbers[name] = float(number)
            assert f" {number} degC" in row["sentence"], row
    job = {r["job"]: r for r in tables.rows("work")}
    assert numbers["zinc_c"] == math.floor(value("metal_values", "zinc", "melting_low_c"))
    assert numbers["wax_c"] == job["wax, dipping"]["never_c"]
    assert numbers["foam_c"] == job["foam, cutting"]["fume_c"]
    assert numbers["glue_c"] == job["hide glue, keeping warm"]["never_c"]
    for name, key in (("ptfe_c", "ptfe"), ("pvc_c", "pvc"), ("silicone_c", "silicone-rubber")):
        assert numbers[name] == value("insulation", key, "continuous_limit_c")
    for name, key in (
        ("galvanised_c", "galvanised-steel"),
        ("chromed_c", "chromed-steel"),
        ("aluminium_c", "aluminium"),
        ("solder_c", "solder-sn60pb40"),
    ):
        assert numbers[name] == value("metal_values", key, "service_limit_c")
    assert numbers["handle_c"] == next(r["value"] for r in tables.rows("wood_limits") if r["key"] == "long_term_c")
    assert numbers["grip_c"] == min(r["value"] for r in tables.rows("touch_limits"))
