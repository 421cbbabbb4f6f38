"""The panel of the handle page: slide the holes, see lines of heat, the handle, and the stiffness that is left."""

from dataclasses import replace

import numpy as np

from ...basics.band import Band, band_of
from ...basics.slices import told_as
from ...chain.handle.link import work_handle
from ...chain.handle.verdicts import handle_checks
from ...chain.heat.holes import with_break
from ...chain.heat.link import heat_steps, nominal_heat, work_heat
from ...chain.heat.still_air import still_air_of
from ...chain.parts import has_arrays
from ...chain.verdict import unknown
from ...chain.workings import SAMPLES, band_text, drawn_builds, links, settled
from ...sheet.build import Build
from ...sheet.change import change, item
from ...sheet.roles import part_with_role
from ...thermal.holes.pattern import Pattern, fitting_holes
from ...thermal.tool.alike import Nominal
from ..heat.panel import heat_refused
from ..panel.from_sheet import FromSheet
from ..panel.panel import Kept, panel
from ..panel.sliders import Choice, Slider, Telling
from .figure import BREAK
from .numbers import whole_heat

ON_SHEET, OFFERED = "as on {}", "not on {}"  # the holes of the tile
ROWS = (
    ("tube at the handle", "entry_c"),
    ("handle outside", "grip_c"),
    ("stiffness left at the tip", "stiffness"),
    ("strength left", "net_share"),
    ("holes are worth", "extra_m"),
    ("least web", "web_m"),
)


def to_play(build: Build) -> Build:
    """The build that the page works by hand with: settled, and drilled with two rings where the sheet has no holes.

    build: Build of the sheet.
    Returns Build.
    """
    return with_break(settled(build), rings=2)


def handle_start(sheet: Build) -> tuple:
    """Where the panel begins: the tube as the sheet has it, with a break of no rings to drill where it has no holes.

    sheet: Build of the sheet.
    Returns (Build, its sliders).
    """
    own = with_break(settled(sheet), rings=0)
    return own, handle_sliders(own)


def handle_links(build: Build, near: Nominal | None = None) -> tuple:
    """The link behind the sliders: temperatures and handle at the coil's own power.

    build: Build. near: as work_heat.
    Returns (supply, wire, coil, heat, handle).
    """
    supply, wire, coil = links(build)
    if near is None and build.heat_break and not has_arrays(build):
        heat = whole_heat(build, wire, coil)
        if any(hole.rings for hole in build.heat_break):  # they move only what is drilled
            heat = work_heat(build, wire, coil, near=nominal_heat(heat))
    else:
        heat = work_heat(build, wire, coil, near=near)
    return supply, wire, coil, heat, work_handle(build, heat)


def handle_bands(build):
    """Bands of the handle's numbers.

    build: Build.
    Yields (done, of, "") between its steps; returns dict: "handle.entry_c" -> Band, ..., and the same under "heat" for
    the verdicts on wood.
    """
    _, wire, _, heat, nominal = handle_links(build)
    if nominal is None:
        return {}
    yield 1, 4, ""
    drawn = drawn_builds(build, None, wire)
    yield 2, 4, ""
    _, wire, coil = links(drawn)
    heat = yield from told_as((3, 4, ""), heat_steps(drawn, wire, coil, near=nominal_heat(heat)))
    yield 3, 4, ""
    many = work_handle(drawn, heat)
    keys = ("entry_c", "grip_c", "finger_c", "web_pa", "wood_years")
    found = {
        k: band_of(getattr(nominal, k), np.broadcast_to(getattr(many, k, np.nan), SAMPLES))
        for k in keys
        if np.isfinite(getattr(nominal, k))
    }
    return {f"handle.{k}": b for k, b in found.items()} | {f"heat.{k}": b for k, b in found.items()}


def handle_says(result, build, bands):
    """Headline rows.  result: of handle_links. build: Build. bands: dict or None."""
    handle, told = result[4], []
    for word, field in ROWS:
        value = float("nan") if handle is None else getattr(handle, field)
        if not np.isfinite(value):
            told.append((word, "not worked out" if handle is None else "no holes"))
        elif field in ("stiffness", "net_share"):
            told.append((word, f"{value:.0%}"))
        else:
            band = (bands or {}).get(f"handle.{field}", Band(value, value, value))
            told.append(
                (word, band_text(replace(band, nominal=value), field, units=build.units, degrees=build.degrees))
            )
    return told


def handle_verdicts(result, build, bands):
    """Verdicts on the handle.  result: of handle_links. build: Build. bands: dict or None."""
    heat = result[3]
    if heat is not None and heat.refused:
        return [unknown("handle", "entry_c", why="Not worked out: " + heat.refused.replace("\n", " "))]
    still = still_air_of(build, *result[1:4]) if bands else None
    return [v for v in handle_checks(build, heat, result[4], bands or {}, still) if v.state != "does not apply"]


