"""The tables in data/: form, sources, and agreement with standards and open libraries."""

import csv
import math
from pathlib import Path

import fluids
import pytest

DATA = Path(__file__).resolve().parents[2] / "data"
BASES = {"published", "derived", "common practice", "memory", "assumed"}
KINDS = {
    "standard",
    "handbook",
    "textbook",
    "paper",
    "maker table",
    "open data",
    "own derivation",
    "common practice",
    "memory",
}
COLUMNS = {
    "sources": "source_id,kind,reference,taken",
    "alloys": "key,name,also,family,note",
    "alloy_values": "key,quantity,value,low,high,source_id,basis,note",
    "alloy_resistance_factor": "key,temp_c,value,low,high,source_id,basis",
    "gauges": "system,number,diameter_m,source_id,basis",
    "surface_load": "mounting,words,low_w_m2,high_w_m2,source_id,basis,note",
    "first_readings": "key,area,tells,words,power,instrument,quantity,own_share,own_floor,minutes,source_id,basis,note",
    "instruments": "key,also,quantity,share_of_reading,floor,unit,source_id,basis,note",
    "limits": "key,words,value,unit,source_id,basis,note",
    "defaults": "key,value,low,high,spread,source_id,basis,note",
    "cautions": "id,trigger,sentence,defer_to,source_id,basis",
}
NUMERIC = {"value", "low", "high", "diameter_m", "low_w_m2", "high_w_m2", "temp_c", "share_of_reading", "floor"}
MAY_BE_EMPTY = {"also", "note", "low", "high", "own_share", "own_floor"}
SOURCED = sorted(set(COLUMNS) - {"sources", "alloys"})


def lines(topic):
    text = (DATA / f"{topic}.csv").read_text(encoding="utf-8")
    return [line for line in text.splitlines() if not line.startswith("#")]


def comments(topic):
    text = (DATA / f"{topic}.csv").read_text(encoding="utf-8")
    return [line[1:].strip() for line in text.splitlines() if line.startswith("#")]


def rows(topic):
    return list(csv.DictReader(lines(topic)))


def value(key, quantity):
    found = [r for r in rows("alloy_values") if (r["key"], r["quantity"]) == (key, quantity)]
    assert len(found) == 1, (key, quantity)
    return {c: float(found[0][c]) for c in ("value", "low", "high")}


def factor(key, temp_c):
    found = [r for r in rows("alloy_resistance_factor") if r["key"] == key and float(r["temp_c"]) == temp_c]
    assert len(found) == 1, (key, temp_c)
    return {c: float(found[0][c]) for c in ("value", "low", "high")}


def gauge(system):
    return {r["number"]: float(r["diameter_m"]) for r in rows("gauges") if r["system"] == system}


# ---- form ----


@pytest.mark.parametrize("topic", sorted(COLUMNS))
def test_header_and_every_cell(topic):
    assert lines(topic)[0] == COLUMNS[topic]
    assert comments(topic), "a table says at its top what it holds"
    assert all("#" not in line for line in lines(topic))
    assert len(rows(topic)) > 5
    for row in rows(topic):
        assert None not in row and None not in row.values(), row
        for column, text in row.items():
            assert text == text.strip(), row
            assert text or column in MAY_BE_EMPTY, (column, row)
            if column in NUMERIC and text:
                assert math.isfinite(float(text)), (column, row)


@pytest.mark.parametrize("topic", ["alloy_values", "alloy_resistance_factor", "defaults"])
def test_value_lies_between_its_ends(topic):
    for row in rows(topic):
        assert float(row["low"]) <= float(row["value"]) <= float(row["high"]), row


def test_no_entry_stands_twice():
    for topic, columns in {
        "sources": ["source_id"],
        "alloys": ["key"],
        "alloy_values": ["key", "quantity"],
        "alloy_resistance_factor": ["key", "temp_c"],
        "gauges": ["system", "number"],
        "surface_load": ["mounting"],
        "instruments": ["key", "quantity"],
        "limits": ["key"],
        "defaults": ["key"],
        "cautions": ["id"],
    }.items():
        keys = [tuple(r[c] for c in columns) for r in rows(topic)]
        assert len(set(keys)) == len(keys), topic


