"""Work out a build: the links in order, the bands, the verdicts.  Holds no physics."""

from dataclasses import dataclass, fields, replace
from types import MappingProxyType

import numpy as np

from ..basics.band import Band, band_of
from ..sheet.build import Build
from ..sheet.change import sample
from .bench.link import BenchPart, work_bench
from .bench.verdicts import bench_checks
from .handle.link import HandlePart, work_handle
from .handle.verdicts import handle_checks
from .heat.in_time import forgotten
from .heat.link import HeatPart, work_heat
from .insulation.link import InsulationPart, work_insulation
from .insulation.verdicts import insulation_checks
from .leads.link import LeadsPart, work_leads
from .leads.verdicts import leads_checks
from .log.link import LogPart, work_warm_up
from .log.verdicts import log_checks
from .metals.link import MetalsPart, hottest_bands, work_metals
from .metals.verdicts import metal_checks
from .supply.link import SupplyPart, work_supply
from .supply.verdicts import checks
from .wire.coil import CoilPart, work_coil
from .wire.link import WirePart, hot_factor_of, work_wire

LINKS = ("supply", "wire", "coil", "heat", "metals", "insulation", "leads", "bench", "handle", "warm_up")
MOST_PASSES, CLOSE_ENOUGH = 5, 1e-3
SAMPLES, SEED = 300, 1


@dataclass(frozen=True)
class Workings:
    """One part for each link, the bands of their numbers, and the verdicts.

    supply, wire, coil, heat, metals, insulation, leads, bench, handle, warm_up: frozen parts or None. bands: path such as
    "coil.coil_w" -> Band.
    verdicts: tuple of (link, Verdict). passes: rounds of the supply-watts-temperature-resistance
    loop.
    """

    supply: SupplyPart | None
    wire: WirePart | None
    coil: CoilPart | None
    heat: HeatPart | None
    metals: MetalsPart | None
    insulation: InsulationPart | None
    handle: HandlePart | None
    leads: LeadsPart | None
    bench: BenchPart | None
    warm_up: LogPart | None
    bands: MappingProxyType
    verdicts: tuple
    passes: int

    def of(self, link):
        """The verdicts of one link.

        link: one of LINKS.
        """
        return tuple(v for name, v in self.verdicts if name == link)


def links(build: Build):
    """The electrical parts of the chain, nothing judged: fast, and good on arrays.

    build: Build, floats or 1-D arrays in numeric fields.
    Returns (supply, wire, coil).
    """
    supply = work_supply(build)
    wire = work_wire(build, supply)
    return supply, wire, work_coil(build, supply, wire)


def chain(build: Build):
    """All parts of the chain; the loop supply - watts - temperature - hot resistance is closed here.

    build: Build, floats or 1-D arrays in numeric fields.
    Returns (supply, wire, coil, heat, passes).  A wire temperature that the sheet types stands; an
    assumed one is replaced by the heat model's until the hot resistance moves by less than 0.1 %,
    at most 5 passes.
    """
    known = build.known.get("coil.wire_temp_c")
    free = build.coil is not None and known is not None and known.how == "assumed"
    for passes in range(1, MOST_PASSES + 1):
        supply, wire, coil = links(build)
        heat = work_heat(build, wire, coil)
        if heat is None or heat.refused or not free:
            break
        moved = np.abs(hot_factor_of(build, wire.id, heat.wire_c) / wire.hot_factor - 1) >= CLOSE_ENOUGH
        if not np.any(moved):
            break
        settled = np.where(moved, np.clip(heat.wire_c, 20.0, 1400.0), build.coil.wire_temp_c)
        build = replace(build, coil=replace(build.coil, wire_temp_c=settled if settled.ndim else float(settled)))
    return supply, wire, coil, heat, passes


def work_rest(build, supply, wire, coil, heat):
    """The parts that hang on the chain without turning back into it.

    build: Build. supply, wire, coil, heat: results of `chain`.
    Returns list of parts, in the order of LINKS after heat.
    """
    return [
        work_metals(build, heat),
        work_insulation(build, supply, wire, coil, heat),
        work_leads(build, wire, coil, heat),
        work_bench(build, supply, coil),
        work_handle(build, heat),
    ]


