"""What an unknown wire may be: alloy and gauge together, from ohms, length and diameter with their errors."""

from dataclasses import dataclass

import numpy as np

from ..basics.fault import fault
from ..basics.quantity import FOOT_M
from ..basics.tables import rows
from ..materials.alloys import hot_factor
from ..materials.gauges import SYSTEMS, sizes
from .wire_candidates import OTHER_HIGH_OHM_M, OTHER_LOW_OHM_M, magnet_odds, wire_kind, wire_kinds

FEET_SHARE = 0.05  # of all lengths, how many were written in the other unit (own judgement)
FITS = np.exp(-(2.5**2) / 2)  # a candidate worse than two and a half standard errors does not fit
SIZE_TOLERANCE = 0.01  # of the diameter, between wires of one size (common practice, no source)


@dataclass(frozen=True)
class WireCandidate:
    """An alloy and a size that the wire may be.

    misfit_ohm, misfit_diameter: measured over expected, less 1. fit: 1 exact, falling to 0 with the
    misfit. likelihood: share of 1 among all that it may be, those in no table here included.
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
    """candidates: likeliest first, those that fit. nearest: best of all, fitting or not. if_feet: what it would be
    if the length had been feet, where that is likelier; else None. families, alloys: pairs of name and likelihood
    over all sizes, likeliest first. other: likelihood that it is in no table here."""

    candidates: tuple
    nearest: WireCandidate
    if_feet: WireCandidate | None
    families: tuple = ()
    alloys: tuple = ()
    other: float = 0.0


def from_ten_turns(winding_m, turns=10):
    """Diameter from the length of turns wound close on a rod.

    winding_m: over all turns, outer edges. turns: how many, 5-50.
    Returns diameter_m.  Turns that do not touch make it too thick; press them together.
    """
    diameter_m = winding_m / turns
    return diameter_m


def coil_wire(outer_m, diameter_m, turns, coil_m):
    """Length of the wire in a spiral, without stretching it (stretched, it never goes back).

    outer_m: outside diameter of the spiral. diameter_m: wire. turns: counted. coil_m: length of the spiral.
    Returns length_m.  Equation: Pythagoras on the unrolled helix.
    """
    length_m = np.sqrt((turns * np.pi * (outer_m - diameter_m)) ** 2 + (coil_m - diameter_m) ** 2)
    return length_m


@dataclass(frozen=True)
class RoundErrors:
    """Standard errors of what was measured on a round wire, each a ratio (0.02: 2 %)."""

    ohm: float = 0.02
    length: float = 0.005
    diameter: float = 0.02


@dataclass(frozen=True)
class RibbonErrors:
    """Standard errors of what was measured on a ribbon, each a ratio (0.02: 2 %)."""

    ohm: float = 0.02
    length: float = 0.005
    width: float = 0.01
    thickness: float = 0.05


AS_USUAL = RibbonErrors()
ROUND_AS_USUAL = RoundErrors()
# rolled edges are round: a full half circle takes (1 - pi/4) s/b of the section
RIBBON_FILL, RIBBON_FILL_ERROR = 0.96, 0.02


def guess(measured_ohm, length_m, diameter_m, *, errors=ROUND_AS_USUAL, magnetic=None, most=8):
    """Rank alloys and sizes for a measured round wire.

    measured_ohm: over the length, leads taken off, above 0. length_m: 0.02-100. diameter_m: 0.03e-3 to 5e-3.
    errors: RoundErrors. magnetic: what a magnet does, "yes", "weakly" or "no"; None where nobody tried. most: how
    many to return.
    Returns Guess; no candidates when nothing fits, and then `nearest` tells how far off.  A length in feet is suspected
    where nothing fits, or where one such slip in twenty is likelier than what the reading says.
    Method: Bayes' theorem. Beforehand each family and each grade in it has the share of data/wire_candidates.csv, each
    size the same; Gaussian errors of ohms per metre and of diameter are joined with the band of the alloy's resistivity
    (90 % interval) and the size's tolerance; the magnet counts by how often it would be told so.
    Raises Fault: values not above 0, diameter far outside the gauges, another word for the magnet.
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
    near = sorted(
        {
            (name, d)
            for system in (*SYSTEMS, "metric")
            for name, d in sizes(system)
            if abs(np.log(d / diameter_m)) < max(0.15, 4 * errors.diameter)
        },
        key=lambda s: abs(s[1] - diameter_m),
    )
    if not near:
        raise fault("unknown wire, diameter", f"{diameter_m * 1e3:g} mm", "is near no size of any gauge.")
    sections = [(name, d, np.pi * d**2 / 4, float(np.log(diameter_m / d))) for name, d in near]
    meter = errors.ohm**2 + errors.length**2, errors.diameter**2, SIZE_TOLERANCE**2
    return _best_of(sections, meter, (measured_ohm, length_m), magnetic, most)