def test_every_source_is_listed_and_every_listed_source_is_used():
    known = {r["source_id"] for r in rows("sources")}
    assert {r["kind"] for r in rows("sources")} <= KINDS
    assert all(c.isalnum() or c in ".-" for source_id in known for c in source_id)
    used = set()
    for path in DATA.glob("*.csv"):
        for row in rows(path.stem):
            if path.stem != "sources" and row.get("source_id"):
                ids = row["source_id"].split(";")
                assert set(ids) <= known, (path.name, row)
                used |= set(ids)
    assert used == known


@pytest.mark.parametrize("topic", SOURCED)
def test_basis_is_one_of_five(topic):
    assert {r["basis"] for r in rows(topic)} <= BASES


def test_memory_and_practice_are_named_as_such():
    kinds = {r["source_id"]: r["kind"] for r in rows("sources")}
    for topic in SOURCED:
        for row in rows(topic):
            ids = row["source_id"].split(";")
            if row["basis"] == "published":
                assert any(kinds[i] not in ("memory", "common practice", "own derivation") for i in ids), (topic, row)
            if ids == ["MEMORY"]:
                assert row["basis"] == "memory", (topic, row)
            if ids == ["COMMON-PRACTICE"]:
                assert row["basis"] == "common practice", (topic, row)
    for row in rows("limits"):
        if row["basis"] == "memory":
            assert "check the standard" in row["note"], row


# ---- gauges ----


def test_awg_equals_the_formula_of_astm_b258():
    table = gauge("AWG")
    assert list(table) == [str(n) for n in range(8, 41)]
    for n, diameter_m in table.items():
        assert diameter_m == pytest.approx(0.005 * 0.0254 * 92 ** ((36 - int(n)) / 39), rel=1e-4)


def test_awg_agrees_with_the_table_of_fluids():
    # fluids (piping.t_from_gauge, schedule AWG) prints diameters rounded to 0.1 or 0.01 mil
    for n, diameter_m in gauge("AWG").items():
        printed_m = fluids.t_from_gauge(float(n), schedule="AWG")
        assert diameter_m == pytest.approx(printed_m, rel=5e-3), n


def test_swg_agrees_with_the_table_of_fluids():
    # One disagreement: for SWG 28 fluids prints 0.0149 in; BS 3737:1964 has 0.0148 in = 0.37592 mm.
    table = gauge("SWG")
    assert list(table) == [str(n) for n in range(12, 43)]
    assert table["28"] == pytest.approx(0.0148 * 0.0254, rel=1e-6)
    assert fluids.t_from_gauge(28.0, schedule="BSWG") == pytest.approx(0.0149 * 0.0254, rel=1e-6)
    for n in table.keys() - {"28"}:
        assert table[n] == pytest.approx(fluids.t_from_gauge(float(n), schedule="BSWG"), rel=1e-3)


def test_metric_sizes_follow_the_r20_series_of_iso_3():
    # ISO 3, Preferred numbers: the exact terms are 10^(k/20); rounded terms stay within 1.3 %
    table = gauge("metric")
    assert min(table.values()) == 0.1e-3 and max(table.values()) == 1.25e-3
    assert len(table) == 23
    for k, (number, diameter_m) in enumerate(table.items()):
        assert float(number) * 1e-3 == pytest.approx(diameter_m, rel=1e-12)
        assert diameter_m == pytest.approx(0.1e-3 * 10 ** (k / 20), rel=0.0135)


# ---- alloys ----

