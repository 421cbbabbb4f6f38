"""The panel of the insulation page: winding temperature and hours of use, the sheet's own stack, and what stays in."""

from dataclasses import replace

import numpy as np

from ...basics.names import say, years_words
from ...chain.insulation.verdicts import insulation_checks
from ...chain.wire.fit_verdicts import slack_m
from ...chain.workings import links
from ...materials.ageing import AGES_TO_C, life_ends
from ...materials.bulk import solid_key
from ...sheet.build import Build
from ...studies.stack_at_temperature import at_winding
from ..drawing.live_picture import stack
from ..panel.from_sheet import FromSheet
from ..panel.panel import Kept, panel
from ..panel.sliders import Choice, Slider, Telling
from .chart_figure import STAYS
from .chart_numbers import stays_numbers
from .stack_figure import STACK

PICTURE = stack(STACK, STAYS)
TRIED = (
    "mica",
    "mica-plate",
    "phlogopite",
    "ceramic-fibre",
    "glass-sleeve-bare",
    "glass-sleeve-silicone-varnish",
    "silica-sleeve",
    "silicone-rubber",
    "refractory-cement",
)
USUAL_HOURS = 100.0  # a year, where the sheet does not say


def at_own_temperature(build: Build) -> Build:
    """The build looked at with its winding where it settles; hours of use put in where the sheet has none.

    build: Build.
    Returns Build with `at_c` and `use.hours_per_year`.
    """
    hours = build.use.hours_per_year or USUAL_HOURS
    build = replace(build, use=replace(build.use, hours_per_year=float(hours)))
    own = at_winding(replace(build, at_c=None)).wire_c
    return replace(build, at_c=float(np.round(own)) if np.isfinite(own) else 400.0)


def insulation_sliders(build):
    """Sliders of the insulation page; layers that this sheet does not have are left out.

    build: Build with `at_c`.
    Returns list of Slider and Choice.
    """
    sliders = [
        Slider("at_c", 60.0, 1000.0, 5.0, "winding temperature"),
        Slider("use.hours_per_year", 5.0, 4000.0, 5.0, "use in a year, h"),
    ]
    for i, y in enumerate(build.layer):
        if "coil" in y.between and y.thickness_m is not None and y.material is not None:
            side = "under" if y.between[1] == "coil" else "over"
            key = solid_key(y.material)[1]
            sliders += [
                Choice(
                    f"layer.{i}.material",
                    ((f"{y.material}, as on the sheet", y.material), *((k, k) for k in TRIED if k != key)),
                    f"{side} the coil",
                ),
                Slider(f"layer.{i}.thickness_m", 0.1e-3, thickest_m(build, y), 0.05e-3, f"thickness {side} the coil"),
            ]
    return sliders


def thickest_m(build, layer):
    """How thick a layer under or over the coil may be before the wound coil meets the bore around it, at most 2 mm.

    build: Build (floats). layer: Layer with a thickness.
    """
    coil = links(build)[2]
    slack = np.inf if coil is None else slack_m(build, coil)
    return float(min(2e-3, layer.thickness_m + max(slack, 0.0) / 2))


def insulation_says(at, build, bands=None):
    """Headline rows.  at: AtWinding. build: Build. bands: not used."""
    n = stays_numbers(build, at.wire_c)
    rows = [
        ("hottest wire", say("wire_c", at.wire_c, degrees=build.degrees)),
        ("watts that takes", say("coil_w", at.power_w) if np.isfinite(at.power_w) else "not worked out"),
        ("materials that stay", f"{sum(s.word == 'stays' for s in n.stays)} of {len(n.stays)}"),
    ]
    if build.use.hours_per_year:
        rows.append(("in use", f"{build.use.hours_per_year:.0f} h a year"))
    if at.insulation is not None and np.isfinite(at.insulation.margin_k):
        rows.append(
            (
                "least margin to a rating",
                say("margin_k", at.insulation.margin_k, degrees=build.degrees).replace(" (difference)", ""),
            )
        )
    aged = first_to_age(at)
    name, limit, temp_c = (
        aged
        if aged
        else ("silicone rubber", next(s.limit_c for s in n.stays if s.name == "silicone rubber"), at.wire_c)
    )
    if np.isfinite(temp_c) and build.use.hours_per_year:
        word = f"life, {name}" if aged else f"life, were it {name}"
        rows.append((word, _life(limit, temp_c, build.use.hours_per_year)))
    return rows


def _life(limit_c, temp_c, hours):
    """How long a material lasts, in words.  limit_c: its rating. temp_c: where it is, degC. hours: of use in a year."""
    if temp_c > AGES_TO_C:
        return "past all ageing data"
    low, high = (years_words(x / 3600 / hours) for x in life_ends(limit_c, temp_c))
    return low if low == high else f"{low} to {high}"


def first_to_age(at):
    """The layer of the sheet that ages first: (name, rating, temperature), or None where none is organic.

    at: AtWinding.
    """
    if at.insulation is None or not np.any(np.isfinite(at.insulation.life_s)):
        return None
    k = int(np.nanargmin(at.insulation.life_s))
    layer = at.insulation.layers[k]
    return layer.name, layer.rating.limit_c, at.insulation.hot_c[k]


def insulation_verdicts(at, build, bands=None):
    """Verdicts on the stack at this temperature.  at: AtWinding. build: Build. bands: path -> Band, or None."""
    return [] if at.insulation is None else insulation_checks(build, at.insulation, bands or {})


def insulation_caption(at, build):
    """The pictures in words, short enough for a panel: the chart names its materials itself.

    at: AtWinding. build: Build.
    Returns text.
    """
    n = stays_numbers(build, at.wire_c)
    return (
        f"{STACK.caption(STACK.numbers(build, at))} Chart: {sum(s.word == 'stays' for s in n.stays)} of "
        f"{len(n.stays)} materials stay "
        f"at {say('wire_c', at.wire_c, degrees=build.degrees)}."
    )


def insulation_panel(build: Build) -> Kept:
    """Slide the winding temperature and the hours: what stays in, what leaves, what the sheet's own stack makes of it.

    build: Build of the sheet.
    Returns a widget box, as show.panel.panel.
    """

    def start(sheet):
        own = at_own_temperature(sheet)
        return own, insulation_sliders(own)

    return panel(
        *start(build),
        at_winding,
        PICTURE,
        Telling(says=insulation_says, verdicts=insulation_verdicts, slow=None, caption=insulation_caption),
        begins=FromSheet(build, start),
    )
