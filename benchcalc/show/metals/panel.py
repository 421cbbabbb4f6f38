"""The panel of the metals page: slide the heater's temperature and power, and see every metal's margin and drop
move.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from ...basics.escape import plain_text
from ...basics.fault import Fault, fault
from ...basics.names import digits, say
from ...chain.metals.link import work_metals
from ...chain.metals.ranking import LADDER as KEYS
from ...chain.metals.ranking import metal_ladder
from ...chain.metals.verdicts import limit_checks
from ...chain.workings import chain, links
from ...materials.metals import metal_at, metal_key
from ...sheet.build import Build
from ...sheet.change import item
from ...sheet.choose import FIRST_DEMO, load_chosen
from ...thermal.surfaces.by_hand import stem_drop
from ...thermal.surfaces.fins import tube_section
from ..heat.panel import at_own_power
from ..heat.sliders import METALS
from ..page.lesson import Words
from ..page.open_page import derive
from ..panel.from_sheet import FromSheet
from ..panel.panel import Kept, panel
from ..panel.sliders import Choice, Slider, Telling
from ..wire.panel import former_ends_m
from .figure import LADDER


@dataclass(frozen=True)
class Stem:
    """The part looked at and its metal, the hot end (degC), watts that pass, length and section; all metals in its
    place.
    """

    part: str
    metal: str
    heater_c: float
    through_w: float
    part_length_m: float
    section_m2: float
    rungs: tuple
    own: int


@dataclass(frozen=True)
class Share:
    """Of the part that carries the coil: the length on which its watts pass, and they as a share of the coil's."""

    part: str
    part_length_m: float
    share: float


def share_of(build, id=None):
    """What passes along a part on this sheet, by the heat model.

    build: Build. id: metal part; None for the one with the coil on it, or else the first that drops anything.
    Returns (Share, hottest place of the part in degC).  Raises Fault where the sheet gives no metal part with a drop.
    """
    _, _, coil, heat, _ = chain(build)
    found = work_metals(build, heat)
    drops = {d.id: d for d in found.drops} if found is not None else {}
    if not drops:
        raise fault(
            "metals",
            build.name,
            "has no metal part along which heat passes.",
            "A bare wire in a bow, or parts without places.",
            "Choose a sheet with a stem, a cup or a tube.",
        )
    wanted = id if id is not None else build.coil.on if build.coil.on in drops else next(iter(drops))
    if wanted not in drops:
        item(build.part, wanted, where="part")
        raise fault(
            "part", wanted, "is not a metal part along which heat passes.", "", "Known: " + ", ".join(drops) + "."
        )
    d = drops[wanted]
    return Share(wanted, d.part_length_m, d.through_w / coil.coil_w), float(heat.hottest(wanted))


def stem_at(share, start_c):
    """The link of the panel for a share: build -> Stem.

    share: Share. start_c: hot end where the build has no `heater_c`, degC.
    Returns function of a Build with a wanted power.
    """

    def work(build):
        part = item(build.part, share.part)
        own = metal_key(part.material)
        keys = KEYS if own in KEYS else (own, *KEYS)
        hot_c = start_c if build.heater_c is None else build.heater_c
        watts, section = share.share * build.want.power_w, float(tube_section(part.outer_m, part.inner_m or 0.0))
        rungs = metal_ladder(hot_c, watts, share.part_length_m, section, keys)
        return Stem(share.part, own, hot_c, watts, share.part_length_m, section, rungs, keys.index(own))

    return work


def at_heater(build: Build, id: str | None = None) -> tuple[Build, Callable]:
    """The sheet with its own power and its own hot end, ready for the panel.

    build: Build. id: as share_of.
    Returns (Build, link): the link gives a Stem.
    """
    build = at_own_power(build)
    share, hottest = share_of(build, id)
    return replace(build, heater_c=round(hottest)), stem_at(share, round(hottest))


def own_conductivity(stem):
    """Mean conductivity of the part's own metal over its drop, with the ends of its band.

    stem: Stem.
    Returns (value, low, high) in W/(m K); nan where it melts or cannot pass the watts.
    """
    rung = stem.rungs[stem.own]
    if not rung.passes:
        return (float("nan"),) * 3
    found = metal_at(stem.metal, "conductivity_w_mk", max(stem.heater_c - rung.drop_k / 2, -99.0))
    value = stem.through_w * stem.part_length_m / (rung.drop_k * stem.section_m2) if rung.drop_k > 1e-6 else found.value
    return value, value * found.low / found.value, value * found.high / found.value


