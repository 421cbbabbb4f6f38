"""A warm-up with its bands: how hot each place may be at each moment, where on the tube, and when it is ready.

The samples are those behind every band of the chain (chain/workings.py), marched side by side by long steps; what the
steps themselves miss is the nominal tool's own difference between long and short steps, and is taken off every sample.
"""

from dataclasses import dataclass, fields, is_dataclass, replace

import numpy as np

from ..basics.band import CENTRAL_PERCENT, Band, band_of
from ..basics.fault import fault
from ..chain.heat.in_time import HOUR_S, Warming, places_in_time, time_to, warming
from ..chain.workings import SAMPLES, SEED, chain, drawn_builds
from ..sheet.roles import part_with_role
from ..thermal.network.many_in_time import warm_up_many

FIELDS = ("tip_c", "wire_c", "entry_c", "grip_c", "work_c")
DESIGNS = 64
LONGEST_S = 3 * HOUR_S
ON_TUBE = 81  # places along the tube


@dataclass(frozen=True, eq=False)
class SpreadInTime:
    """A nominal run and its samples.  samples: field of Warming -> degC (times of the run, designs). settled_samples:
    field -> degC (designs,). settled: field -> degC. bands: field -> Band of the settled tool. tube: id of the tube,
    "" without; tube_m: places on its bare part, from the hottest one to the handle (p,). steps_s: times (t,) of
    tube_off_c, how far each sample's tube is from the nominal one then (t, designs, p); tube_settled_c (p,),
    tube_settled_samples_c (designs, p)."""

    run: Warming
    samples: dict
    settled: dict
    settled_samples: dict
    bands: dict
    tube: str
    tube_m: np.ndarray
    steps_s: np.ndarray
    tube_off_c: np.ndarray
    tube_settled_c: np.ndarray
    tube_settled_samples_c: np.ndarray

    def band_at(self, field, time_s):
        """Band of a place at some time.

        field: one of FIELDS. time_s: s within the run, or inf for the settled tool.
        Returns Band, degC; as it warms its ends close up to the settled tool's own band, which more samples stand
        behind.
        """
        if np.isinf(time_s):
            return self.bands[field]
        nominal = float(np.interp(time_s, self.run.time_s, getattr(self.run, field)))
        found = band_of(nominal, _at(self.run.time_s, self.samples[field], time_s))
        own = band_of(self.settled[field], self.settled_samples[field])
        more = self.bands[field]
        risen = self.settled[field] - float(getattr(self.run, field)[0])
        done = float(np.clip((nominal - getattr(self.run, field)[0]) / risen, 0.0, 1.0)) if risen else 1.0
        ends = (
            nominal + (x - nominal) * (1 + done * (_ratio(more_x - more.nominal, own_x - own.nominal) - 1))
            for x, more_x, own_x in ((found.low, more.low, own.low), (found.high, more.high, own.high))
        )
        return Band(nominal, *ends)

    def tube_at(self, time_s):
        """The tube at some time.

        time_s: s within the run, or inf for the settled tool.
        Returns (degC (p,), degC of the samples (designs, p)).
        """
        if np.isinf(time_s):
            return self.tube_settled_c, self.tube_settled_samples_c
        nominal = _on_tube(self.run.model, self.run.run.at(np.array([time_s])), (self.tube, self.tube_m))[0]
        return nominal, nominal + _at(self.steps_s, self.tube_off_c, time_s)


