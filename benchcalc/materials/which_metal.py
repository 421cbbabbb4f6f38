"""Which metal is this?  Magnet, colour under the file, coat, rust and density, weighed together."""

from dataclasses import dataclass

import numpy as np

from ..basics.fault import closest, fault
from ..basics.tables import rows
from .metals import metal_short, metal_value

WATER_KG_M3 = 998.2  # at 20 degC
MAGNET = {
    "yes": {"yes": 0.95, "hardly": 0.04, "no": 0.01},
    "hardly": {"yes": 0.15, "hardly": 0.45, "no": 0.40},
    "no": {"yes": 0.01, "hardly": 0.02, "no": 0.97},
}  # row: what the metal does; column: what was seen (own judgement)
WORDS = {
    "magnet": ("yes", "hardly", "no"),
    "filed": ("red", "yellow", "grey", "white", "dark"),
    "coat": ("zinc", "chrome", "none"),
    "rust": ("yes", "no"),
}
FITS = 0.05  # the likeliest metal must explain the clues at least so well
LIKELY = 0.02  # a candidate below this share is not told
NEAR = {frozenset(p) for p in (("grey", "white"), ("grey", "dark"), ("red", "yellow"), ("yellow", "white"))}


@dataclass(frozen=True)
class MetalGuess:
    """A metal that the piece may be: key, name, share of 1 among all, density of the tables, and the shop test."""

    key: str
    name: str
    likelihood: float
    density_kg_m3: float
    test: str


def density_by_water(mass_kg, displaced_kg, water_kg_m3):
    """Density of a piece from a kitchen scale and a glass of water.

    mass_kg: of the dry piece. displaced_kg: what the scale shows more when the piece hangs in the glass on a thread,
    under water and touching nothing. water_kg_m3: density of the water.
    Returns density_kg_m3.  Equation: Archimedes: the water carries as much as the piece displaces.
    """
    density_kg_m3 = mass_kg / displaced_kg * water_kg_m3
    return density_kg_m3


def density_error(mass_kg, displaced_kg, scale_kg):
    """Share by which such a density may be off: the small water reading decides.

    mass_kg, displaced_kg: the two readings. scale_kg: what the scale may be off in each, for a kitchen scale 1 g.
    Returns off_share.  Equation: errors of a quotient, added in squares.
    """
    off_share = np.sqrt((scale_kg / mass_kg) ** 2 + (scale_kg / displaced_kg) ** 2)
    return off_share


def weigh(mass_kg, displaced_kg, scale_kg=1e-3):
    """Density with its error, the readings checked.

    mass_kg, displaced_kg: as density_by_water. scale_kg: error of one reading.
    Returns (density_kg_m3, error as a share).  Raises Fault: readings that no metal gives.
    """
    if not (mass_kg > 0 and displaced_kg > 0):
        raise fault(
            "kitchen scale",
            f"{mass_kg * 1e3:g} g and {displaced_kg * 1e3:g} g",
            "must both be above 0.",
            "Was the scale set to zero with the glass of water on it?",
        )
    dense = float(density_by_water(mass_kg, displaced_kg, WATER_KG_M3))
    off = float(density_error(mass_kg, displaced_kg, scale_kg))
    if not 1500.0 / (1 + 2 * off) < dense < 20000.0 * (1 + 2 * off):
        raise fault(
            "kitchen scale",
            f"{mass_kg * 1e3:g} g and {displaced_kg * 1e3:g} g",
            f"give {dense:.0f} kg/m3, which no metal here has.",
            "The two readings swapped, trapped air, or a piece that touched the bottom."
            if dense < 20000
            else "The piece was not all under water.",
        )
    return dense, off


