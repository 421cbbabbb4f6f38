"""Power against length of wire, on this supply: where today's coil stands, and where not to go."""

from dataclasses import dataclass, fields, is_dataclass, replace

import numpy as np
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon, Rectangle

from ..basics.band import CENTRAL_PERCENT
from ..basics.names import display, say, shown
from ..sheet.change import change, sample
from ..sheet.checks import checks
from ..sheet.workings import links
from .letters import Label
from .live import Drawing
from .style import COPPER, FAINT, INK, PLAIN, SKY, coarse_up

HEIGHT_IN = 2.95
POINTS, BAND_POINTS, BAND_SAMPLES = 161, 41, 200
NAN = float("nan")
# verdict -> the name of the zone in which it is over
ZONES = {"surface load of the wire": "surface load past guidance", "length of the winding": "does not fit",
         "gap between turns": "turns too close", "current against the supply's limit": "past the supply's limit"}


@dataclass(frozen=True)
class Zone:
    """A range of lengths to keep out of: name, both ends (m), and the limit that makes it."""

    name: str
    low_m: float
    high_m: float
    limit: float


@dataclass(frozen=True)
class LengthNumbers:
    """What the curve is drawn from (SI): power and current over length, today's point, the zones."""

    units: str
    said: str
    length_m: np.ndarray
    coil_w: np.ndarray
    load_a: np.ndarray
    today: tuple
    wanted_w: float
    wanted_length_m: float
    zones: tuple
    band: tuple | None
    frame: tuple


def over_lengths(build, length_m):
    """The coil at many lengths: one run of the links on an array.

    build: Build. length_m: array of lengths.
    Returns CoilPart holding arrays.
    """
    return links(change(build, "coil.length_m", length_m))[2]


def zones_of(build, result, length_m):
    """Where along the lengths a verdict is over.

    build: Build. result: links(build). length_m: rising array.
    Returns tuple of Zone; ends inside the array are found to 1e-6 of its span, by a second, finer run.
    """
    limits = {v.what: v for _, v in checks(build, *result, {}) if v.what in ZONES and np.isfinite(v.limit)}
    if not limits:
        return ()
    coarse, found = over_lengths(build, length_m), []
    for what, v in limits.items():
        over = _over(coarse, v)
        turns = np.flatnonzero(over[1:] != over[:-1])
        ends = [length_m[0], *(_turn(build, v, length_m[i], length_m[i + 1]) for i in turns), length_m[-1]]
        states = [over[0], *(over[i + 1] for i in turns)]
        found += [Zone(ZONES[what], float(lo), float(hi), v.limit)
                  for lo, hi, bad in zip(ends, ends[1:], states) if bad]
    return tuple(found)


def _over(coil, v):
    if v.what.startswith("current"):
        return np.broadcast_to(np.asarray(coil.limited, bool), np.shape(coil.length_m))
    value = np.broadcast_to(getattr(coil, v.key), np.shape(coil.length_m))
    return value > v.limit if v.sense == "at most" else value < v.limit


def _turn(build, v, low_m, high_m):
    for _ in range(2):
        fine = np.linspace(low_m, high_m, 65)
        over = _over(over_lengths(build, fine), v)
        at = int(np.flatnonzero(over != over[0])[0])
        low_m, high_m = fine[at - 1], fine[at]
    return (low_m + high_m) / 2


def band_over(build, length_m, n=BAND_SAMPLES, seed=1):
    """The central 90 % of the power at each length, from samples of all that is uncertain.

    build: Build. length_m: array (k,). n: number of samples. seed: of the samples.
    Returns (low_w, high_w), arrays (k,).  All n times k cases are one run on one array.
    """
    k = len(length_m)
    many = _repeat(replace(sample(build, n, seed), known=build.known), n, k)
    power = over_lengths(many, np.tile(length_m, n)).coil_w
    return tuple(np.percentile(np.broadcast_to(power, n * k).reshape(n, k), CENTRAL_PERCENT, axis=0))


def _repeat(thing, n, k):
    """Every array (n,) in a build repeated k times, element by element."""
    if isinstance(thing, np.ndarray) and thing.shape == (n,):
        return np.repeat(thing, k)
    if isinstance(thing, tuple):
        return tuple(_repeat(t, n, k) for t in thing)
    if is_dataclass(thing):
        return replace(thing, **{f.name: _repeat(getattr(thing, f.name), n, k)
                                 for f in fields(thing) if f.name != "known"})
    return thing