def spread_in_time(build, workings, *, designs=DESIGNS, until_s=LONGEST_S):
    """The samples of a tool in time.

    build: Build (floats). workings: Workings of it; its bands are met by the settled end. designs: samples marched, 8
    or more, the first of those behind the bands. until_s: s, above 0.
    Returns SpreadInTime.
    Raises Fault where no heat was worked out.
    """
    heat = workings.heat
    run = warming(build, workings.wire, workings.coil, heat, until_s=until_s, points=1 + round(until_s / 10))
    drawn = _first(drawn_builds(build, heat, workings.wire, max(designs, SAMPLES), SEED), designs)
    net, model = heat.model.net, heat.model
    coarse = warm_up_many(net, until_s)
    tube = _tube(model, heat.temps_c)
    read = _read(model, coarse.time_s, coarse.temps_c[:, 0], heat.excess_k, tube)
    many = chain(drawn).heat
    if many is None or many.refused:
        raise fault("heat in time", "", "has samples that cannot be worked out.", many.refused if many else "")
    marched = [_marched(*one, until_s, net.contents, tube) for one in _groups(many)]
    moved, ends = ({k: np.concatenate([m[i][k] for m in marched], axis=-1) for k in read} for i in (0, 1))
    off = {k: moved[k] - read[k][..., None] for k in read}
    settled = {k: v[0] for k, v in _read(model, np.ones(1), heat.temps_c[None], heat.excess_k, tube).items()}
    bands = {k: band_of(float(settled[k]), ends[k]) for k in FIELDS}
    bands = {k: replace(workings.bands.get(f"heat.{k}", own), nominal=own.nominal) for k, own in bands.items()}
    return SpreadInTime(
        run,
        {k: getattr(run, k)[:, None] + _between(run.time_s, coarse.time_s, off[k]) for k in FIELDS},
        {k: float(settled[k]) for k in FIELDS},
        {k: ends[k] for k in FIELDS},
        bands,
        *tube,
        coarse.time_s,
        np.moveaxis(off["tube"], 1, -1),
        settled["tube"],
        ends["tube"].T,
    )


def _between(times_s, time_s, values):
    """Values (t, designs) at other times, on straight lines."""
    i = np.clip(np.searchsorted(time_s, times_s) - 1, 0, time_s.size - 2)
    share = ((times_s - time_s[i]) / (time_s[i + 1] - time_s[i]))[:, None]
    return values[i] * (1 - share) + values[i + 1] * share


def _first(thing, n):
    """The first n of every array in a build."""
    if isinstance(thing, np.ndarray):
        return thing[:n] if thing.ndim else thing
    if isinstance(thing, tuple):
        return tuple(_first(t, n) for t in thing)
    if is_dataclass(thing) and not isinstance(thing, type):
        return replace(thing, **{f.name: _first(getattr(thing, f.name), n) for f in fields(thing) if f.name != "known"})
    return thing


def _groups(heat):
    """Designs that share a structure: all of them, or group by group.

    Yields (model, settled temperatures (designs, nodes), excess (designs,)).
    """
    for _, some in heat.groups or ((None, heat),):
        yield some.model, some.temps_c, some.excess_k


def _marched(model, settled_c, excess_k, until_s, contents, tube):
    """Readings in time and settled of one group: two dicts of (times, designs) and (designs,), of the tube with places
    before the designs."""
    runs = warm_up_many(model.net, until_s, contents=contents)
    temps = runs.temps_c if model.designs else runs.temps_c[:, 0]
    found = _read(model, runs.time_s, temps, excess_k, tube)
    ends = _read(model, np.array([1.0]), settled_c[None], excess_k, tube)
    if not model.designs:
        return {k: v[..., None] for k, v in found.items()}, {k: v[0][..., None] for k, v in ends.items()}
    return found, {k: v[0] for k, v in ends.items()}


def _read(model, time_s, temps_c, excess_k, tube):
    """What is told of temperatures (times, [designs,] nodes): the places, and the tube (times, places[, designs])."""
    on = (time_s > 0).reshape(-1, *[1] * (temps_c.ndim - 2))
    found = places_in_time(model, temps_c, np.asarray(excess_k) * on)
    found["tube"] = _on_tube(model, temps_c, tube)
    return found


def _tube(model, settled_c):
    """(id of the tube or "", places on its bare part from its hottest one to the handle (p,))."""
    tube = part_with_role(model.tool.pieces, "tube")
    if tube is None:
        return "", np.zeros(0)
    x, t = model.along(tube.id, settled_c)
    handle = part_with_role(model.tool.pieces, "handle")
    end = float(tube.to_m) if handle is None else min(float(handle.from_m), float(tube.to_m))
    start = float(x[x <= end][np.argmax(t[x <= end])]) if (x <= end).any() else end
    return tube.id, np.linspace(start, end, ON_TUBE)


def _on_tube(model, temps_c, tube):
    id, places = tube
    if not id:
        return np.zeros((*temps_c.shape[:1], 0, *temps_c.shape[1:-1]))
    x, t = model.along(id, temps_c)
    if not model.designs:
        return np.array([np.interp(places, x, row) for row in t])
    return np.array([np.stack([np.interp(places, a, b) for a, b in zip(x, row)], axis=-1) for row in t])


