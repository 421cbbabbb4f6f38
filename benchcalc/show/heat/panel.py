"""The panels of the heat page: what moves the temperatures, and the hour from cold."""

from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from ...basics.band import Band, band_of
from ...basics.names import NAMES, say
from ...basics.slices import told_as
from ...chain.handle.verdicts import still_told, wood_checks
from ...chain.heat.in_time import HOUR_S, warming
from ...chain.heat.link import heat_steps, nominal_heat, work_heat
from ...chain.heat.melting_wire import told_band, told_c, wire_melts_c
from ...chain.heat.part import refused_heat
from ...chain.heat.solid_verdicts import part_bands
from ...chain.heat.still_air import still_air_of
from ...chain.heat.verdicts import heat_checks
from ...chain.insulation.link import work_insulation
from ...chain.insulation.verdicts import insulation_checks
from ...chain.metals.verdicts import melting_checks, service_checks
from ...chain.wire.fit_verdicts import bores_around
from ...chain.workings import SAMPLES, chain, drawn_builds, links, settled
from ...sheet.build import Build
from ...sheet.change import change
from ..panel.from_sheet import FromSheet
from ..panel.panel import Kept, panel
from ..panel.sliders import Slider, Telling
from .figure import TOOL
from .numbers import heat_numbers
from .sliders import heat_sliders

ROWS = (
    ("tip", "tip_c"),
    ("hottest wire", "wire_c"),
    ("tube at the handle", "entry_c"),
    ("wood at the tube", "bore_c"),
    ("handle outside", "grip_c"),
    ("what is melted", "work_c"),
)


def at_wanted_power(build: Build) -> tuple:
    """The chain with the wanted power in the coil, whatever the supply gives: the power slider's own link.

    build: Build with a wanted power.
    Returns (supply, wire, coil, heat); the heat refused where the wound coil does not go in.
    """
    supply, wire, coil = links(build)
    tight = too_tight(build, coil)
    heat = refused_heat(tight) if tight else work_heat(build, wire, coil, build.want.power_w)
    return supply, wire, coil, heat


def too_tight(build, coil):
    """Which part the wound coil does not go into, in a sentence; "" where it goes in.

    build: Build (floats). coil: CoilPart (floats), or None.
    """
    for part, across_m in bores_around(build, coil) if coil is not None else ():
        if across_m > part.inner_m + 1e-7:
            across, bore = (say("outer_m", float(x), units=build.units) for x in (across_m, part.inner_m))
            return (
                f"coil and {part.id}: the wound coil with its layers is {across} across and does not go into a bore "
                f"of {bore}."
            )
    return ""


def heat_bands(build):
    """Bands of the temperatures at the wanted power, as far as the coil's own power is in doubt.

    build: Build.
    Yields (done, of, "") between its steps; returns dict: "heat.tip_c" -> Band, ...
    """
    _, wire, coil, nominal = at_wanted_power(build)
    if nominal is None or nominal.refused:
        return {}
    yield 1, 4, ""
    drawn = drawn_builds(build, None, wire)
    yield 2, 4, ""
    share = drawn.want.power_w / build.want.power_w  # of a power that was typed with a spread
    _, wire, many_coils = links(drawn)
    if np.isfinite(coil.coil_w):
        share = (
            share * many_coils.coil_w / coil.coil_w
        )  # the mains, the wire and the tails make the same doubt at any power
    many = yield from told_as(
        (3, 4, ""), heat_steps(drawn, wire, many_coils, build.want.power_w * share, near=nominal_heat(nominal))
    )
    found = {k: getattr(nominal, k) for _, k in ROWS if np.isfinite(getattr(nominal, k))}
    none = np.full(2, np.nan)  # samples that cannot be worked out leave no band, and nothing is fine by it
    bands = {f"heat.{k}": band_of(at, none if many is None else getattr(many, k)) for k, at in found.items()}
    return bands | part_bands(nominal, many, SAMPLES)


def heat_says(result, build, bands):
    """Headline rows of the temperatures.

    result: of at_wanted_power. build: Build. bands: dict or None.
    Returns list of (word, text).
    """
    heat, rows, melts_c = result[3], [], wire_melts_c(build)
    for word, field in ROWS:
        value = float("nan") if heat is None else getattr(heat, field)
        if np.isfinite(value):
            band = (bands or {}).get(f"heat.{field}", Band(value, value, value))
            if field == "wire_c" and heat.tails_c > value:
                rows.append((NAMES["tails_c"].word, say("tails_c", float(heat.tails_c), degrees=build.degrees)))
                word += " in the winding"
            rows.append((word, told_band(replace(band, nominal=value), field, melts_c, degrees=build.degrees)))
    return rows or [("temperatures", "not worked out")]