def metals_says(stem, build, bands):
    """Headline rows.  stem: Stem. build: Build, for its degrees. bands: not used.  Returns list of (word, text)."""
    rung, way = stem.rungs[stem.own], {"degrees": build.degrees}

    def kelvins(value):
        return say("rise_k", value, **way).replace(" (difference)", "")

    k, low, high = own_conductivity(stem)
    drop = (
        "melts"
        if np.isnan(rung.drop_k)
        else "cannot pass it"
        if k != k
        else f"{kelvins(rung.drop_k)} ({digits(rung.drop_k * k / high)} to {digits(rung.drop_k * k / low)})"
        if build.degrees == "C"
        else kelvins(rung.drop_k)
    )
    stays = sum(r.stands == "stays" for r in stem.rungs)
    return [
        ("to its long service", kelvins(rung.margin_k)),
        ("to its melting", kelvins(rung.melting_c - stem.heater_c)),
        (f"drop along the {stem.part}", drop),
        ("cold end", say("temp_c", rung.cold_c, **way) if rung.passes else "–"),
        ("metals that stay", f"{stays} of {len(stem.rungs)}"),
    ]


def metals_verdicts(stem, build, bands):
    """Verdicts on the part's own metal at the heater's temperature.  stem: Stem. build: Build. bands: not used."""
    return limit_checks(stem.part, stem.metal, stem.heater_c, degrees=build.degrees)


def metals_derive(stem, build):
    """The drop worked out for the part's own metal.  stem: Stem. build: Build.  Returns list with one Derivation or
    Words.
    """
    made = derive(
        stem_drop,
        on=build,
        through_w=stem.through_w,
        part_length_m=stem.part_length_m,
        conductivity_w_mk=own_conductivity(stem)[0],
        section_m2=stem.section_m2,
    )
    return [made if hasattr(made, "steps") else "<p>Nothing to derive: it melts, or cannot pass those watts.</p>"]


def metals_sliders(build, id):
    """The sliders of the metals page.  build: Build with heater_c and a wanted power. id: part.  Returns list."""
    part = item(build.part, id)
    wound = build.coil is not None and build.coil.on == id
    low, high = former_ends_m(build, links(build)[2]) if wound else part_ends_m(build, part)
    others = tuple((m, m) for m in METALS if m != metal_key(part.material))
    return [
        Slider("heater_c", 20.0, 900.0, 5.0, f"hot end of the {id}"),
        Slider("want.power_w", 1.0, max(10.0, 2.0 * build.want.power_w), 0.5, "power in the coil"),
        Slider(f"part.{id}.outer_m", low, high, 0.25e-3, f"diameter of the {id}"),
        Choice(f"part.{id}.material", ((f"{part.material}, as on the sheet", part.material), *others), f"{id} of"),
    ]


def part_ends_m(build, part):
    """How thin and how thick a part may be: from its bore and a wall, to the narrowest bore that is around it.

    build: Build (floats). part: Part with an outer diameter.
    Returns (low, high) in m.
    """
    around = (
        other.inner_m
        for other in build.part
        if other is not part and other.inner_m is not None and other.inner_m >= part.outer_m and _beside(part, other)
    )
    return max((part.inner_m or 0.0) + 0.4e-3, 0.5 * part.outer_m), min([2.0 * part.outer_m, *around])


def _beside(one, other):
    places = (one.from_m, one.to_m, other.from_m, other.to_m)
    return None not in places and min(one.to_m, other.to_m) > max(one.from_m, other.from_m)


def metals_panel(build: Build, id: str | None = None) -> Kept:
    """Slide the heater's temperature and power; every metal's margin and drop follow.

    build: Build of the sheet. id: part to look at; None for the one with the coil on it.
    Returns a widget box, as show.panel.panel.
    """

    def start(sheet):
        at, work = at_heater(sheet, id)
        return at, metals_sliders(at, work(at).part), work

    return panel(
        *start(build),
        LADDER,
        Telling(says=metals_says, verdicts=metals_verdicts, derive=metals_derive, slow=None),
        begins=FromSheet(build, start),
    )


def with_metals(build: Build, said: Words) -> tuple[Build, Words]:
    """The build a metals page goes on with: itself, or the first demo where no heat passes along any metal of it.

    build, said: as show.ready.ready gives them.
    Returns (Build, Words).
    """
    try:
        share_of(build)
        return build, said
    except Fault as told:
        return load_chosen(FIRST_DEMO), Words(
            f"{said.text}\n\n{plain_text(told)} **This page goes on with the demo {FIRST_DEMO}.**"
        )
