"""An unmarked wire of the sheet: what it may be, and how long a piece is by its ohms.  No physics here."""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import fault
from ...heater.unknown_wire import RibbonErrors, RoundErrors, guess, guess_ribbon, length_from_ohms
from ...heater.wire import linear_resistance
from ...heater.wire_candidates import kind_name, magnet_odds, wire_kinds
from ...materials.alloys import alloy_name
from ...sheet.build import Build
from ...sheet.change import item
from .link import is_clipped, linear_of, section_of

LEAST_SHARE = 0.03  # a family less likely than this is not asked how long the piece would be


@dataclass(frozen=True)
class PieceLength:
    """How long a piece is if it is of this metal.  share: how likely that is before its ohms count, of 1."""

    name: str
    share: float
    low_m: float
    length_m: float
    high_m: float


def guess_wire(build: Build, id):
    """What a wire of the sheet may be, from its measured ohms, length and diameter, each with its error.

    build: Build. id: the wire's.
    Returns heater.unknown_wire.Guess.  Readings with the wire between the clips serve where no piece was measured.
    Raises Fault: not measured.
    """
    wire = item(build.wire, id)
    ribbon = wire.width_m is not None
    measured = wire.measured_ohm is not None and wire.measured_length_m is not None
    if not (measured or is_clipped(build, wire)) or wire.diameter_m is None and not ribbon:
        raise fault(
            "unknown wire",
            id,
            "needs measured_ohm, measured_length and a diameter, or width and thickness, on the sheet.",
            do="Wind ten close turns on a pencil, measure over them, divide by ten.",
        )
    ohm = wire.measured_ohm - wire.leads_ohm if measured else float(linear_of(build, wire)[0])
    length_m = wire.measured_length_m if measured else 1.0

    def error(field, value, least):
        return max(_half(build, f"wire.{id}.{field}") / 1.645 / value, least)

    # volts, amps and both clips of a clip test: some per cent (own judgement)
    ohm_error = error("measured_ohm", ohm, 0.005) if measured else 0.03
    length_error = error("measured_length_m", length_m, 0.003) if measured else 0.01
    way = {"magnetic": wire.magnetic}
    if ribbon:
        sides = error("width_m", wire.width_m, 0.01), error("thickness_m", wire.thickness_m, 0.04)
        errors = RibbonErrors(ohm_error, length_error, *sides)
        return guess_ribbon(ohm, length_m, wire.width_m, wire.thickness_m, errors=errors, **way)
    errors = RoundErrors(ohm_error, length_error, error("diameter_m", wire.diameter_m, 0.01))
    return guess(ohm, length_m, wire.diameter_m, errors=errors, **way)


def _half(build, path):
    known = build.known.get(path)
    return 0.0 if known is None else (known.high - known.low) / 2


def piece_lengths(build: Build, id):
    """How long a piece of the sheet is, by its ohms alone: a spiral need not be unwound.

    build: Build (floats). id: the wire's, with measured_ohm and a size.
    Returns tuple of PieceLength, likeliest first: one where the sheet names the alloy or the wire was clipped, else one
    for the likeliest grade of each family.  low_m, high_m: 90 % interval of resistivity, size and ohms together.
    Raises Fault: no ohms, or no size.
    """
    wire = item(build.wire, id)
    _, area_m2, _ = section_of(wire)
    if wire.measured_ohm is None or np.isnan(area_m2):
        raise fault("length by ohms", id, "needs measured_ohm and a diameter, or width and thickness, on the sheet.")
    ohm, path = wire.measured_ohm - wire.leads_ohm, f"wire.{id}"
    share2 = (_half(build, f"{path}.measured_ohm") / ohm) ** 2
    if wire.width_m is None:
        size2 = (2 * _half(build, f"{path}.diameter_m") / wire.diameter_m) ** 2
    else:
        sides = (("width_m", wire.width_m), ("thickness_m", wire.thickness_m))
        size2 = sum((_half(build, f"{path}.{f}") / x) ** 2 for f, x in sides)
    if is_clipped(build, wire):
        return (_piece("as clipped to the supply", 1.0, ohm, float(linear_of(build, wire)[0]), share2 + 0.05**2),)
    if wire.resistivity_ohm_m is not None:
        own2 = (_half(build, f"{path}.resistivity_ohm_m") / wire.resistivity_ohm_m) ** 2
        linear = linear_resistance(wire.resistivity_ohm_m, area_m2)
        return (_piece(alloy_name(wire.alloy), 1.0, ohm, linear, share2 + size2 + own2),)
    families = {}
    for kind in wire_kinds():
        families.setdefault(kind.family, []).append((kind.share * magnet_odds(kind, wire.magnetic), kind))
    total = sum(w for grades in families.values() for w, _ in grades)
    found = []
    for grades in families.values():
        share, (_, first) = sum(w for w, _ in grades) / total, max(grades, key=lambda g: g[0])
        linear = linear_resistance(first.resistivity_ohm_m, area_m2)
        if share >= LEAST_SHARE:
            own2 = (1.645 * first.own) ** 2
            found.append(_piece(kind_name(first.key), share, ohm, linear, share2 + size2 + own2))
    return tuple(sorted(found, key=lambda p: -p.share))


def _piece(name, share, ohm, linear, half2):
    """A PieceLength from the square of its half width as a share."""
    length_m, off = float(length_from_ohms(ohm, linear)), float(np.exp(np.sqrt(half2)))
    return PieceLength(name, share, length_m / off, length_m, length_m * off)


def length_there(build, wire):
    """How much there is of a wire of the box, m: inf where the sheet does not say and it is no used piece.

    build: Build (floats). wire: Wire of known ohms per metre.
    A used piece is as long as it was measured; where only its ohms were, the low end of what they tell.
    """
    if wire.there_m is not None:
        return wire.there_m
    if not wire.used or wire.measured_ohm is None:
        return np.inf
    if wire.measured_length_m is not None:
        return wire.measured_length_m
    return piece_lengths(build, wire.id)[0].low_m