def _at(time_s, values, when_s):
    """Values (t, ...) at a time, on a straight line."""
    i = int(np.clip(np.searchsorted(time_s, when_s) - 1, 0, time_s.size - 2))
    share = (when_s - time_s[i]) / (time_s[i + 1] - time_s[i])
    return values[i] + share * (values[i + 1] - values[i])


def _ratio(wanted, own):
    return wanted / own if own and np.isfinite(wanted / own) and 0.2 < wanted / own < 5 else 1.0


def _middle(values):
    """Low and high of the central part of values that may be infinite."""
    order = np.sort(values)
    low, high = (order[round(p / 100 * (order.size - 1))] for p in CENTRAL_PERCENT)
    return float(low), float(high)


def front_of(spread, temp_c, time_s=np.inf):
    """Where on the bare tube it is as hot as this: how far from its hottest place the warm front has come.

    spread: SpreadInTime. temp_c: degC. time_s: s after switching on, or inf for the settled tool.
    Returns Band of places, m from the tip; nan: nowhere so hot yet, inf: all the way to the handle and beyond.
    Raises Fault: no tube, a time beyond the run.
    """
    if spread.tube_m.size == 0:
        raise fault("place of a temperature", "", "needs a part with the role tube.")
    if not np.isinf(time_s) and not 0 <= time_s <= spread.run.time_s[-1]:
        raise fault("place of a temperature", f"{time_s:g} s", f"lies outside 0 to {spread.run.time_s[-1]:g} s.")
    nominal, many = spread.tube_at(time_s)
    at = _front(spread.tube_m, nominal[None], temp_c)[0]
    low, high = _middle(_front(spread.tube_m, many, temp_c))
    return Band(*(np.nan if x == -np.inf else float(x) for x in (at, min(low, at), max(high, at))))


def _front(places_m, temps_c, temp_c):
    """Last place of each row (n, p) that is as hot; -inf: none, inf: all."""
    warm = temps_c >= temp_c
    last = places_m.size - 1 - np.argmax(warm[:, ::-1], axis=1)
    rows = np.arange(len(temps_c))
    after = np.minimum(last + 1, places_m.size - 1)
    fall = temps_c[rows, last] - temps_c[rows, after]
    share = np.where(fall > 0, (temps_c[rows, last] - temp_c) / np.where(fall > 0, fall, 1.0), 0.0)
    found = places_m[last] + share * (places_m[after] - places_m[last])
    return np.where(~warm.any(axis=1), -np.inf, np.where(last == places_m.size - 1, np.inf, found))


def ready_after(spread, temp_c, field="tip_c"):
    """When a place is as hot as this.

    spread: SpreadInTime. temp_c: degC. field: one of FIELDS.
    Returns (Band of s; inf: not within the run, chance that it ever gets there, 0 to 1).
    """
    nominal, many = getattr(spread.run, field), spread.samples[field]
    settled = spread.settled_samples[field]
    times = np.array([time_to(spread.run.time_s, many[:, i], temp_c) for i in range(many.shape[1])])
    at = time_to(spread.run.time_s, nominal, temp_c)
    low, high = _middle(np.where(np.isnan(times), np.inf, times))
    at = np.inf if np.isnan(at) else at
    return Band(at, min(low, at), max(high, at)), float(np.mean(settled >= temp_c))


def settled_after(spread, field="entry_c", left=0.1):
    """When a place has come within a share of its last rise.

    spread: SpreadInTime. field: one of FIELDS. left: share still missing, above 0 to below 1.
    Returns Band of s; inf: not within the run.
    """

    def when(time_s, values, end):
        found = time_to(time_s, values, values[0] + (1 - left) * (end - values[0]))
        return np.inf if np.isnan(found) else found

    many, ends = spread.samples[field], spread.settled_samples[field]
    at = when(spread.run.time_s, getattr(spread.run, field), spread.settled[field])
    low, high = _middle(np.array([when(spread.run.time_s, many[:, i], ends[i]) for i in range(ends.size)]))
    return Band(at, min(low, at), max(high, at))