def which_metal(*, magnet=None, filed=None, coat=None, rust=None, density_kg_m3=None, error=0.03):
    """Rank the metals that a piece may be.

    magnet: "yes", "hardly" or "no". filed: colour where a file has just cut, "red", "yellow", "grey", "white" or
    "dark". coat: "zinc", "chrome" or "none". rust: "yes" or "no". density_kg_m3: weighed, 1500-20000. error: its
    standard error, a share. None where not tried.
    Returns tuple of MetalGuess, likeliest first, each with at least 2 % of the whole; empty where nothing fits.
    Method: each clue multiplies the chance of each metal, all equal beforehand; how often a clue misleads is own
    judgement (a worker's eye takes grey for white one time in three). Density: a Gaussian with the scale's
    error and the table's band (90 %).
    Raises Fault: a word that is not one of these, no clue at all.
    """
    clues = {"magnet": magnet, "filed": filed, "coat": coat, "rust": rust}
    _refuse_clues(clues, density_kg_m3)
    found, fits = [], []
    for row in rows("metal_looks"):
        chance, spread = _chance_by_looks(row, **clues), 1.0
        dense = metal_value(row["key"], "density_kg_m3")
        if density_kg_m3 is not None:
            spread = np.hypot(error, np.log(dense.high / dense.low) / (2 * 1.645))
            chance *= np.exp(-((np.log(density_kg_m3 / dense.value) / spread) ** 2) / 2)
        fits.append(chance)
        found.append((float(chance / spread), row, dense.value))
    total = sum(c for c, *_ in found)
    if max(fits) < FITS:
        return ()
    ranked = sorted(found, key=lambda f: -f[0])
    return tuple(
        MetalGuess(r["key"], metal_short(r["key"]), c / total, d, r["test"])
        for c, r, d in ranked
        if c / total >= LIKELY
    )


def _refuse_clues(clues, density_kg_m3):
    """Complain of a word that is not one of WORDS, of no clue at all, and of a density that no metal has."""
    for name, word in clues.items():
        if word is not None and word not in WORDS[name]:
            raise fault(
                f"which metal, {name}",
                word,
                "is not one of " + ", ".join(WORDS[name]) + ".",
                closest(word, WORDS[name]),
            )
    if density_kg_m3 is None and not any(clues.values()):
        raise fault("which metal", "", "needs a clue: magnet, filed, coat, rust or density_kg_m3.")
    if density_kg_m3 is not None and not 1500 <= density_kg_m3 <= 20000:
        raise fault(
            "which metal, density",
            f"{density_kg_m3:g} kg/m3",
            "must lie from 1500 to 20000 kg/m3.",
            "g/cm3 times 1000 is kg/m3.",
        )


def _chance_by_looks(row, magnet, filed, coat, rust):
    """How likely the metal of a row of metal_looks shows these clues; None where not tried."""
    chance = 1.0
    if magnet is not None:
        chance *= MAGNET[row["magnet"]][magnet]
    if filed is not None:
        own = row["filed"].split(";")
        chance *= 0.7 if filed in own else 0.25 if any(frozenset((filed, o)) in NEAR for o in own) else 0.01
    if coat is not None:
        chance *= 0.9 if coat == row["coat"] else 0.1 if coat == "none" else 0.01
    if rust is not None:
        chance *= {
            "yes": {"yes": 0.9, "no": 0.1},
            "no": {"yes": 0.02, "no": 0.98},
            "under the coat": {"yes": 0.4, "no": 0.6},
        }[row["rust"]][rust]
    return chance


def tell_metals_apart(first, second):
    """The test that tells two candidates apart, the easiest first.

    first, second: MetalGuess.
    Returns a sentence.
    """
    one, other = (next(r for r in rows("metal_looks") if r["key"] == g.key) for g in (first, second))
    if {one["magnet"], other["magnet"]} == {"yes", "no"}:
        sticks = first if one["magnet"] == "yes" else second
        return f"A magnet: it takes {sticks.name}."
    if not set(one["filed"].split(";")) & set(other["filed"].split(";")):
        shows, shows_other = (r["filed"].replace(";", " or ") for r in (one, other))
        return f"A fresh file cut: {first.name} shows {shows}, {second.name} {shows_other}."
    apart = abs(np.log(first.density_kg_m3 / second.density_kg_m3))
    if apart > 0.08:
        heavy = max((first, second), key=lambda g: g.density_kg_m3)
        return f"The scale and the glass of water: {heavy.name} is {np.expm1(apart):.0%} denser."
    return f"Look closer: {first.name}, {one['test']}; {second.name}, {other['test']}."