def length_numbers(build, result, rest=False):
    """The numbers behind the curve of power against length.

    build: Build. result: links(build). rest: True to work out the band too.
    Returns LengthNumbers.
    """
    supply, wire, coil = result
    empty = np.zeros(0)
    nothing = LengthNumbers(build.units, "", empty, empty, empty, (NAN,) * 3, NAN, NAN, (), None, ("nothing",))
    if coil is None or supply is None:
        return replace(nothing, said="No curve: it needs a supply, a wire and a coil on the sheet.")
    if supply.refused:
        return replace(nothing, said="No curve: this supply is refused, so nothing is sized for it.")
    far = max([1.5 * x for x in (wire.length_m,) if np.isfinite(x)] + [1.1 * coil.length_m])
    if not np.isfinite(far) or not np.isfinite(coil.coil_w):
        return replace(nothing, said="No curve: the supply's line or the wire is not known yet.")
    unit, size = display("length_m", units=build.units)
    far = coarse_up(far / size) * size
    length_m = far * np.linspace(0.06, 1, POINTS) ** 1.5
    curve = over_lengths(build, length_m)
    top = coarse_up(1.12 * max(np.max(curve.coil_w), np.nan_to_num(wire.wanted_w), coil.coil_w))
    most_a = coarse_up(1.12 * np.max(curve.load_a))
    band = None
    if rest:
        sparse = far * np.linspace(0.06, 1, BAND_POINTS) ** 1.5
        band = (sparse, *band_over(build, sparse))
        top = max(top, coarse_up(1.02 * np.max(band[2])))
    return LengthNumbers(build.units, "", length_m, curve.coil_w, curve.load_a,
                         (coil.length_m, coil.coil_w, coil.load_a), wire.wanted_w, wire.length_m,
                         zones_of(build, result, length_m), band, ("curve", far, top, most_a, build.units))


def length_caption(n):
    """The picture of the curve in words.  n: LengthNumbers."""
    if n.frame[0] == "nothing":
        return n.said
    way = {"units": n.units}
    text = (f"Power in the coil against length of wire on this supply: today {say('length_m', n.today[0], **way)} gives "
            f"{say('coil_w', n.today[1])} at {say('load_a', n.today[2])}")
    if np.isfinite(n.wanted_length_m):
        text += f"; the wanted {say('wanted_w', n.wanted_w)} needs {say('length_m', n.wanted_length_m, **way)}"
    elif np.isfinite(n.wanted_w):
        text += f"; the wanted {say('wanted_w', n.wanted_w)} is out of this supply's reach"
    text += "."
    for zone in n.zones:
        side = (f"below {say('length_m', zone.high_m, **way)}" if zone.low_m <= n.length_m[0] else
                f"above {say('length_m', zone.low_m, **way)}")
        text += f" {side[0].upper()}{side[1:]}: {zone.name}."
    return text


@dataclass(frozen=True)
class _Artists:
    axes: object
    amps: object
    band: object
    zones: tuple
    lines: dict
    words: dict
    moving: tuple
    labels: tuple


def _lay(figure, place):
    width, height = figure.get_size_inches()
    inner = (place[0] + 0.62, place[1] + 0.5, place[2] - 1.24, place[3] - 0.66)
    axes = figure.add_axes((inner[0] / width, inner[1] / height, inner[2] / width, inner[3] / height))
    amps = axes.twinx()
    amps.grid(False)
    amps.spines["right"].set_visible(True)
    axes.set_ylabel("power in the coil, W")
    amps.set_ylabel("current, A", color=SKY)
    zones = []
    for hatch in ("////", "\\\\\\\\", "xxx", "...."):
        box = Rectangle((0, 0), 0, 0, facecolor="#e9e6dc", edgecolor="#a9a498", lw=0.8, hatch=hatch, alpha=0.75)
        zones.append((box, Label(axes, ha="center", va="top", bold=True)))
    band = Polygon(np.zeros((3, 2)), closed=True, facecolor=COPPER, alpha=0.22, edgecolor="none")
    lines = {"wanted": Line2D([], [], color=INK, lw=1.1, ls=(0, (1, 2))),
             "amps": Line2D([], [], color=SKY, lw=1.6, ls=(0, (6, 3))),
             "curve": Line2D([], [], color=COPPER, lw=2.4),
             "drop": Line2D([], [], color=INK, lw=0.9, ls=(0, (1, 2))),
             "amps_now": Line2D([], [], color=SKY, marker="s", ms=5.5, ls="", mfc="white", mew=1.6),
             "now": Line2D([], [], color=INK, marker="o", ms=9, ls="", mfc=COPPER, mew=1.8)}
    words = {"wanted": Label(axes, ha="right"), "curve": Label(axes, color="#9a4510", bold=True),
             "amps": Label(amps, color=SKY, ha="right"), "now": Label(axes, bold=True, size=PLAIN),
             "note": Label(axes, ha="center", size=PLAIN)}
    for artist in (*[box for box, _ in zones], band, *lines.values()):
        artist.set_animated(True)
        (amps if artist in (lines["amps"], lines["amps_now"]) else axes).add_artist(artist)
    order = [*[box for box, _ in zones], band, *lines.values()]
    return _Artists(axes, amps, band, tuple(zones), lines, words, tuple(order),
                    (*[w for _, w in zones], *words.values()))


