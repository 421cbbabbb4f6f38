"""Work out a build: the links in order, the bands, the verdicts.  Holds no physics."""

from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from ..basics.band import Band
from ..basics.fault import Fault, fault
from ..basics.names import said_number, say
from ..sheet.borrowed import borrowed, without_borrowed
from ..sheet.build import Build
from ..sheet.change import sample
from ..thermal.tool.alike import Nominal
from .as_told import as_told, mark_of
from .drawn import Samples, drawn_of, margins_of, shares_of
from .heat.limits import own_bands
from .heat.link import HeatPart, nominal_heat, work_heat
from .links import LINKS
from .parts import has_arrays
from .record import in_order
from .sampled import lost_links, margin_bands, number_bands, with_margins
from .supply.link import SupplyPart, work_supply
from .wire.coil import CoilPart, work_coil
from .wire.link import WirePart, hot_factor_of, work_wire

MOST_PASSES, CLOSE_ENOUGH = 5, 1e-3
SAMPLES, SEED = 200, 1


@dataclass(frozen=True)
class Workings:
    """One part for each link, the bands of their numbers, and the verdicts.

    links: the Links worked out, in order. parts: name of a link -> its frozen part, or None; each also an attribute:
    supply, wire, coil, heat, metals, insulation, leads, bench, handle, warm_up. bands: path such as "coil.coil_w" ->
    Band. verdicts: of (link, Verdict). passes: rounds of the supply-watts-temperature-resistance loop. drawn: samples.

    >>> from benchcalc import load_chosen
    >>> workings = work_out(load_chosen("insert_press"), samples=20)
    >>> workings.of("wire")[0].sense
    'at most'
    """

    links: tuple
    parts: MappingProxyType
    bands: MappingProxyType
    verdicts: tuple
    passes: int
    drawn: Samples | None = None

    def __getattr__(self, name):
        parts = self.__dict__.get("parts", {})
        if name in parts:
            return parts[name]
        raise AttributeError(f"Workings has no {name}")

    def of(self, link):
        """The verdicts of one link.

        link: its name; "heat: hottest wire" for one of them.
        """
        return tuple(v for name, v in self.verdicts if link in (name, f"{name}: {v.what}"))

    def shares(self, path):
        """Which inputs the band of an outcome comes from.

        path: of the outcome, such as "heat.tip_c".
        Returns Shares.  Raises Fault: no such outcome, or no samples were drawn.
        """
        if self.drawn is None:
            raise fault("shares", path, "need samples: nothing was drawn.", do="Work the build out with samples.")
        return shares_of(self.drawn, path)


class Electrical(NamedTuple):
    """The electrical parts of the chain; None where the sheet does not name them."""

    supply: SupplyPart | None
    wire: WirePart | None
    coil: CoilPart | None


class Loop(NamedTuple):
    """The parts of the loop supply - watts - temperature - hot resistance, and how often it was gone round."""

    supply: SupplyPart | None
    wire: WirePart | None
    coil: CoilPart | None
    heat: HeatPart | None
    passes: int


def links(build: Build) -> Electrical:
    """The electrical parts of the chain, nothing judged: fast, and good on arrays.

    build: Build, floats or 1-D arrays in numeric fields.
    Returns (supply, wire, coil), also by these names.

    >>> from benchcalc import load_chosen
    >>> supply, wire, coil = links(load_chosen("insert_press"))
    >>> 0 < coil.coil_w < supply.most_power_w
    True
    """
    supply = work_supply(build)
    wire = work_wire(build, supply)
    return Electrical(supply, wire, work_coil(build, supply, wire))


