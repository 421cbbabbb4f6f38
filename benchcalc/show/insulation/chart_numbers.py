"""The numbers behind the chart of materials: which stay in at a winding temperature, which leave, and for how long."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ...basics.names import say
from ...basics.tables import rows
from ...materials.ageing import AGES_TO_C, life_ends, life_of
from ...materials.insulation import insulation_key, stays_or_leaves

SHOWN = (
    "ceramic-fibre",
    "steatite",
    "refractory-cement",
    "silica-sleeve",
    "phlogopite",
    "mica-plate",
    "mica",
    "glass-sleeve-bare",
    "ptfe",
    "polyimide",
    "glass-sleeve-silicone-varnish",
    "silicone-rubber",
    "glass-sleeve-acrylic",
    "heat-shrink",
    "pvc",
)
TOP_C = 1100.0


@dataclass(frozen=True)
class Stay:
    """One material of the chart: name, whether it is on the sheet, rating ends, first smoke (nan: none), word, years
    (nan: it
    does not age so) with their ends."""

    name: str
    own: bool
    limit_c: float
    boldest_c: float
    smoke_c: float
    word: str
    years: float
    low_years: float
    high_years: float


@dataclass(frozen=True)
class StaysNumbers:
    """stays: tuple of Stay, highest rating first. wire_c: winding temperature. hours: of use in a year, or None."""

    frame: tuple
    stays: tuple
    wire_c: float
    hours: float | None
    degrees: str


def stays_numbers(build, wire_c):
    """Which materials stay at a winding temperature.

    build: Build, for its layers, hours of use and degrees. wire_c: degC of the hottest wire, -60 and up.
    Returns StaysNumbers; a sheet's own materials are always among them.
    """
    materials = tuple(y.material for y in build.layer if y.material)
    return _stays(materials, build.use.hours_per_year or None, float(wire_c), build.degrees)


@lru_cache(maxsize=2)  # headlines, chart and caption of a panel are of the same
def _stays(materials, hours, wire_c, degrees):
    known = {r["key"] for r in rows("insulation")}
    own = {k for k in map(key_or_none, materials) if k in known}
    keys = tuple(dict.fromkeys((*SHOWN, *sorted(own))))
    found = []
    for r, word in stays_or_leaves(wire_c, keys):
        years = low = high = np.nan
        if r.organic and hours and wire_c <= AGES_TO_C:
            low, high = (x / 3600 / hours for x in life_ends(r.limit_c, wire_c))
            years = life_of(r.limit_c, wire_c) / 3600 / hours
        found.append(
            Stay(short_name(r.name), r.key in own, r.limit_c, r.boldest_c, r.binder_off_c, word, years, low, high)
        )
    frame = tuple(s.name for s in found), tuple(s.own for s in found), degrees
    return StaysNumbers(frame, tuple(found), wire_c, hours, degrees)


def key_or_none(material):
    """The key of an insulation, or None for what is none.  material: text."""
    try:
        return insulation_key(material)
    except ValueError:
        return None


def short_name(name):
    """A material's name in few words.  name: of data/solids.csv."""
    words = {
        "glass sleeve, silicone-varnished": "glass sleeve, silicone varnish",
        "glass sleeve, acrylic or varnish coated": "glass sleeve, acrylic",
        "heat-shrink sleeve (polyolefin)": "heat-shrink sleeve",
        "mica sheet (natural, muscovite)": "mica, muscovite",
        "mica sheet (natural, phlogopite)": "mica, phlogopite",
        "glass fibre cloth, tape or thread": "glass cloth or tape",
    }
    return words.get(name, name.split(" (")[0])


def stays_caption(n):
    """The chart in words.  n: StaysNumbers."""
    way = {"degrees": n.degrees}
    by = {w: [s.name for s in n.stays if s.word == w] for w in ("stays", "risky", "leaves", "never")}
    told = [
        f"At {say('wire_c', n.wire_c, **way)} against the wire these stay: "
        f"{'; '.join(by['stays']) or 'none of those shown'}."
    ]
    if by["risky"]:
        told.append(f"Between the cautious and the boldest print: {'; '.join(by['risky'])}.")
    if by["leaves"]:
        told.append(f"These leave: {'; '.join(by['leaves'])}.")
    return " ".join([*told, f"Never in a tool: {'; '.join(by['never'])}."] if by["never"] else told)
