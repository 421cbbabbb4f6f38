"""The soak curve: the winding over the hours, as tested and as this load would make it, under the limit of its
class.
"""

from dataclasses import dataclass

import numpy as np
from matplotlib.lines import Line2D

from ...basics.names import say, shown
from ...chain.bench.link import UNMARKED_CLASS, hours_of, rise_of, soak_end
from ...chain.bench.load_verdicts import winding_melts_c
from ...heater import soak
from ..drawing.layout import blank, only_a_note, show_band, show_line
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, FAINT, INK, PLAIN, axes_in, coarse_up, hatching, keep_out, likely_range

HEIGHT_IN, POINTS = 2.5, 81


@dataclass(frozen=True)
class SoakNumbers:
    """What the soak curve is drawn from: hours, degC as tested, and at this load with its range; limit_c of the
    class; where both settle.
    """

    said: str
    degrees: str
    hours: np.ndarray
    tested_c: np.ndarray
    read_hours: np.ndarray
    read_c: np.ndarray
    here_c: tuple | None
    load_a: float
    test_a: float
    limit_c: float
    frame: tuple
    tested_end_c: float = np.nan
    here_end_c: tuple = ()


def soak_numbers(build, result, rest=False):
    """The numbers behind the soak curve.

    build: Build. result: (SupplyPart, LoadPart or None). rest: not used; the range is always there.
    Returns SoakNumbers.
    """
    load = result[1]
    limit, _ = soak.class_limit(int(build.soak.winding_class or UNMARKED_CLASS))
    empty = np.zeros(0)
    times, rises = hours_of(build)
    end_rise, _ = rise_of(build)
    room = 20.0 if build.room.ambient_c is None else build.room.ambient_c
    if np.isnan(end_rise) and not len(times):
        return SoakNumbers(
            "No soak curve: the sheet holds no soak test. Volts that hold up say nothing of hours.",
            build.degrees,
            empty,
            empty,
            empty,
            empty,
            None,
            np.nan,
            np.nan,
            limit,
            ("nothing",),
        )
    found = soak_end(build)
    slow = 5400.0 if found is None else found.shape.slow_s
    far_h = coarse_up(min(1.6 * max(times[-1] if len(times) else 3 * slow, 2.5 * slow) / 3600, 24.0))
    hours = np.linspace(0, far_h, POINTS)
    shape = float(end_rise) * (1 - np.exp(-3600 * hours / slow)) if found is None else found.rises(3600 * hours)
    ends = (
        (1.0, 1.0, np.nan)
        if found is None
        else tuple(x / found.rise_k for x in (found.low_k, found.rise_k, found.high_k))
    )
    here = None
    if load is not None and np.isfinite(load.scale[1]):
        here = tuple(room + x * end * shape for x, end in zip(load.scale, ends))
    top = coarse_up(
        1.12 * max([limit, room + shape[-1]] + ([float(np.fmax(here[1][-1], here[2][-1]))] if here else []))
    )
    ends_k = () if here is None else (load.low_k, load.winding_rise_k, load.high_k)
    return SoakNumbers(
        "",
        build.degrees,
        hours,
        room + shape,
        times / 3600,
        room + rises,
        here,
        np.nan if load is None else load.load_a,
        np.nan if build.soak.load_a is None else build.soak.load_a,
        limit,
        ("curve", far_h, min(top, coarse_up(winding_melts_c())), limit, build.degrees),
        room + float(end_rise if found is None else found.rise_k),
        tuple(room + x for x in ends_k),
    )


@dataclass(frozen=True)
class _Artists:
    axes: object
    inches: tuple
    zone: tuple
    band: object
    lines: dict
    words: dict
    moving: tuple
    labels: tuple