def heat_verdicts(result, build, bands):
    """Verdicts on the temperatures; of metals that would melt and of insulation too hot only what is not fine.

    result: of at_wanted_power. build: Build. bands: dict or None.
    Returns list of Verdict.
    """
    heat = result[3]
    if heat is None or heat.refused:
        return []
    hottest = {i: float(heat.hottest(i)) for i in heat.part_ids}
    metal = [*melting_checks(build, heat), *service_checks(build, hottest, bands or {})]
    metal = [v for v in metal if v.state != "fine"]
    stack = work_insulation(build, *result)
    hot = [] if stack is None else [v for v in insulation_checks(build, stack, bands or {}) if v.state != "fine"]
    hot = [v for v in hot if v.key == "hottest_c"]
    still = still_told(
        still_air_of(build, *result[1:4], build.want.power_w) if bands else None, build.room.air_speed_m_s
    )
    return metal + hot + heat_checks(build, heat, bands or {}) + wood_checks(heat, bands or {}, still)


def heat_panel(build: Build) -> Kept:
    """Move what decides the temperatures.

    build: Build of the sheet.
    Returns a widget box, as show.panel.panel.
    """
    begins = FromSheet(build, heat_start)
    return panel(
        *heat_start(build),
        at_wanted_power,
        TOOL,
        Telling(says=heat_says, verdicts=heat_verdicts, slow=heat_bands, refused=heat_refused),
        begins=begins,
    )


def heat_start(sheet: Build) -> tuple:
    """Where the panel begins: at the watts that the coil takes.

    sheet: Build of the sheet.
    Returns (Build, its sliders).
    """
    own = at_own_power(sheet)
    return own, heat_sliders(own)


def heat_refused(result, build):
    """Why a tool cannot be, "" where it can.

    result: a chain, its heat in the fourth place. build: Build behind it.
    """
    return "" if result[3] is None else result[3].refused


def at_own_power(build: Build) -> Build:
    """The build, wanting exactly the power that its coil takes on its supply.

    build: Build.
    Returns Build; unchanged where that power is not known.
    """
    coil, build = chain(build)[2], settled(build)
    if coil is None or not np.isfinite(coil.coil_w):
        return build
    return change(build, "want.power_w", float(coil.coil_w))


@dataclass(frozen=True, eq=False)
class Moment:
    """The tool at a moment: the settled chain, the run from cold, and the time since switching on."""

    parts: tuple
    run: object
    time_s: float


def at_moment(build, done=None):
    """The tool some time after switching on: the link behind the time slider.

    build: Build with `at_s`. done: dict that keeps the last run, so that a moved time does not work it out
    again; None: nothing is kept.
    Returns Moment; run None where no heat can be worked out.
    """
    done = {} if done is None else done
    tool = repr(replace(build, at_s=None, known={}))
    if tool not in done:
        parts = at_wanted_power(build)
        run = None if parts[3] is None or parts[3].refused else warming(build, *parts[1:], until_s=HOUR_S)
        done.clear()
        done[tool] = parts, run
    return Moment(*done[tool], build.at_s or 0.0)


def _moment_numbers(build, at, rest=False):
    return heat_numbers(build, at.parts[3], None if at.run is None else at.run.run.at(at.time_s))


def _moment_says(at, build, _):
    if at.run is None:
        return [("temperatures", "not worked out")]
    found = []
    for word, field in ROWS:
        if hasattr(at.run, field) and np.isfinite(getattr(at.run, field)[0]):
            value = np.interp(at.time_s, at.run.time_s, getattr(at.run, field))
            found.append((word, told_c(field, float(value), wire_melts_c(build), degrees=build.degrees)))
    return found


TIME = replace(TOOL, numbers=_moment_numbers)


def time_panel(build: Build, at_s: float = 0.0) -> Kept:
    """From cold to an hour: slide the time and watch the warm front.

    build: Build of the sheet. at_s: where the slider begins, s.
    Returns a widget box, as show.panel.panel.
    """
    build = replace(at_own_power(build), at_s=at_s)
    return panel(
        build,
        [Slider("at_s", 0.0, HOUR_S, 60.0, "time since switching on", "run_s")],
        partial(at_moment, done={}),
        TIME,
        Telling(says=_moment_says, verdicts=lambda *_: [], slow=None),
    )