OHM_M_PER_OHM_CMIL_FT = math.pi / 4 * (0.0254e-3) ** 2 / 0.3048
# ASTM B603-07 Table 1, ohm circular mil per foot, of the class with this grade's aluminium
ASTM_B603 = {
    "fecral-22-5.8": (825, 920),
    "fecral-21-6": (825, 920),
    "fecral-25-5": (795, 880),
    "fecral-22-5.3": (795, 880),
    "fecral-23-5": (770, 855),
    "fecral-13-4": (715, 785),
    "fecral": (665, 920),
}
# ASTM B344 grades 650 and 675, +-5 %
ASTM_B344 = {"nicr-80-20": (650 * 0.95, 650 * 1.05), "nicr-60-15": (675 * 0.95, 675 * 1.05)}


@pytest.mark.parametrize("key, ends", sorted((ASTM_B603 | ASTM_B344).items()))
def test_nominal_resistivity_lies_in_the_astm_range(key, ends):
    low, high = (end * OHM_M_PER_OHM_CMIL_FT for end in ends)
    assert low <= value(key, "resistivity_ohm_m")["value"] <= high


@pytest.mark.parametrize("topic", ["alloys", "instruments"])
def test_a_spelling_means_one_thing(topic):
    meaning = {}
    for row in rows(topic):
        for word in [row["key"], *filter(None, row["also"].split(";"))]:
            assert word == word.strip()
            assert meaning.setdefault(word.lower(), row["key"]) == row["key"], word


def test_unnamed_fecral_holds_the_whole_family():
    whole = value("fecral", "resistivity_ohm_m")
    family = [r["key"] for r in rows("alloys") if r["family"] == "Fe-Cr-Al" and r["key"] != "fecral"]
    assert len(family) == 7
    for key in family:
        assert whole["low"] <= value(key, "resistivity_ohm_m")["value"] <= whole["high"]
        assert value("fecral", "service_limit_c")["value"] <= value(key, "service_limit_c")["value"]
    for row in rows("alloy_resistance_factor"):
        if row["key"] in family and float(row["temp_c"]) in range(20, 1201, 100):
            band = factor("fecral", float(row["temp_c"]))
            assert band["low"] <= float(row["value"]) <= band["high"], row
    assert (factor("fecral", 1000)["low"], factor("fecral", 1000)["high"]) == (0.97, 1.18)


def test_every_alloy_has_its_values_and_a_factor_of_one_at_20_c():
    keys = [r["key"] for r in rows("alloys")]
    assert len(keys) == 12
    needed = {
        "resistivity_ohm_m",
        "service_limit_c",
        "melting_c",
        "density_kg_m3",
        "specific_heat_j_kgk",
        "conductivity_w_mk",
        "expansion_per_k",
        "emissivity",
    }
    for key in keys:
        assert {r["quantity"] for r in rows("alloy_values") if r["key"] == key} == needed
        assert factor(key, 20) == {"value": 1, "low": 1, "high": 1}
    assert {r["key"] for r in rows("alloy_values")} == set(keys)
    assert {r["key"] for r in rows("alloy_resistance_factor")} == set(keys)


def test_factor_rows_rise_in_temperature_and_their_band_is_wide_enough():
    for key in {r["key"] for r in rows("alloy_resistance_factor")} - {"copper"}:
        temps_c = [float(r["temp_c"]) for r in rows("alloy_resistance_factor") if r["key"] == key]
        assert temps_c == sorted(temps_c)
        assert max(temps_c) < value(key, "melting_c")["value"]
        for temp_c in temps_c:
            if temp_c >= 400:
                band = factor(key, temp_c)
                assert band["high"] >= 1.019 * band["value"] and band["low"] <= 0.981 * band["value"]


