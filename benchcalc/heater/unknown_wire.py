"""What an unknown wire may be: alloy and gauge together, from ohms, length and diameter with their errors."""

from dataclasses import dataclass

import numpy as np

from ..basics.fault import fault
from ..basics.tables import one, rows
from ..materials.alloys import alloy_value, hot_factor
from ..materials.gauges import SYSTEMS, sizes

FOOT_M = 0.3048
FITS = np.exp(-(2.5**2) / 2)  # a candidate worse than two and a half standard errors does not fit
SIZE_TOLERANCE = 0.01  # of the diameter, between wires of one size (common practice, no source)
NO_CANDIDATE = ("fecral",)  # a range, not a grade


@dataclass(frozen=True)
class WireCandidate:
    """An alloy and a size that the wire may be.

    misfit_ohm, misfit_diameter: measured over expected, less 1. fit: 1 exact, falling to 0 with the
    misfit. likelihood: share of 1 among all candidates, each alloy as likely beforehand as any other.
    """

    alloy: str
    size: str
    diameter_m: float
    misfit_ohm: float
    misfit_diameter: float
    fit: float
    likelihood: float


@dataclass(frozen=True)
class Guess:
    """candidates: best first, those that fit. nearest: best of all, fitting or not. if_feet: what it would be
    if the length had been feet, or None."""

    candidates: tuple
    nearest: WireCandidate
    if_feet: WireCandidate | None


def from_ten_turns(width_m, turns=10):
    """Diameter from the width of turns wound close on a rod.

    width_m: over all turns, outer edges. turns: how many, 5-50.
    Returns diameter_m.  Turns that do not touch make it too thick; press them together.
    """
    diameter_m = width_m / turns
    return diameter_m


def coil_wire(outer_m, diameter_m, turns, coil_m):
    """Length of the wire in a spiral, without stretching it (stretched, it never goes back).

    outer_m: outside diameter of the spiral. diameter_m: wire. turns: counted. coil_m: length of the spiral.
    Returns length_m.  Equation: Pythagoras on the unrolled helix.
    """
    length_m = np.sqrt((turns * np.pi * (outer_m - diameter_m)) ** 2 + (coil_m - diameter_m) ** 2)
    return length_m


def guess(measured_ohm, length_m, diameter_m, *, error_ohm=0.02, error_length=0.005, error_diameter=0.02, most=8):
    """Rank alloys and sizes for a measured round wire.

    measured_ohm: over the length, leads taken off, above 0. length_m: 0.02-100. diameter_m: 0.03e-3 to 5e-3.
    error_ohm, error_length, error_diameter: standard errors, each a ratio (0.02: 2 %). most: how many to return.
    Returns Guess; no candidates when nothing fits, and then `nearest` tells how far off.
    Method: Gaussian errors of ohms per metre and of diameter, joined with the band of the alloy's resistivity
    (90 % interval) and the size's tolerance; each alloy weighs the same and shares its weight among its sizes.
    Raises Fault: values not above 0, diameter far outside the gauges.
    """
    if not (measured_ohm > 0 and length_m > 0 and diameter_m > 0):
        raise fault("unknown wire", f"{measured_ohm} ohm, {length_m} m, {diameter_m} m", "must all be above 0.")
    if not 0.03e-3 <= diameter_m <= 5e-3:
        raise fault(
            "unknown wire, diameter",
            f"{diameter_m * 1e3:g} mm",
            "must lie from 0.03 mm to 5 mm.",
            "Perhaps ten turns were given as one, or inches as millimetres.",
        )

    def ranked(linear_ohm_per_m):
        return _ranked(linear_ohm_per_m, diameter_m, error_ohm, error_length, error_diameter)

    return _best_of(ranked, measured_ohm, length_m, most)


def _best_of(ranked, measured_ohm, length_m, most):
    """The Guess from a ranking by ohms per metre; where nothing fits, whether the length was in feet."""
    first = ranked(measured_ohm / length_m)
    good, feet = [c for c in first if c.fit >= FITS], None
    if not good:
        other = ranked(measured_ohm / (length_m * FOOT_M))[0]
        feet = other if other.fit >= FITS else None
    return Guess(tuple(good[:most]), first[0], feet)


def _candidates():
    """Alloys that an unknown wire may be of: (key, nominal resistivity, its own deviation as a logarithm)."""
    for row in rows("alloys"):
        table = alloy_value(row["key"], "resistivity_ohm_m")
        if row["key"] not in NO_CANDIDATE and table is not None:
            yield row["key"], table.value, np.log(table.high / table.low) / (2 * 1.645)


# rolled edges are round: a full half circle takes (1 - pi/4) s/b of the section
RIBBON_FILL, RIBBON_FILL_ERROR = 0.96, 0.02


@dataclass(frozen=True)
class RibbonErrors:
    """Standard errors of what was measured on a ribbon, each a ratio (0.02: 2 %)."""

    ohm: float = 0.02
    length: float = 0.005
    width: float = 0.01
    thickness: float = 0.05


AS_USUAL = RibbonErrors()


