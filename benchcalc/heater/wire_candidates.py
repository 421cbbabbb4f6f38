"""What an unmarked wire may be before it is measured: shares by family and grade, resistivity, the magnet."""

from dataclasses import dataclass

import numpy as np

from ..basics.fault import closest, fault
from ..basics.tables import rows
from ..materials.alloys import alloy_name

SELDOM = 0.05  # of all such wires: rarer than this a magnet contradicts the name (own judgement)
CLINGS = ("yes", "weakly", "no")  # what a maker may say of a magnet
# a thing in no table here: as likely in each tenfold of resistivity, from silver to carbon (assumed)
OTHER_LOW_OHM_M, OTHER_HIGH_OHM_M = 1e-8, 1e-4


@dataclass(frozen=True)
class WireKind:
    """A metal that a wire may be of.  share: of 1, before any reading. resistivity_ohm_m: nominal at 20 degC. own: its
    deviation as a logarithm, the table's ends taken as a 90 % interval. clings: how often a magnet would be told to
    cling, by the words of CLINGS."""

    key: str
    family: str
    share: float
    resistivity_ohm_m: float
    own: float
    clings: dict


def wire_kinds():
    """Every metal that an unmarked wire may be of.

    Returns tuple of WireKind.  Source: data/wire_candidates.csv (shares are judgement), alloy_values.csv,
    metal_values.csv.
    """
    found = []
    for row in rows("wire_candidates"):
        table = next(r for r in rows(row["table"]) if r["key"] == row["key"] and r["quantity"] == "resistivity_ohm_m")
        own = np.log(table["high"] / table["low"]) / (2 * 1.645)
        share = row["family_share"] * row["grade_share"]
        clings = {word: row[f"{word}_share"] for word in CLINGS}
        found.append(WireKind(row["key"], row["family"], share, table["value"], float(own), clings))
    return tuple(found)


def wire_kind(key):
    """One metal of `wire_kinds`.

    key: as in data/wire_candidates.csv.
    Returns WireKind.  Raises Fault with the closest keys.
    """
    kinds = wire_kinds()
    for kind in kinds:
        if kind.key == key:
            return kind
    raise fault("wire", key, "is not in data/wire_candidates.csv.", closest(key, [k.key for k in kinds]))


def kind_name(key):
    """The trade name of a candidate, whether a resistance alloy or another metal.  key: as `wire_kind`."""
    metal = next((r["name"] for r in rows("metals") if r["key"] == key), None)
    alloys = {r["key"] for r in rows("alloys")}
    return alloy_name(key) if key in alloys else metal


def magnet_odds(kind, magnetic):
    """How often a magnet would be told to do this to such a wire, of 1.

    kind: WireKind, or None for a thing in no table. magnetic: one of CLINGS, or None where nobody tried.
    Returns ratio.  Raises Fault: another word.
    """
    if magnetic is None:
        return 1.0
    if magnetic not in CLINGS:
        raise fault("magnetic", magnetic, "is not one of: " + ", ".join(CLINGS) + ".", closest(magnetic, CLINGS))
    return 1 / len(CLINGS) if kind is None else kind.clings[magnetic]