@pytest.mark.parametrize(
    "key, temp_c, seen, source",
    [
        ("nicr-80-20", 500, 1.026, "GB/T 1234, Cr20Ni80"),
        ("nicr-80-20", 1000, 1.014, "GB/T 1234, Cr20Ni80"),
        ("nicr-80-20", 500, 1.16 / 1.08, "German maker sheet, rapidly cooled, 108 to 116 microohm cm"),
        ("nicr-80-20", 1100, 1.071, "UK maker, worked element design"),
        ("nicr-80-20", 500, 1.043, "Forging-Stamping-Heat Treating 1925, p. 73, mean of three"),
        ("nicr-80-20", 1000, 1.045, "Forging-Stamping-Heat Treating 1925, p. 73, mean of three"),
        ("nicr-80-20", 100, 108.3 / 107.5, "CRC wire tables, 79Ni-21Cr"),
        ("nicr-60-15", 1000, 1.095, "GB/T 1234, Cr15Ni60"),
        ("nicr-60-15", 100, 1 + 150e-6 * 80, "US maker, 675 grade, 150 ppm/K"),
        ("fecral-21-6", 1000, 0.99, "21-6 with niobium, supplier table"),
        ("cuni-44", 100, 45.11 / 45.38, "CRC wire tables, 60Cu-40Ni"),
    ],
)
def test_factor_band_holds_the_published_points(key, temp_c, seen, source):
    band = factor(key, temp_c)
    if key == "cuni-44":  # another alloy (60/40): near, not inside
        assert seen == pytest.approx(band["value"], abs=0.01), source
    else:
        assert band["low"] <= seen <= band["high"], source


def test_copper_follows_iec_60028():
    rho = value("copper", "resistivity_ohm_m")["value"]
    assert rho == pytest.approx(1e-6 / 58, rel=1e-4)
    for row in rows("alloy_resistance_factor"):
        if row["key"] == "copper":
            rise_k = float(row["temp_c"]) - 20
            assert float(row["value"]) == pytest.approx(1 + 0.00393 * rise_k, rel=1e-5)


def test_copper_wire_reproduces_the_printed_awg_table():
    # HyperPhysics (Georgia State University), "American Wire Gauges", ohm per 1000 ft at 20 degC
    rho = value("copper", "resistivity_ohm_m")["value"]
    for n, printed_ohm in {"10": 0.9989, "20": 10.15, "30": 103.2, "40": 1049.0}.items():
        area_m2 = math.pi / 4 * gauge("AWG")[n] ** 2
        assert rho * 304.8 / area_m2 == pytest.approx(printed_ohm, rel=1e-3), n


def test_copper_agrees_with_open_element_data():
    # melting point: chemicals (CRC, by CAS number); density: periodictable
    chemicals = pytest.importorskip("chemicals")
    periodictable = pytest.importorskip("periodictable")
    assert value("copper", "melting_c")["value"] == pytest.approx(chemicals.Tm("7440-50-8") - 273.15, abs=1)
    assert value("copper", "density_kg_m3")["value"] == pytest.approx(periodictable.Cu.density * 1000, rel=0.01)


@pytest.mark.parametrize(
    "key, weights",
    [
        ("nicr-80-20", {"Ni": 0.80, "Cr": 0.20}),
        ("cuni-44", {"Cu": 0.555, "Ni": 0.44, "Mn": 0.005}),
        ("nicr-60-15", {"Ni": 0.60, "Cr": 0.16, "Fe": 0.24}),
    ],
)
def test_density_is_near_the_rule_of_mixtures(key, weights):
    periodictable = pytest.importorskip("periodictable")
    mixed = 1000 / sum(w / getattr(periodictable, s).density for s, w in weights.items())
    assert value(key, "density_kg_m3")["value"] == pytest.approx(mixed, rel=0.02)


# ---- surface load, defaults, instruments, limits, cautions ----


def test_surface_loads_are_ordered_and_each_mounting_has_a_start_temperature():
    mountings = [r["mounting"] for r in rows("surface_load")]
    for row in rows("surface_load"):
        assert 1e4 <= float(row["low_w_m2"]) < float(row["high_w_m2"]) <= 5e5
    started = {r["key"].partition("/")[2] for r in rows("defaults") if r["key"].startswith("coil.wire_temp_c/")}
    assert started == set(mountings)


