"""The numbers behind the picture of power against length: curve, band, today's point, zones to keep out of."""

from dataclasses import dataclass, fields, is_dataclass, replace

import numpy as np

from ...basics.band import CENTRAL_PERCENT
from ...basics.names import display, say
from ...chain.workings import SAMPLES, SEED, electrical_verdicts, links
from ...sheet.change import change, sample
from ..drawing.style import coarse_up

POINTS, FINE, BAND_POINTS = 161, 65, 41
NAN = float("nan")
# verdict -> the name of the zone in which it is over
ZONES = {
    "surface load of the wire": "surface load past guidance",
    "length of the winding": "does not fit",
    "gap between turns": "turns too close",
    "current that the coil asks for": "past the supply's limit",
}


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
    with np.errstate(invalid="ignore", divide="ignore"):  # a wire too short to be wound has no turns
        return links(change(build, "coil.length_m", length_m))[2]


def zones_of(build, result, length_m, coarse=None):
    """Where along the lengths a verdict is over.

    build: Build. result: links(build). length_m: rising array. coarse: over_lengths(build, length_m)
    if it is there already.
    Returns tuple of Zone.  Ends inside the array come from one finer run and a straight line between
    its points: good to 1e-6 of the span (1e-4 where a supply's limit makes the end).
    """
    limits = [v for _, v in electrical_verdicts(build, *result, {}) if v.what in ZONES and np.isfinite(v.limit)]
    if not limits:
        return ()
    coarse = over_lengths(build, length_m) if coarse is None else coarse
    turns = [(v, i) for v in limits for i in _changes(_past(coarse, v))]
    ends = _ends(build, length_m, turns) if turns else []
    found = []
    for v in limits:
        own = [length_m[0], *(e for (w, _), e in zip(turns, ends) if w is v), length_m[-1]]
        bad = _past(coarse, v)[0] > 0
        for low, high in zip(own, own[1:]):
            found += [Zone(ZONES[v.what], float(low), float(high), v.limit)] if bad else []
            bad = not bad
    return tuple(found)


def _past(coil, v):
    """How far a coil is past a limit: above 0 means over."""
    if v.what.startswith("current"):
        past = np.where(coil.limited, 1.0, -1.0)
    else:
        past = (getattr(coil, v.key) - v.limit) * (1 if v.sense == "at most" else -1) - 1e-9 * abs(v.limit)
    return np.broadcast_to(past, np.shape(coil.length_m))


def _changes(past):
    return np.flatnonzero((past[1:] > 0) != (past[:-1] > 0))


def _ends(build, length_m, turns):
    """The lengths at which verdicts turn over, all from one finer run."""
    fine = np.linspace([length_m[i] for _, i in turns], [length_m[i + 1] for _, i in turns], FINE, axis=1)
    coil, ends = over_lengths(build, fine.ravel()), []
    for k, (v, _) in enumerate(turns):
        past = _past(coil, v)[k * FINE : (k + 1) * FINE]
        i = _changes(past)[0]
        ends.append(fine[k, i] + (fine[k, i + 1] - fine[k, i]) * past[i] / (past[i] - past[i + 1]))
    return ends


def band_over(build, length_m, n=SAMPLES, seed=SEED):
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
        return replace(
            thing, **{f.name: _repeat(getattr(thing, f.name), n, k) for f in fields(thing) if f.name != "known"}
        )
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
    most_a = coarse_up(1.5 * np.max(curve.load_a))  # keeps the two curves apart
    band = None
    if rest:
        sparse = far * np.linspace(0.06, 1, BAND_POINTS) ** 1.5
        band = (sparse, *band_over(build, sparse))
        top = max(top, coarse_up(1.02 * np.max(band[2])))
    return LengthNumbers(
        build.units,
        "",
        length_m,
        curve.coil_w,
        curve.load_a,
        (coil.length_m, coil.coil_w, coil.load_a),
        wire.wanted_w,
        wire.length_m,
        zones_of(build, result, length_m, curve),
        band,
        ("curve", far, top, most_a, build.units),
    )


def today_words(n):
    """What today's coil gets, or that the supply trips on it.  n: LengthNumbers."""
    return f"{say('coil_w', n.today[1])}, {say('load_a', n.today[2])}" if n.today[1] > 0 else "too short: it trips"


def length_caption(n):
    """The picture of the curve in words.  n: LengthNumbers."""
    if n.frame[0] == "nothing":
        return n.said
    way = {"units": n.units}
    text = f"Power against length on this supply: today {say('length_m', n.today[0], **way)}, {today_words(n)}"
    if np.isfinite(n.wanted_length_m):
        text += f"; {say('wanted_w', n.wanted_w)} needs {say('length_m', n.wanted_length_m, **way)}"
    elif np.isfinite(n.wanted_w):
        text += f"; the wanted {say('wanted_w', n.wanted_w)} is out of reach"
    told = []
    for zone in n.zones:
        low, high = zone.low_m > n.length_m[0], zone.high_m < n.length_m[-1]
        ends = [say("length_m", end, **way) for end in (zone.low_m, zone.high_m)]
        where = {
            (False, False): "at every length",
            (True, False): f"above {ends[0]}",
            (False, True): f"below {ends[1]}",
            (True, True): f"from {ends[0]} to {ends[1]}",
        }[low, high]
        told.append(f"{where} {zone.name}")
    return "; ".join([text, *told]) + "."