def rest_checks(build, parts, bands, hot):
    """The verdicts of the parts of `work_rest`.

    build: Build. parts: dict of link -> part. bands: path -> Band. hot: part's id -> Band of its hottest place.
    Returns tuple of (link, Verdict).
    """
    made = {
        "metals": metal_checks(build, parts["metals"], hot),
        "leads": leads_checks(build, parts["leads"], bands),
        "bench": bench_checks(build, parts["bench"], bands),
        "handle": handle_checks(build, parts["heat"], parts["handle"], bands),
    }
    if parts["insulation"] is not None:
        made["insulation"] = insulation_checks(build, parts["insulation"], bands)
    return tuple((link, v) for link in LINKS for v in made.get(link, ()))


def work_out(build: Build, *, samples=SAMPLES, seed=SEED) -> Workings:
    """Work out everything that the sheet allows.

    build: Build; with arrays in it no band is made and verdicts hold arrays.
    samples: number of samples behind the bands, 0 for none. seed: of the samples.
    Returns Workings.
    """
    *parts, passes = chain(build)
    parts += work_rest(build, *parts)
    bands, hot = {}, {}
    if samples and not has_arrays(build):
        drawn_build = sample(_as_cut(_at_its_temperature(build, parts[3]), parts[1]), samples, seed)
        *many, _ = chain(drawn_build)
        many += work_rest(drawn_build, *many)
        for name, one, drawn in zip(LINKS, parts, many):
            bands.update(_bands(name, one, drawn, samples))
        hot = hottest_bands(parts[4], many[4], samples)
    bands = MappingProxyType(bands)
    verdicts = checks(build, *parts[:3], bands, parts[3])
    verdicts += rest_checks(build, dict(zip(LINKS, parts)), bands, hot)
    if parts[3] is not None and parts[3].model is not None and not has_arrays(build):
        verdicts += (("heat", forgotten(build, *parts[:3])[0]),)
    log, at, troubles = (None, None, ()) if has_arrays(build) else work_warm_up(build, parts[2])
    verdicts += tuple(("warm_up", v) for v in log_checks(build, log, at, troubles))
    return Workings(**dict(zip(LINKS, [*parts, log])), bands=bands, verdicts=verdicts, passes=passes)


def electrical_bands(build, *, samples=SAMPLES, seed=SEED):
    """Bands of the electrical numbers alone, fast enough for a slider: the wire temperature as the build has it.

    build: Build (floats). samples, seed: as work_out.
    Returns dict of path -> Band.
    """
    bands = {}
    parts = links(build)
    for name, one, drawn in zip(LINKS, parts, links(sample(_as_cut(build, parts[1]), samples, seed))):
        bands.update(_bands(name, one, drawn, samples))
    return bands


def settled(build):
    """The build with the wire at the temperature it settles at, so that the electrical links agree with the heat.

    build: Build.
    Returns Build; unchanged where the sheet types a wire temperature or has no parts to conduct heat.
    """
    return _at_its_temperature(build, chain(build)[3])


def _at_its_temperature(build, heat):
    if (
        heat is None
        or heat.refused
        or "coil.wire_temp_c" not in build.known
        or build.known["coil.wire_temp_c"].how != "assumed"
    ):
        return build
    known = {path: k for path, k in build.known.items() if path != "coil.wire_temp_c"}
    return replace(build, coil=replace(build.coil, wire_temp_c=min(heat.wire_c, 1400.0)), known=MappingProxyType(known))


def _as_cut(build, wire):
    """The build with its coil cut to one length, as it will be: bands are those of that piece of wire."""
    if build.coil is None or build.coil.length_m is not None or wire is None or not np.isfinite(wire.length_m):
        return build
    return replace(build, coil=replace(build.coil, length_m=wire.length_m))


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
    from ..basics.names import said_number, say

    if band.low == band.high or not np.isfinite(band.low):
        return say(key, band.nominal, units=units, degrees=degrees)
    low, high = (said_number(key, x, units=units, degrees=degrees) for x in (band.low, band.high))
    return f"{say(key, band.nominal, units=units, degrees=degrees)} ({low} to {high})"