def _lay(figure, place):
    axes, inches = axes_in(figure, place, below=0.48, above=0.12)
    axes.set_xlabel("hours under load")
    zone, band = keep_out(), likely_range()
    lines = {
        "tested": Line2D([], [], color=FAINT, lw=1.4, ls=(0, (6, 3))),
        "here": Line2D([], [], color=COPPER, lw=2.4),
        "readings": Line2D([], [], color=INK, marker="x", ms=7, ls="", mew=1.8),
    }
    words = {
        "limit": Label(axes, ha="right", bold=True),
        "here": Label(axes, ha="right", color="#9a4510", bold=True),
        "tested": Label(axes, color=FAINT),
        "note": Label(axes, ha="center", size=PLAIN),
    }
    for artist in (*zone, band, *lines.values()):
        artist.set_animated(True)
        axes.add_artist(artist)
    return _Artists(axes, inches, zone, band, lines, words, (*zone, band, *lines.values()), tuple(words.values()))


def _frame(a, n):
    a.axes.set_axis_on() if n.frame[0] == "curve" else a.axes.set_axis_off()
    if n.frame[0] == "nothing":
        blank(a.axes)
        return
    _, far, top, _, degrees = n.frame
    a.axes.set_ylabel(f"winding, deg{degrees}")
    a.axes.set_xlim(0, far)
    a.axes.set_ylim(shown("temp_c", 0.0, degrees=degrees), shown("temp_c", top, degrees=degrees))


def _move(a, n):
    if only_a_note(a, n):
        return
    _, far, top, limit, degrees = n.frame

    def at(temp_c):
        return shown("temp_c", np.asarray(temp_c), degrees=degrees)

    floor, ceiling, edge = float(at(0.0)), float(at(top)), float(at(limit))
    box, hatch = a.zone
    box.set_bounds(0, edge, far, ceiling - edge)
    box.set_visible(True)
    tall_in, wide_in = a.inches
    x, y = hatching(0, wide_in, tall_in * (ceiling - edge) / (ceiling - floor))
    show_line(hatch, x / wide_in * far, edge + y / tall_in * (ceiling - floor))
    a.words["limit"].put(
        0.99 * far,
        ceiling - 0.09 * (ceiling - floor),
        f"past the class: mean of the winding above {say('limit_c', limit, degrees=degrees)}",
    )
    show_line(a.lines["tested"], n.hours, at(n.tested_c))
    k = int(0.3 * POINTS)
    tested = f"as tested, {say('load_a', n.test_a)}" if np.isfinite(n.test_a) else "as tested"
    apart = n.here_c is not None and abs(n.here_c[1][-1] - n.tested_c[-1]) > 0.09 * top
    if n.here_c is not None:
        low, here, high = (at(x) for x in n.here_c)
        show_band(a.band, n.hours, low, high)
        show_line(a.lines["here"], n.hours, here)
        a.words["here"].put(
            0.99 * far,
            min(here[-1] + 0.09 * (ceiling - floor), ceiling - 0.2 * (ceiling - floor)),
            f"at {say('load_a', n.load_a)}",
        )
    if n.here_c is None or apart:
        a.words["tested"].put(n.hours[k], at(n.tested_c[k]) - 0.1 * (ceiling - floor), tested)
    if len(n.read_hours):
        show_line(a.lines["readings"], n.read_hours, at(n.read_c))


def soak_caption(n):
    """The soak curve in words.  n: SoakNumbers."""
    if n.frame[0] == "nothing":
        return n.said
    way = {"degrees": n.degrees}
    text = f"Soak: as tested the winding settles at {say('winding_c', n.tested_end_c, **way)}"
    if n.here_c is not None and np.isnan(n.here_end_c[1]):
        text += f"; where it would at {say('load_a', n.load_a)} is not known"
    elif n.here_c is not None and n.here_end_c[1] >= winding_melts_c():
        text += f"; at {say('load_a', n.load_a)} its copper would melt first"
    elif n.here_c is not None:
        low, here, high = n.here_end_c
        top = "melting" if high >= winding_melts_c() else say("winding_c", high, **way)
        ends = (
            f"({say('winding_c', low, **way)} to {top})"
            if np.isfinite(high)
            else "at least: without three readings over the hours nobody knows where they lead"
        )
        text += f"; at {say('load_a', n.load_a)} it would at {say('winding_c', here, **way)} {ends}"
    return text + f"; the class ends at {say('limit_c', n.limit_c, **way)}."


SOAK = Drawing(soak_numbers, _lay, _frame, _move, soak_caption, HEIGHT_IN)