def test_free_wire_load_holds_a_published_current():
    # US maker table: AWG 24, 4.60 A at 600 degC in still air
    bare = next(r for r in rows("surface_load") if r["mounting"] == "bare wire in free air")
    rho = value("nicr-80-20", "resistivity_ohm_m")["value"] * factor("nicr-80-20", 600)["value"]
    load_w_m2 = 4 * 4.60**2 * rho / (math.pi**2 * gauge("AWG")["24"] ** 3)
    assert load_w_m2 == pytest.approx(7.2e4, rel=0.03)
    assert float(bare["low_w_m2"]) < load_w_m2 < float(bare["high_w_m2"])


def test_defaults_can_be_drawn():
    for row in rows("defaults"):
        assert row["spread"] in ("uniform", "log"), row
        assert row["spread"] == "uniform" or float(row["low"]) > 0, row
    keys = {r["key"] for r in rows("defaults")}
    assert {
        "supply.mains",
        "supply.warming",
        "room.ambient_c",
        "room.air_speed_m_s",
        "coil.end_room_m",
        "coil.anchor_turns",
        "coil.tails.resistance_ohm",
    } <= keys
    meters = {k.partition("/")[2] for k in keys if k.startswith("reading.meter/")}
    assert len(meters) == 1 and meters <= {r["key"] for r in rows("instruments")}


def test_supply_warming_covers_copper_from_0_to_75_k():
    row = next(r for r in rows("defaults") if r["key"] == "supply.warming")
    assert float(row["low"]) == 1 and float(row["high"]) == pytest.approx(1 + 0.00393 * 75, abs=0.01)


def test_instruments_use_si_quantities():
    units = {"v": "V", "a": "A", "ohm": "ohm", "m": "m", "kg": "kg", "s": "s", "c": "degC"}
    for row in rows("instruments"):
        assert row["unit"] == units[row["quantity"]], row
        assert 0 <= float(row["share_of_reading"]) < 0.1 and float(row["floor"]) >= 0
        assert float(row["share_of_reading"]) + float(row["floor"]) > 0
    assert {r["quantity"] for r in rows("instruments")} == set(units)


@pytest.mark.parametrize("temp_c", [0, 100, 333, 600, 1000])
def test_thermocouple_error_covers_class_2_of_iec_60584_1(temp_c):
    bead = next(r for r in rows("instruments") if r["key"] == "thermocouple bead")
    error_k = float(bead["share_of_reading"]) * temp_c + float(bead["floor"])
    assert error_k >= max(2.5, 0.0075 * temp_c)


def test_limits_equal_the_standards():
    # IEC 61558-1:2005, 3.7.16 (50/120 V); IEC 61140 and EN 60204-1, 6.4 (25/60 V)
    limit = {r["key"]: float(r["value"]) for r in rows("limits")}
    assert (limit["extra_low_ac_v"], limit["extra_low_dc_v"]) == (50, 120)
    assert (limit["dry_touch_ac_v"], limit["dry_touch_dc_v"]) == (25, 60)
    assert limit["wet_ac_v"] < limit["dry_touch_ac_v"] < limit["extra_low_ac_v"]
    assert limit["bench_nominal_ac_v"] < limit["dry_touch_ac_v"]


def test_triggers_are_explained_and_their_numbers_are_the_limits():
    facts = {c.partition(":")[0] for c in comments("cautions")[1:]}
    limit = {r["key"]: float(r["value"]) for r in rows("limits")}
    used, numbers = set(), {}
    for row in rows("cautions"):
        name, above, number = row["trigger"].partition(">")
        used.add(name)
        assert name in facts, row
        assert row["sentence"].endswith("."), row
        if above and name.startswith("open_v_"):  # temperatures: test_data_heat.py
            numbers.setdefault(name, set()).add(float(number))
            assert f" {number} V" in row["sentence"], row
    assert used == facts
    assert numbers == {
        "open_v_ac": {limit["dry_touch_ac_v"], limit["extra_low_ac_v"]},
        "open_v_dc": {limit["dry_touch_dc_v"], limit["extra_low_dc_v"]},
    }
