"""Check values of gauges.csv, wire.csv and supply.csv: the functions of ours that should give them, in SI."""

import math
from functools import cache

import benchcalc as bc
from benchcalc.heater import supply, wire
from benchcalc.materials.alloys import alloy_value, hot_factor
from benchcalc.materials.gauges import awg_diameter, diameter_of
from benchcalc.sheet.load import by_instrument

FOOT_M, MIL_M = 0.3048, 25.4e-6
CMIL_FT = math.pi / 4 * MIL_M**2 / FOOT_M  # ohm circular mil per foot -> ohm m
SIZE = {
    "ohm/m": 1,
    "ohm/ft": 1 / FOOT_M,
    "mm": 1e-3,
    "in": 0.0254,
    "m": 1,
    "ft": FOOT_M,
    "ohm": 1,
    "V": 1,
    "A": 1,
    "W": 1,
    "kW": 1e3,
    "": 1,
    "ohm.cmil/ft": CMIL_FT,
    "ohm.mm2/m": 1e-6,
}


OURS = {}


def ours(case, quantity, fn):
    """Say which function answers a check value; each value has one."""
    assert (case, quantity) not in OURS, (case, quantity)
    OURS[case, quantity] = fn


@cache
def from_sheet(alloy, gauge):
    """Cold ohms per metre by the whole road: a sheet is read and its wire worked out."""
    build = bc.read(f'[sheet]\nname = "check"\n[[wire]]\nid = "w"\nalloy = "{alloy}"\ngauge = "{gauge}"\n')
    return bc.work_wire(build, None).linear_ohm_per_m


def linear(resistivity_ohm_m, diameter_m):
    return wire.linear_resistance(resistivity_ohm_m, wire.round_area(diameter_m))


# gauges.csv
for n in range(10, 41):
    ours(f"copper {n} AWG", "linear_ohm_per_m", lambda n=n: from_sheet("copper", f"{n} AWG"))
for n in (0, 14, 16, 18, 20, 22, 24, 26, 28, 30, 32, 34, 36, 38, 40, 44, 46, 50):
    ours(f"{n} AWG", "diameter_m", lambda n=n: diameter_of(f"{n} AWG"))
ours("36 AWG by definition", "diameter_m", lambda: awg_diameter(36))
for n in range(12, 43):
    ours(f"{n} SWG", "diameter_m", lambda n=n: diameter_of(f"{n} SWG"))

# wire.csv
for grade, alloy, last in ((650, "nicr-80-20", 13), (675, "nicr-60-15", 13), (815, "fecral-23-5", 15)):
    for n in range(8, last + 1):
        ours(
            f"{grade} ohm.cmil/ft, {n} AWG",
            "linear_ohm_per_m",
            lambda g=grade, n=n: linear(g * CMIL_FT, awg_diameter(n)),
        )
        ours(f"{alloy} {n} AWG", "linear_ohm_per_m", lambda a=alloy, n=n: from_sheet(a, f"{n} AWG"))
for n in range(18, 41, 2):
    ours(f"nicr-80-20 {n} SWG", "linear_ohm_per_m", lambda n=n: from_sheet("nicr-80-20", f"{n} SWG"))
for rho, sizes in (
    ("107.5e-8", ("8.252", "6.543", "5.189")),
    ("45.38e-8", ("8.252", "6.543", "5.189")),
    ("1.678e-8", ("8.252",)),
):
    for d in sizes:
        ours(f"{rho} ohm m, {d} mm", "linear_ohm_per_m", lambda r=rho, d=d: linear(float(r), diameter_of(f"{d} mm")))
# The element: 240 V with no source resistance; the maker's factor 1.071, 9 m of wire.
ours("element 750 W", "hot_ohm", lambda: supply.higher_resistance(240.0, 0.0, 750.0))
ours("element 750 W", "cold_ohm", lambda: wire.length_for(76.8, 1.071, 1.0))
ours("element 750 W", "length_m", lambda: wire.length_for(76.8, 1.071, 7.97))
ours("element 750 W", "linear_ohm_per_m", lambda: wire.measured_linear(71.7, 0.0, 9.0))
ours("element 750 W, 0.417 mm", "linear_ohm_per_m", lambda: from_sheet("nicr-80-20", "0.417 mm"))
ours("element 750 W, Ni-Cr 80/20 at 1100 degC", "hot_factor", lambda: hot_factor("nicr-80-20", 1100.0))
ours("40 ohm element, nichrome 0.4 mm", "length_m", lambda: wire.length_for(40.0, 1.0, linear(100e-8, 0.4e-3)))
ours("40 ohm element, copper 0.4 mm", "length_m", lambda: wire.length_for(40.0, 1.0, linear(1.72e-8, 0.4e-3)))
ours(
    "5 ohm of 20 mil, 600 ohm.cmil/ft",
    "length_m",
    lambda: wire.length_for(5.0, 1.0, linear(600 * CMIL_FT, diameter_of("20 mil"))),
)
for alloy, temps_c in {
    "nicr-80-20": (500, 1000),
    "nicr-60-15": (100, 1000),
    "fecral-25-5": (1000,),
    "fecral-21-4": (1000,),
    "fecral-13-4": (1000,),
    "fecral-22-5.8": (1000,),
    "fecral-23-5": (1000,),
    "cuni-44": (100,),
    "copper": (75,),
}.items():
    for t in temps_c:
        ours(f"{alloy} at {t} degC", "hot_factor", lambda a=alloy, t=t: hot_factor(a, float(t)))
for t in (500, 1000):
    ours(f"nicr-80-20 at {t} degC, 1925", "hot_factor", lambda t=t: hot_factor("nicr-80-20", float(t)))
for alloy in (
    "fecral-22-5.8",
    "fecral-21-6",
    "fecral-25-5",
    "fecral-22-5.3",
    "fecral-23-5",
    "fecral-13-4",
    "nicr-80-20",
    "nicr-60-15",
    "copper",
):
    ours(alloy, "resistivity_ohm_m", lambda a=alloy: alloy_value(a, "resistivity_ohm_m").value)

# supply.csv: the divider's two readings are 15 V without load and 10 V at 1 mA
DIVIDER = (15.0, 0.0, 10.0, 1e-3)
ours("divider 30 V", "source_ohm", lambda: supply.source_from_two(*DIVIDER))
ours("divider 30 V", "open_v", lambda: supply.open_from_two(10.0, 1e-3, supply.source_from_two(*DIVIDER)))
ours("divider 30 V", "load_v", lambda: supply.load_voltage(supply.load_current(15.0, 5000.0, 10000.0), 10000.0))
ours("divider 30 V", "load_w", lambda: supply.load_power(supply.load_current(15.0, 5000.0, 10000.0), 10000.0))
ours("divider 30 V", "most_power_w", lambda: supply.most_power(15.0, 5000.0))
ours("stainless wire 200 A", "cold_ohm", lambda: wire.cold_resistance(linear(70e-8, 3e-3), 1.0))
ours("stainless wire 200 A", "load_w", lambda: supply.load_power(200.0, wire.cold_resistance(linear(70e-8, 3e-3), 1.0)))
ours("nichrome heater 10 kW", "load_w", lambda: supply.load_power(204.4, linear(100e-8, 2.308e-3)))
ours("extra-low voltage AC", "open_v", lambda: supply.extra_low_limit("AC")[0])
ours("extra-low voltage DC", "open_v", lambda: supply.extra_low_limit("DC")[0])


def _half_width():
    known = by_instrument(120.0, "v", "cheap multimeter")
    return (known.high - known.low) / 2


ours("cheap multimeter reads 120 V", "half width", _half_width)