def _frame(a, n):
    shows = n.frame[0] == "curve"
    a.axes.set_axis_on() if shows else a.axes.set_axis_off()
    a.amps.set_axis_on() if shows else a.amps.set_axis_off()
    if not shows:
        a.axes.set_xlim(0, 1)
        a.axes.set_ylim(0, 1)
        return
    _, far, top, most_a, units = n.frame
    unit, size = display("length_m", units=units)
    a.axes.set_xlabel(f"length of wire that heats, {unit}")
    a.axes.set_xlim(0, far / size)
    a.axes.set_ylim(0, top)
    a.amps.set_ylim(0, most_a)


def _line(a, name, x, y):
    a.lines[name].set_data(x, y)
    a.lines[name].set_visible(True)


def _move(a, n):
    for artist in a.moving:
        artist.set_visible(False)
    for words in a.labels:
        words.hide()
    if n.frame[0] == "nothing":
        a.words["note"].put(0.5, 0.5, n.said)
        return
    _, far_m, top, most_a, units = n.frame
    far = shown("length_m", far_m, units=units)
    x = shown("length_m", n.length_m, units=units)
    _line(a, "curve", x, n.coil_w)
    _line(a, "amps", x, n.load_a)
    _zones(a, n, far, top)
    if n.band is not None:
        at, low, high = n.band
        at = shown("length_m", at, units=units)
        a.band.set_xy(np.column_stack([np.r_[at, at[::-1]], np.r_[low, high[::-1]]]))
        a.band.set_visible(True)
    now, now_w, now_a = shown("length_m", n.today[0], units=units), n.today[1], n.today[2]
    _line(a, "drop", [now, now, 0], [0, now_w, now_w])
    _line(a, "now", [now], [now_w])
    _line(a, "amps_now", [now], [now_a])
    if np.isfinite(n.wanted_w) and n.wanted_w <= top:
        _line(a, "wanted", [0, far], [n.wanted_w] * 2)
        a.words["wanted"].put(far * 0.995, n.wanted_w, f"wanted {say('wanted_w', n.wanted_w)}")
    _name_lines(a, n, x, far, top, most_a)


def _zones(a, n, far, top):
    for (box, words), zone in zip(a.zones, n.zones):
        low = 0.0 if zone.low_m <= n.length_m[0] else shown("length_m", zone.low_m, units=n.units)
        high = min(far, shown("length_m", zone.high_m, units=n.units))
        box.set_bounds(low, 0, high - low, top)
        box.set_visible(True)
        share = (high - low) / far
        words.put((low + high) / 2, 0.985 * top, zone.name if share > 0.28 or share < 0.14 else
                  zone.name.replace(" ", "\n", 1), upright=share < 0.14)


def _name_lines(a, n, x, far, top, most_a):
    def above(low, high):
        """Height that is free of the curve and its band between two shares of the width."""
        reach = (n.length_m >= low * n.frame[1]) & (n.length_m <= high * n.frame[1])
        heights = [np.max(n.coil_w[reach], initial=0)]
        if n.band is not None:
            heights.append(np.max(np.interp(n.length_m[reach], n.band[0], n.band[2]), initial=0))
        return min(max(heights) + 0.075 * top, 0.86 * top)

    share, units = n.today[0] / n.frame[1], n.units
    right = share < 0.62
    low, high = (share, share + 0.36) if right else (share - 0.36, share)
    y = above(low + 0.02 * right, high)
    if abs(y - n.wanted_w) < 0.06 * top:
        y = n.wanted_w + 0.075 * top
    a.words["now"].put((low + 0.015 if right else high - 0.015) * far, y, f"today: {say('length_m', n.today[0], units=units)}, "
                       f"{say('coil_w', n.today[1])}, {say('load_a', n.today[2])}", ha="left" if right else "right")
    low = 0.14 if share > 0.42 else 0.6
    a.words["curve"].put((low + 0.01) * far, above(low, low + 0.26) - 0.015 * top,
                         "power" if n.band is None else "power, with its likely range")
    at = int(np.searchsorted(x, 0.93 * far))
    over = n.load_a[at] / most_a > n.coil_w[at] / top
    a.words["amps"].put(x[at], n.load_a[at] + (0.065 if over else -0.065) * most_a, "current")


LENGTH = Drawing(length_numbers, _lay, _frame, _move, length_caption, HEIGHT_IN)