def handle_sliders(build):
    """The sliders of the handle page.

    build: Build, as to_play.
    Returns list of Slider and Choice.
    """
    if not build.heat_break:
        return [Slider("room.air_speed_m_s", 0.0, 1.0, 0.05, "air speed")]
    hole = build.heat_break[0]
    tube = item(build.part, hole.on)
    handle = part_with_role(build, "handle", placed=True)
    at = f"heat_break.{hole.id}."
    small = Pattern(tube.outer_m, tube.inner_m, 1, 1.5e-3)
    sliders = [Slider(at + "rings", 0, 4, 1, "rings of holes, number")]
    if handle is not None:
        far = max(handle.from_m, min(handle.to_m - 0.04, tube.to_m - 0.01))
        sliders.append(Slider(f"part.{handle.id}.from_m", hole.from_m + 0.01, far, 0.002, "handle begins at"))
    return [
        *sliders,
        Choice("room.attitude", ("lying", "tip down", "tip up"), "held"),
        Slider(at + "holes", 1, min(12, fitting_holes(small)), 1, "holes in a ring, number"),
        Slider(at + "hole_m", 1.0e-3, min(0.6 * tube.inner_m, 8e-3), 0.1e-3, "drill"),
        Slider(at + "ring_spacing_m", 2e-3, 12e-3, 0.25e-3, "ring to ring"),
        Choice(at + "staggered", (("each hole facing a web", True), ("hole behind hole", False)), "the rings stand"),
    ]


def handle_panel(build: Build) -> Kept:
    """Drill without a drill.

    build: Build of the sheet.
    Returns a widget box, as show.panel.panel.
    """
    begins, made = FromSheet(build, handle_start), None

    def says(result, moved, bands):
        sheet = build if made is None else made.begins.sheet
        return [*holes_tile(sheet, moved), *handle_says(result, moved, bands)]

    telling = Telling(says=says, verdicts=handle_verdicts, slow=handle_bands, refused=heat_refused)
    made = panel(*begins.start(build), handle_links, BREAK, telling, begins=begins)
    for path, rings in made.handles.items():
        if path.endswith(".rings"):
            rings.observe(lambda _: _only_drilled(made), "value")
            _only_drilled(made)
    return made


def holes_tile(sheet, moved):
    """The tile that says which holes are drawn, and whether the sheet has them.

    sheet, moved: Build of the sheet, and as it is shown.
    Returns list with one row (word, text); [] where there is nothing to drill.
    """
    if not moved.heat_break:
        return []
    (now, own), whose = (
        [[(h.rings, h.holes) for h in b.heat_break if h.rings] for b in (moved, sheet)],
        f"the demo {sheet.lent}" if sheet.lent else "your sheet",
    )
    rings = " and ".join(f"{n:.0f} x {holes:.0f}" for n, holes in now) or "none"
    told = ON_SHEET if now == own else "" if own else OFFERED
    return [("holes", f"{rings} ({told.format(whose)})" if told else rings)]


def _only_drilled(made):
    """Offer what shapes the holes only where there are any: without them it moves nothing."""

    def serves(path):
        hole, _, field = path.rpartition(".")
        return not path.startswith("heat_break.") or field == "rings" or made.handles[f"{hole}.rings"].value > 0

    made.offer([path for path in made.handles if serves(path)])


def greedy(build: Build, rings: float = 3) -> Build:
    """The build with as much drilled away as still leaves webs: the temptation.

    build: Build with a heat break. rings: number of rings.
    Returns Build.
    """
    hole = build.heat_break[0]
    tube = item(build.part, hole.on)
    holes = max(3, round(hole.holes))
    drill = next(
        (
            d * tube.inner_m
            for d in (0.45, 0.4, 0.35, 0.3, 0.25, 0.2, 0.15, 0.1)
            if fitting_holes(Pattern(tube.outer_m, tube.inner_m, 1, d * tube.inner_m)) >= holes
        ),
        hole.hole_m,
    )
    return with_holes(build, rings=float(rings), holes=float(holes), hole_m=drill, ring_spacing_m=drill + 1e-3)


def with_holes(build: Build, **holes: float) -> Build:
    """The build with its heat break changed.

    build: Build with a break. holes: fields of it, SI, e.g. rings=2, hole_m=0.003.
    Returns Build.
    """
    for field, value in holes.items():
        build = change(build, f"heat_break.{build.heat_break[0].id}.{field}", value)
    return build
