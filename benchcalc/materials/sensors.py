"""What a sensor's volts or ohms mean in degrees, and how far it may be off by itself."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..basics.fault import closest, fault
from ..basics.tables import rows

PT100_OHM = 100.0
TYPE_K_C = (-200.0, 1372.0)  # where the inverse is taken; below -200 degC the curve is too flat for a bench
PT100_C = (-200.0, 850.0)


@cache
def _type_k():
    terms = {(r["low_c"], r["term"]): r["value"] for r in rows("sensor_curves") if r["sensor"] == "type K"}

    def power(low):
        return np.array([terms[low, str(n)] for n in range(11) if (low, str(n)) in terms])

    return power(-270.0), power(0.0), tuple(terms[0.0, f"e{n}"] for n in range(3))


def type_k_voltage(temp_c):
    """Voltage of a type K thermocouple, its other end at 0 degC.

    temp_c: degC, -270 to 1372, float or array.
    Returns V; nan outside.
    Equation: IEC 60584-1, reference function of type K; coefficients of the NIST ITS-90 thermocouple database.
    """
    below, above, (e0, e1, e2) = _type_k()
    t = np.asarray(temp_c, dtype=float)
    mv = np.where(
        t < 0,
        np.polynomial.polynomial.polyval(t, below),
        np.polynomial.polynomial.polyval(t, above) + e0 * np.exp(e1 * (t - e2) ** 2),
    )
    volts = np.where((t >= -270) & (t <= TYPE_K_C[1]), mv * 1e-3, np.nan)
    return volts if volts.ndim else float(volts)


@cache
def _type_k_backward():
    temps = np.linspace(*TYPE_K_C, 6289)  # every quarter kelvin: between them the curve is straight to 0.001 K
    return type_k_voltage(temps), temps


def type_k_temp(sensor_v, reference_c=0.0):
    """Temperature of a type K bead from its voltage.

    sensor_v: V, float or array. reference_c: degC, temperature of the other end (where the thermocouple wire
    meets copper), 0 if the instrument has made up for it already.
    Returns degC, -200 to 1372; nan outside.
    Equation: inverse of `type_k_voltage`, interpolated (within 0.01 K), after adding the volts of the reference end.
    """
    volts, temps = _type_k_backward()
    found = np.interp(np.asarray(sensor_v, dtype=float) + type_k_voltage(reference_c), volts, temps, np.nan, np.nan)
    return found if found.ndim else float(found)


@cache
def _pt100():
    terms = {r["term"]: r["value"] for r in rows("sensor_curves") if r["sensor"] == "Pt100"}
    return terms["A"], terms["B"], terms["C"]


def pt100_ohms(temp_c, cold_ohm=PT100_OHM):
    """Resistance of a platinum sensor.

    temp_c: degC, -200 to 850, float or array. cold_ohm: at 0 degC, 100 for a Pt100, 1000 for a Pt1000.
    Returns ohm; nan outside.
    Equation: IEC 60751, R = R0 (1 + A t + B t^2 + C (t - 100) t^3), the last term only below 0 degC.
    """
    a, b, c = _pt100()
    t = np.asarray(temp_c, dtype=float)
    ohms = cold_ohm * (1 + a * t + b * t**2 + np.where(t < 0, c * (t - 100) * t**3, 0.0))
    ohms = np.where((t >= PT100_C[0]) & (t <= PT100_C[1]), ohms, np.nan)
    return ohms if ohms.ndim else float(ohms)


@cache
def _pt100_backward():
    temps = np.linspace(*PT100_C, 4201)
    return pt100_ohms(temps), temps


def pt100_temp(sensor_ohm, cold_ohm=PT100_OHM):
    """Temperature of a platinum sensor from its resistance.

    sensor_ohm: ohm, leads taken off, float or array. cold_ohm: as `pt100_ohms`.
    Returns degC, -200 to 850; nan outside.  An ohm of leads left in reads 2.6 K too high.
    Equation: inverse of `pt100_ohms`, interpolated (within 0.01 K).
    """
    ohms, temps = _pt100_backward()
    found = np.interp(np.asarray(sensor_ohm, dtype=float) * PT100_OHM / cold_ohm, ohms, temps, np.nan, np.nan)
    return found if found.ndim else float(found)


@dataclass(frozen=True)
class Tolerance:
    """How far a new sensor may be off: half width in K (float or array), and the row's source."""

    half_k: float
    source_id: str


def tolerance(sensor, grade, temp_c):
    """Tolerance of a sensor by its class.

    sensor: "type K" or "Pt100". grade: class of data/sensor_tolerances.csv, such as "2" or "B". temp_c: degC, float or
    array.
    Returns Tolerance; nan outside the class's range.  Attachment, leads and reader come on top: a bead pressed on
    is off by far more.  Raises Fault for an unknown sensor or class.
    Equation: IEC 60584-1 and ASTM E230 (type K: the larger of a floor and a share), IEC 60751 (Pt100: their sum).
    """
    known = {(r["sensor"], r["class"]): r for r in rows("sensor_tolerances")}
    if (sensor, str(grade)) not in known:
        raise fault(
            "sensor",
            f"{sensor} class {grade}",
            "is not in data/sensor_tolerances.csv.",
            closest(f"{sensor} class {grade}", [f"{s} class {c}" for s, c in known]),
        )
    row = known[sensor, str(grade)]
    t = np.asarray(temp_c, dtype=float)
    share = row["share_of_reading"] * np.abs(t)
    half = np.maximum(row["floor_k"], share) if row["rule"] == "max" else row["floor_k"] + share
    half = np.where((t >= row["low_c"]) & (t <= row["high_c"]), half, np.nan)
    return Tolerance(half if half.ndim else float(half), row["source_id"])
