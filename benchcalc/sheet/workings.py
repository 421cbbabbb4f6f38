"""Work out a build: the links in order, the bands, the verdicts.  Holds no physics."""

from dataclasses import dataclass, fields
from types import MappingProxyType

import numpy as np

from ..basics.band import Band, band_of
from .build import Build
from .change import sample
from .checks import checks
from .link_coil import CoilPart, work_coil
from .link_supply import SupplyPart, work_supply
from .link_wire import WirePart, work_wire

LINKS = ("supply", "wire", "coil")
SAMPLES, SEED = 300, 1


@dataclass(frozen=True)
class Workings:
    """One part for each link, the bands of their numbers, and the verdicts.

    supply, wire, coil: frozen parts or None. bands: path such as "coil.coil_w" -> Band.
    verdicts: tuple of (link, Verdict). passes: rounds of the supply-watts-temperature-resistance
    loop.
    """

    supply: SupplyPart | None
    wire: WirePart | None
    coil: CoilPart | None
    bands: MappingProxyType
    verdicts: tuple
    passes: int

    def of(self, link):
        """The verdicts of one link.

        link: one of LINKS.
        """
        return tuple(v for name, v in self.verdicts if name == link)


def links(build: Build):
    """The parts of the chain, nothing judged: fast, and good on arrays.

    build: Build, floats or 1-D arrays in numeric fields.
    Returns (supply, wire, coil).
    """
    supply = work_supply(build)
    wire = work_wire(build, supply)
    return supply, wire, work_coil(build, supply, wire)


def work_out(build: Build, *, samples=SAMPLES, seed=SEED) -> Workings:
    """Work out everything that the sheet allows.

    build: Build; with arrays in it no band is made and verdicts hold arrays.
    samples: number of samples behind the bands, 0 for none. seed: of the samples.
    Returns Workings.  The hot resistance uses the wire temperature of the sheet (typed or
    assumed), so one pass closes the loop.
    """
    parts = links(build)
    bands = {}
    if samples and not has_arrays(build):
        many = links(sample(build, samples, seed))
        for name, one, drawn in zip(LINKS, parts, many):
            bands.update(_bands(name, one, drawn, samples))
    bands = MappingProxyType(bands)
    return Workings(*parts, bands, checks(build, *parts, bands), 1)


def has_arrays(thing):
    """Whether any field of a build is an array.

    thing: Build or any dataclass or tuple in it.
    """
    if isinstance(thing, np.ndarray):
        return thing.ndim > 0
    if isinstance(thing, tuple):
        return any(has_arrays(t) for t in thing)
    if hasattr(thing, "__dataclass_fields__"):
        return any(has_arrays(getattr(thing, f.name)) for f in fields(thing) if f.name != "known")
    return False


def _bands(name, one, drawn, n):
    if one is None or drawn is None:
        return {}
    bands = {}
    for f in fields(one):
        nominal, samples = getattr(one, f.name), getattr(drawn, f.name)
        if isinstance(nominal, float) and not isinstance(nominal, bool) and isinstance(samples, (float, np.ndarray)):
            spread = np.broadcast_to(samples, (n,)) if np.ndim(samples) < 2 else samples
            bands[f"{name}.{f.name}"] = band_of(nominal, spread)
    return bands


def band_text(band: Band, key, *, units="metric", degrees="C"):
    """A band in words: "20.1 W (15.9 to 24.6)".

    band: Band. key: SI name for the unit. units, degrees: as names.display.
    """
    from ..basics.names import digits, say, shown

    if band.low == band.high or not np.isfinite(band.low):
        return say(key, band.nominal, units=units, degrees=degrees)
    low, high = (digits(float(shown(key, x, units=units, degrees=degrees))) for x in (band.low, band.high))
    return f"{say(key, band.nominal, units=units, degrees=degrees)} ({low} to {high})"