def guess_ribbon(measured_ohm, length_m, width_m, thickness_m, *, errors=AS_USUAL, magnetic=None, most=8):
    """Rank alloys for a measured ribbon; ribbons have no gauge, so the size is taken as measured.

    measured_ohm: over the length, leads taken off, above 0. length_m: 0.02-100. width_m: 0.2e-3 to 30e-3.
    thickness_m: 0.02e-3 to 3e-3, at most width_m. errors: RibbonErrors. magnetic: as `guess`. most: how many to return.
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
    section2 = errors.width**2 + errors.thickness**2 + RIBBON_FILL_ERROR**2
    size = f"{width_m * 1e3:.3g} x {thickness_m * 1e3:.3g} mm"
    sections = [(size, thickness_m, width_m * thickness_m * RIBBON_FILL, 0.0)]
    meter = errors.ohm**2 + errors.length**2 + section2, 1.0, 0.0
    return _best_of(sections, meter, (measured_ohm, length_m), magnetic, most)


def _best_of(sections, meter, read, magnetic, most):
    """The Guess for ohms over a length; where nothing fits, whether the length was in feet."""
    measured_ohm, length_m = read
    ranked, other, metres = _ranked(measured_ohm / length_m, sections, meter, magnetic)
    nearest = max(ranked, key=lambda c: (c.fit, -abs(c.misfit_ohm) - abs(c.misfit_diameter)))
    good, feet = [c for c in ranked if c.fit >= FITS], None
    in_feet, _, as_feet = _ranked(measured_ohm / (length_m * FOOT_M), sections, meter, magnetic)
    if not good or FEET_SHARE * as_feet > metres:
        feet = next((c for c in in_feet if c.fit >= FITS), None)
    family_of, families, alloys = {k.key: k.family for k in wire_kinds()}, {}, {}
    for c in ranked:
        families[family_of[c.alloy]] = families.get(family_of[c.alloy], 0.0) + c.likelihood
        alloys[c.alloy] = alloys.get(c.alloy, 0.0) + c.likelihood
    return Guess(tuple(good[:most]), nearest, feet, _likeliest(families), _likeliest(alloys), other)


def _likeliest(shares):
    return tuple(sorted(shares.items(), key=lambda s: -s[1]))


def _ranked(linear_ohm_per_m, sections, meter, magnetic):
    """(candidates, likeliest first; likelihood of something in no table; chance of the reading), by Bayes' theorem.

    sections: (name, size, area, logarithm of measured over nominal size) each. meter: variances of ohms per metre, of
    the measured size, and of the size within its name.
    """
    ohm2, read2, size2 = meter
    found, left = [], 1.0
    for kind in wire_kinds():
        left -= kind.share
        for name, size_m, area_m2, off_size in sections:
            off_ohm = float(np.log(linear_ohm_per_m * area_m2 / kind.resistivity_ohm_m))
            square, density = _joint(off_ohm, off_size, ohm2 + kind.own**2, read2, size2)
            weight = kind.share * magnet_odds(kind, magnetic) * density
            fit = float(np.exp(-square / 2))
            found.append(((kind.key, name, size_m, float(np.expm1(off_ohm)), float(np.expm1(off_size)), fit), weight))
    flat = 1 / np.log(OTHER_HIGH_OHM_M / OTHER_LOW_OHM_M)
    size_only = sum(_normal(off, read2 + size2) for *_, off in sections)
    other = left * magnet_odds(None, magnetic) * flat * size_only
    total = other + sum(w for _, w in found)
    if total == 0:  # so far from everything that no number is left
        made, other = [WireCandidate(*f, 0.0) for f, _ in found], 1.0
    else:
        made, other = [WireCandidate(*f, w / total) for f, w in found], other / total
    return sorted(made, key=lambda c: (-c.likelihood, -c.fit, abs(c.misfit_ohm) + abs(c.misfit_diameter))), other, total


def _normal(off, square):
    return float(np.exp(-(off**2) / square / 2) / np.sqrt(2 * np.pi * square))


def _joint(off_ohm, off_size, ohm2, read2, size2):
    """Misfit squared in standard errors, and its density: a wire thicker than its size reads thicker and has fewer
    ohms.
    """
    ohm_ohm, ohm_size, size_size = ohm2 + 4 * size2, -2 * size2, read2 + size2
    spread = ohm_ohm * size_size - ohm_size**2
    square = (size_size * off_ohm**2 - 2 * ohm_size * off_ohm * off_size + ohm_ohm * off_size**2) / spread
    return square, float(np.exp(-square / 2) / (2 * np.pi * np.sqrt(spread)))


def length_from_ohms(measured_ohm, linear_ohm_per_m):
    """How long a piece is, from its ohms alone: a spiral need not be unwound.

    measured_ohm: over the piece, leads taken off. linear_ohm_per_m: of the wire, from its alloy and size.
    Returns length_m.  As uncertain as the alloy's resistivity and twice the diameter.
    Equation: definition of resistivity, R = rho l / A.
    """
    length_m = measured_ohm / linear_ohm_per_m
    return length_m


def tell_apart(first, second, *, hot_c=600.0):
    """The measurement that tells two candidates apart.

    first, second: WireCandidates. hot_c: wire temperature of the hot reading, 300-900.
    Returns (way, size): "magnet" (one clings when cold, size 1), "hot ohms" (share by which hot over
    cold differs), "diameter" (share by which the sizes differ), "ohms per metre" (share), or ("nothing here", 0).
    Source: data/wire_candidates.csv for the magnet, data/alloy_resistance_factor.csv for hot ohms.
    """
    if first.alloy != second.alloy:
        kinds = [wire_kind(c.alloy) for c in (first, second)]
        if abs(kinds[0].clings["yes"] - kinds[1].clings["yes"]) > 0.7:
            return "magnet", 1.0
        with_curve = {r["key"] for r in rows("alloy_resistance_factor")}
        hot = [float(hot_factor(c.alloy, hot_c)) for c in (first, second) if c.alloy in with_curve]
        if len(hot) == 2 and abs(np.log(hot[0] / hot[1])) > 0.03:
            return "hot ohms", abs(hot[0] / hot[1] - 1)
    size = abs(first.diameter_m / second.diameter_m - 1)
    if size > 0.005:
        return "diameter", size
    if first.alloy != second.alloy:
        pair = [wire_kind(c.alloy).resistivity_ohm_m for c in (first, second)]
        if abs(pair[0] / pair[1] - 1) > 0.005:
            return "ohms per metre", abs(pair[0] / pair[1] - 1)
    return "nothing here", 0.0