def guess_ribbon(measured_ohm, length_m, width_m, thickness_m, *, errors=AS_USUAL, most=8):
    """Rank alloys for a measured ribbon; ribbons have no gauge, so the size is taken as measured.

    measured_ohm: over the length, leads taken off, above 0. length_m: 0.02-100. width_m: 0.2e-3 to 30e-3.
    thickness_m: 0.02e-3 to 3e-3, at most width_m. errors: RibbonErrors. most: how many to return.
    Returns Guess, as `guess`; misfit_diameter is 0.
    Method: as `guess`, with the section as width times thickness times 0.96 for rolled edges (own derivation).
    Raises Fault: values not above 0, thickness above width.
    """
    if not (measured_ohm > 0 and length_m > 0 and 0 < thickness_m <= width_m):
        raise fault(
            "unknown ribbon",
            f"{measured_ohm} ohm, {length_m} m, {width_m} x {thickness_m} m",
            "must all be above 0, and the width not below the thickness.",
        )
    spread = errors.ohm**2 + errors.length**2 + errors.width**2 + errors.thickness**2 + RIBBON_FILL_ERROR**2
    size = f"{width_m * 1e3:.3g} x {thickness_m * 1e3:.3g} mm"

    def ranked(linear_ohm_per_m):
        found = []
        for key, nominal_ohm_m, own in _candidates():
            off = np.log(linear_ohm_per_m * width_m * thickness_m * RIBBON_FILL / nominal_ohm_m)
            found.append((key, float(np.expm1(off)), float(np.exp(-(off**2) / (spread + own**2) / 2))))
        total = sum(f[2] for f in found) or 1.0
        made = [WireCandidate(key, size, thickness_m, off, 0.0, fit, fit / total) for key, off, fit in found]
        return sorted(made, key=lambda c: (-c.fit, abs(c.misfit_ohm)))

    return _best_of(ranked, measured_ohm, length_m, most)


def _ranked(linear_ohm_per_m, diameter_m, error_ohm, error_length, error_diameter):
    near = sorted(
        {
            (name, d)
            for system in (*SYSTEMS, "metric")
            for name, d in sizes(system)
            if abs(np.log(d / diameter_m)) < max(0.15, 4 * error_diameter)
        },
        key=lambda s: abs(s[1] - diameter_m),
    )
    if not near:
        raise fault("unknown wire, diameter", f"{diameter_m * 1e3:g} mm", "is near no size of any gauge.")
    found = []
    for key, nominal_ohm_m, own in _candidates():
        fits = []
        for name, size_m in near:
            off_ohm = np.log(linear_ohm_per_m * np.pi * size_m**2 / 4 / nominal_ohm_m)
            off_size = np.log(diameter_m / size_m)
            spread = error_ohm**2 + error_length**2 + own**2
            square = _joint(off_ohm, off_size, spread, error_diameter**2, SIZE_TOLERANCE**2)
            fits.append((key, name, size_m, np.expm1(off_ohm), np.expm1(off_size), float(np.exp(-square / 2))))
        weight = 1 / len(fits)
        found += [(f, f[5] * weight) for f in fits]
    total = sum(w for _, w in found) or 1.0
    made = [WireCandidate(*f[:3], float(f[3]), float(f[4]), f[5], w / total) for f, w in found]
    return sorted(made, key=lambda c: (-c.fit, abs(c.misfit_ohm) + abs(c.misfit_diameter)))


def _joint(off_ohm, off_size, ohm2, meter2, size2):
    """Misfit squared in standard errors: a wire thicker than its size reads thicker and has fewer ohms."""
    cov = np.array([[ohm2 + 4 * size2, -2 * size2], [-2 * size2, meter2 + size2]])
    off = np.array([off_ohm, off_size])
    return float(off @ np.linalg.solve(cov, off))


def tell_apart(first, second, *, hot_c=600.0):
    """The measurement that tells two candidates apart.

    first, second: WireCandidates. hot_c: wire temperature of the hot reading, 300-900.
    Returns (way, size): "magnet" (one family is magnetic when cold, size 1), "hot ohms" (share by which hot over
    cold differs), "diameter" (share by which the sizes differ), "ohms per metre" (share), or ("nothing here", 0).
    Iron-chromium-aluminium is magnetic when cold, the others are not (data/alloys.csv).
    """
    if first.alloy != second.alloy:
        families = [one("alloys", "key", c.alloy)["family"] for c in (first, second)]
        if families.count("Fe-Cr-Al") == 1:
            return "magnet", 1.0
        hot = [float(hot_factor(c.alloy, hot_c)) for c in (first, second)]
        if abs(np.log(hot[0] / hot[1])) > 0.03:
            return "hot ohms", abs(hot[0] / hot[1] - 1)
    size = abs(first.diameter_m / second.diameter_m - 1)
    if size > 0.005:
        return "diameter", size
    if first.alloy != second.alloy:
        pair = [alloy_value(c.alloy, "resistivity_ohm_m").value for c in (first, second)]
        if abs(pair[0] / pair[1] - 1) > 0.005:
            return "ohms per metre", abs(pair[0] / pair[1] - 1)
    return "nothing here", 0.0