def chain(build: Build, near: Nominal | None = None) -> Loop:
    """The links that the loop supply - watts - temperature - hot resistance goes through; it is closed here.

    build: Build, floats or 1-D arrays in numeric fields. near: as work_heat, of samples about one tool.
    Returns (supply, wire, coil, heat, passes), also by these names.  A wire temperature that the sheet types stands; an
    assumed one is replaced by the heat model's until the hot resistance moves by less than 0.1 %,
    at most 5 passes.
    """
    known = build.known.get("coil.wire_temp_c")
    free = build.coil is not None and known is not None and known.how == "assumed"
    for passes in range(1, MOST_PASSES + 1):  # noqa: B007 - told with the parts
        supply, wire, coil = links(build)
        heat = work_heat(build, wire, coil, near=near)
        if heat is None or heat.refused or not free:
            break
        moved = np.abs(hot_factor_of(build, wire.id, heat.wire_c) / wire.hot_factor - 1) >= CLOSE_ENOUGH
        if not np.any(moved):
            break
        near = nominal_heat(heat) or near  # the next pass moves little but the power
        settled = np.where(moved, np.clip(heat.wire_c, 20.0, 1400.0), build.coil.wire_temp_c)
        build = replace(build, coil=replace(build.coil, wire_temp_c=settled if settled.ndim else float(settled)))
    return Loop(supply, wire, coil, heat, passes)


def all_parts(build, links=LINKS, near=None):
    """The part of every link: those of the loop, then what hangs on it without turning back.

    build: Build, floats or arrays. links: Links in order. near: as chain.
    Returns (dict of name -> part or None, passes of the loop).
    """
    loop, many, parts = chain(build, near)._asdict(), has_arrays(build), {}
    passes = loop.pop("passes")
    for link in links:
        if link.name in loop:
            parts[link.name] = loop[link.name]
        elif link.work is not None:
            able = link.arrays or not many
            parts[link.name] = link.work(build, **{name: parts.get(name) for name in link.needs}) if able else None
    return parts, passes


def all_verdicts(build, parts, bands, links=LINKS):
    """The verdicts of the links.

    build: Build. parts: name of a link -> part or None. bands: path -> Band. links: Links in order, whose parts are
    all there.
    Returns tuple of (link, Verdict).
    """
    made = _own_verdicts(build, parts, bands, links)
    return made if has_arrays(build) else with_margins(made, bands)


def _own_verdicts(build, parts, bands, links):
    """As all_verdicts, each by the band of its own value alone."""
    many = has_arrays(build)
    able = [link for link in links if link.verdicts is not None and (link.arrays or not many)]
    return tuple((link.counts_to or link.name, v) for link in able for v in link.verdicts(build, parts, bands))


def standing_without(build, links=LINKS):
    """The verdicts that still stand when all that a sheet borrowed from its demo is taken away.

    build: Build. links: Links in order.
    Returns set of (what, state, value, limit), rounded; None for a sheet that borrowed nothing.
    """
    if has_arrays(build) or not borrowed(build):
        return None
    bare = without_borrowed(build)
    try:
        return {mark_of(v) for _, v in all_verdicts(bare, all_parts(bare, links)[0], {}, links)}
    except Fault:  # too little is left to work with: nothing stands
        return set()


def electrical_verdicts(build, supply, wire, coil, bands):
    """The verdicts on supply, wire and coil alone.

    build: Build. supply, wire, coil: parts or None, as `links` gives them. bands: path -> Band.
    Returns tuple of (link, Verdict).
    """
    parts = Electrical(supply, wire, coil)._asdict()
    return all_verdicts(build, parts, bands, [link for link in LINKS if link.name in parts])


def work_out(build: Build, *, samples: int = SAMPLES, seed: int = SEED, more_links: tuple = ()) -> Workings:
    """Work out everything that the sheet allows.

    build: Build; with arrays in it no band is made and verdicts hold arrays.
    samples: number of samples behind the bands, 0 for none. seed: of the samples. more_links: Links of one's own that
    are worked out beside those of the chain.
    Returns Workings.  Raises ValueError for links that need what no other gives, or each other.

    >>> from benchcalc import load_chosen
    >>> workings = work_out(load_chosen("insert_press"), samples=50)
    >>> workings.bands["coil.coil_w"].low < workings.coil.coil_w < workings.bands["coil.coil_w"].high
    True
    """
    links = in_order((*LINKS, *more_links)) if more_links else LINKS
    parts, passes = all_parts(build, links)
    bare = Workings(links, MappingProxyType(parts), MappingProxyType({}), (), passes)
    return with_bands(build, bare, samples=samples, seed=seed)


