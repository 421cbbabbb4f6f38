"""The supply's line and the power it gives over the current, today's load on both, and where not to go."""

from dataclasses import dataclass

import numpy as np
from matplotlib.lines import Line2D

from ...basics.band import CENTRAL_PERCENT
from ...basics.names import say
from ...chain.bench.link import work_bench
from ...chain.supply.link import work_supply
from ...chain.workings import SAMPLES
from ...sheet.change import sample
from ..drawing.layout import blank, only_a_note, show_band, show_line, two_scales
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, INK, PLAIN, SKY, coarse_up, hatching, keep_out, likely_range

HEIGHT_IN, POINTS = 2.9, 121


@dataclass(frozen=True)
class SupplyNumbers:
    """What the picture is drawn from (SI): readings, line, power, today's load, zones (name, low A, high A); whose the
    readings are."""

    said: str
    readings: tuple
    amps_a: np.ndarray
    volts_v: np.ndarray
    watts_w: np.ndarray
    band: tuple | None
    today: tuple
    zones: tuple
    frame: tuple
    whose: str = "your"


def supply_numbers(build, result, rest=False):
    """The numbers behind the line.

    build: Build. result: (SupplyPart, LoadPart or None). rest: True to work out the band too.
    Returns SupplyNumbers.
    """
    supply, load = result
    empty = np.zeros(0)
    said = (
        "No line: the sheet has no supply."
        if supply is None
        else "No line: this supply is refused."
        if supply.refused
        else "No line yet: " + supply.next_reading
        if np.isnan(supply.source_in_use_ohm)
        else ""
    )
    if said:
        return SupplyNumbers(said, (), empty, empty, empty, None, (np.nan,) * 4, (), ("nothing",))
    shown = [
        (r.amps_a * supply.form, r.volts_v * supply.form)
        for r in build.supply.reading
        if r.volts_v is not None and r.amps_a is not None
    ]
    short = supply.open_in_use_v / supply.source_in_use_ohm if supply.source_in_use_ohm > 0 else np.inf
    used = max([a for a, _ in shown] + [0.1] + ([load.load_a] if load is not None else []))
    far = coarse_up(min(1.02 * short, max(2.2 * used, 0.62 * short if short < 8 * used else 0.0)))
    if supply.limit_a is not None:
        far = coarse_up(max(1.25 * supply.limit_a, 1.05 * used))
    amps = np.linspace(0.0, min(far, short), POINTS)
    volts = supply.open_in_use_v - supply.source_in_use_ohm * amps
    if supply.limit_a is not None and supply.kind != "transformer":
        amps, volts = amps[amps <= supply.limit_a], volts[amps <= supply.limit_a]
    watts = volts * amps
    band = _band(build, amps) if rest else None
    today = (np.nan,) * 4 if load is None else (load.load_a, load.load_v, load.load_w, load.load_ohm)
    top_v = coarse_up(1.18 * max([supply.open_in_use_v] + [v for _, v in shown]))
    top_w = coarse_up(1.1 * np.max(watts))
    return SupplyNumbers(
        "",
        tuple(shown),
        amps,
        volts,
        watts,
        band,
        today,
        _zones(build, supply, amps, watts, far),
        ("line", far, top_v, top_w),
        "the demo's" if build.lent else "your",
    )


def _band(build, amps):
    drawn = work_supply(sample(build, SAMPLES))
    volts = np.subtract.outer(np.broadcast_to(drawn.open_in_use_v, SAMPLES), 0 * amps) - np.multiply.outer(
        np.broadcast_to(drawn.source_in_use_ohm, SAMPLES), amps
    )
    return tuple(np.nanpercentile(volts, CENTRAL_PERCENT, axis=0))


def _zones(build, supply, amps, watts, far):
    found = []
    if supply.limit_a is not None:
        found.append(("past the supply's limit", supply.limit_a, far))
    core = work_bench(build, supply, None).core_va
    if np.isfinite(core) and np.any(watts > core):
        past = amps[watts > core]
        found.append(("past the core's hint", float(past[0]), float(past[-1])))
    if supply.source_in_use_ohm > 0 and supply.limit_a is None:
        half = supply.open_in_use_v / (2 * supply.source_in_use_ohm)
        if half < far:
            found.append(("more heat in the supply than outside", half, min(far, amps[-1])))
    return tuple(found)


@dataclass(frozen=True)
class _Artists:
    axes: object
    power: object
    inches: tuple
    band: object
    zones: tuple
    lines: dict
    words: dict
    moving: tuple
    labels: tuple


def _lay(figure, place):
    axes, power, inches = two_scales(figure, place, "volts at the terminals", "power given, W (dashed)")
    axes.set_xlabel("current, A")
    zones = [(*keep_out(), Label(axes, ha="center", va="top", bold=True)) for _ in range(3)]
    band = likely_range()
    lines = {
        "power": Line2D([], [], color=SKY, lw=1.6, ls=(0, (6, 3))),
        "line": Line2D([], [], color=COPPER, lw=2.4),
        "ray": Line2D([], [], color=INK, lw=0.9, ls=(0, (1, 2))),
        "readings": Line2D([], [], color=INK, marker="x", ms=7, ls="", mew=1.8),
        "now_w": Line2D([], [], color=SKY, marker="s", ms=6, ls="", mfc="white", mew=1.6),
        "now": Line2D([], [], color=INK, marker="o", ms=9, ls="", mfc=COPPER, mew=1.8),
    }
    words = {
        "line": Label(axes, color="#9a4510", bold=True),
        "power": Label(power, color=SKY),
        "now": Label(axes, bold=True, size=PLAIN),
        "readings": Label(axes),
        "note": Label(axes, ha="center", size=PLAIN),
    }
    boxes = [x for box, hatch, _ in zones for x in (box, hatch)]
    for artist in (*boxes, band, *lines.values()):
        artist.set_animated(True)
        (power if artist in (lines["power"], lines["now_w"]) else axes).add_artist(artist)
    return _Artists(
        axes,
        power,
        inches,
        band,
        tuple(zones),
        lines,
        words,
        (*boxes, band, *lines.values()),
        (*[z[2] for z in zones], *words.values()),
    )