def with_bands(build, workings, *, samples=SAMPLES, seed=SEED):
    """What is worked out already, with bands and verdicts; no nominal part is worked out again.

    build: Build (floats). workings: Workings of it. samples, seed: as work_out.
    """
    links, parts, bands, drawn = workings.links, workings.parts, {}, None
    if samples and not has_arrays(build):
        many_builds = drawn_builds(build, parts["heat"], parts["wire"], samples, seed)
        many_parts, _ = all_parts(many_builds, links, nominal_heat(parts["heat"]))
        drawn = drawn_of(many_builds, many_parts, all_verdicts(many_builds, many_parts, {}, links), samples)
        for link in links:
            one, many = parts.get(link.name), many_parts.get(link.name)
            bands |= number_bands(link.name, one, many, samples)
            bands |= link.bands(one, many, samples) if link.bands is not None else {}
        bands |= own_bands(parts["heat"], many_parts["heat"], many_builds)
    verdicts = _own_verdicts(build, parts, MappingProxyType(bands), links)
    if drawn is not None:
        bands |= margin_bands(verdicts, drawn.margins, lost_links(links, parts, many_parts))
        verdicts = with_margins(verdicts, bands)
    verdicts = as_told(build, verdicts, standing_without(build, links))
    return replace(workings, bands=MappingProxyType(bands), verdicts=verdicts, drawn=drawn)


def drawn_builds(build, heat, wire, samples=SAMPLES, seed=SEED):
    """The samples behind the bands: a build whose uncertain inputs are arrays, the coil cut and hot as it will be.

    build: Build (floats). heat, wire: parts of the chain of this build, or None. samples, seed: as work_out.
    Returns Build with arrays (samples,).
    """
    return sample(_as_cut(_at_its_temperature(build, heat), wire), samples, seed)


def electrical_bands(build, *, samples=SAMPLES, seed=SEED):
    """Bands of the electrical numbers alone, fast enough for a slider: the wire temperature as the build has it.

    build: Build (floats). samples, seed: as work_out.
    Returns dict of path -> Band.
    """
    bands, parts = {}, links(build)
    drawn = links(many := drawn_builds(build, None, parts.wire, samples, seed))
    for name in parts._fields:
        bands.update(number_bands(name, getattr(parts, name), getattr(drawn, name), samples))
    margins = margins_of(electrical_verdicts(many, *drawn, {}), samples) if has_arrays(many) else {}
    return bands | margin_bands(electrical_verdicts(build, *parts, bands), margins)


def settled(build: Build) -> Build:
    """The build with the wire at the temperature it settles at, so that the electrical links agree with the heat.

    build: Build.
    Returns Build; unchanged where the sheet types a wire temperature or has no parts to conduct heat.

    >>> from benchcalc import load_chosen
    >>> build = load_chosen("insert_press")
    >>> settled(build).coil.wire_temp_c == build.coil.wire_temp_c
    False
    """
    return _at_its_temperature(build, chain(build).heat)


def _at_its_temperature(build, heat):
    own = build.known.get("coil.wire_temp_c")
    if heat is None or heat.refused or own is None or own.how != "assumed":
        return build
    known = {path: k for path, k in build.known.items() if path != "coil.wire_temp_c"}
    return replace(build, coil=replace(build.coil, wire_temp_c=min(heat.wire_c, 1400.0)), known=MappingProxyType(known))


def _as_cut(build, wire):
    """The build with its coil cut to one length, as it will be: bands are those of that piece of wire."""
    if build.coil is None or build.coil.length_m is not None or wire is None or not np.isfinite(wire.length_m):
        return build
    return replace(build, coil=replace(build.coil, length_m=wire.length_m))


def band_text(band: Band, key: str, *, units: str = "metric", degrees: str = "C") -> str:
    """A band in words: "20.1 W (15.9 to 24.6)".

    band: Band. key: SI name for the unit. units, degrees: as names.display.

    >>> band_text(Band(20.1, 15.9, 24.6), "coil_w")
    '20.1 W (15.9 to 24.6)'
    """
    if band.low == band.high or not np.isfinite(band.low):
        return say(key, band.nominal, units=units, degrees=degrees)
    low, high = (said_number(key, x, units=units, degrees=degrees) for x in (band.low, band.high))
    return f"{say(key, band.nominal, units=units, degrees=degrees)} ({low} to {high})"