def _frame(a, n):
    for axes in (a.axes, a.power):
        axes.set_axis_on() if n.frame[0] == "line" else axes.set_axis_off()
    if n.frame[0] == "line":
        a.axes.set_xlim(0, n.frame[1])
        a.axes.set_ylim(0, n.frame[2])
        a.power.set_ylim(0, n.frame[3])
    else:
        blank(a.axes)


def _move(a, n):
    if only_a_note(a, n):
        return
    _, far, top, top_w = n.frame
    for k, (zone, words) in enumerate(zip(n.zones, a.zones)):
        _zone(a, zone, words, far, top, k)

    show_line(a.lines["line"], n.amps_a, n.volts_v)
    show_line(a.lines["power"], n.amps_a, n.watts_w)
    if n.readings:
        show_line(a.lines["readings"], *zip(*n.readings))
        at, up = n.readings[-1]
        a.words["readings"].put(at + 0.02 * far, up - 0.13 * top, f"{n.whose} readings (crosses)")
    if n.band is not None:
        show_band(a.band, n.amps_a, n.band[0], n.band[1])
    amps, volts, watts, ohm = n.today
    aside = 0.015 if not amps < 0.68 * far else 0.72
    high = (
        n.volts_v[0] - (n.volts_v[0] - n.volts_v[-1]) * aside * far / n.amps_a[-1]
        if n.band is None
        else np.interp(aside * far, n.amps_a, n.band[1])
    )
    a.words["line"].put(aside * far, high + 0.06 * top, "volts" if n.band is None else "volts, with their likely range")
    if aside < 0.5:
        end = int(0.93 * (len(n.amps_a) - 1))
        a.words["power"].put(n.amps_a[end], n.watts_w[end] - 0.1 * top_w, "power", ha="right")
    else:  # the words of the volts stand at the right
        low = int(np.searchsorted(n.watts_w[: np.argmax(n.watts_w) + 1], 0.3 * top_w))
        a.words["power"].put(n.amps_a[min(low, len(n.amps_a) - 1)] + 0.015 * far, 0.26 * top_w, "power")
    if np.isfinite(amps):
        show_line(a.lines["ray"], [0, amps, amps], [0, volts, 0])
        show_line(a.lines["now_w"], [amps], [watts])
        show_line(a.lines["now"], [amps], [volts])
        right = amps < 0.36 * far
        gets = f"{say('load_v', volts)}, {say('load_a', amps)}, {say('load_w', watts)}"
        gets = gets if amps > 0 else "the supply trips"
        a.words["now"].put(
            amps + (0.015 if right else -0.015) * far,
            min(volts + 0.1 * top, 0.94 * top),
            f"{say('load_ohm', ohm)}: {gets}",
            ha="left" if right else "right",
        )


def _zone(a, zone, artists, far, top, k):
    name, low, high = zone
    box, hatch, words = artists
    box.set_bounds(low, 0, high - low, top)
    box.set_visible(True)
    tall_in, wide_in = a.inches
    x, y = hatching(low / far * wide_in, high / far * wide_in, tall_in, rising=k % 2 == 0)
    show_line(hatch, x / wide_in * far, y / tall_in * top)
    words.put(0.99 * high, (0.17 - 0.1 * k) * top, name, ha="right", va="top")


def supply_caption(n):
    """The picture of the line in words.  n: SupplyNumbers."""
    if n.frame[0] == "nothing":
        return n.said
    amps, volts, watts, ohm = n.today
    stiff = n.volts_v[0] - n.volts_v[-1] < 1e-6 * n.volts_v[0]
    text = (
        f"The supply holds {say('open_v', float(n.volts_v[0]))} up to {say('load_a', float(n.amps_a[-1]))}"
        if stiff
        else f"The supply's line falls from {say('open_v', float(n.volts_v[0]))} with no load to "
        f"{say('load_v', round(float(n.volts_v[-1]), 9))} at {say('load_a', float(n.amps_a[-1]))}"
    )
    if np.isfinite(amps):
        text += f"; on a load of {say('load_ohm', ohm)} the supply trips" * (amps == 0) or (
            f"; a load of {say('load_ohm', ohm)} takes {say('load_a', amps)} at {say('load_v', volts)}: "
            f"{say('load_w', watts)}"
        )
    told = [f"from {say('load_a', low)} to {say('load_a', high)} {name}" for name, low, high in n.zones]
    return "; ".join([text, *told]) + "."


LOAD_LINE = Drawing(supply_numbers, _lay, _frame, _move, supply_caption, HEIGHT_IN)
