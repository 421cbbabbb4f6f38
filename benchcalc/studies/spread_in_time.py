"""A warm-up with its bands: how hot each place may be at each moment, where on the tube, and when it is ready.

The samples are those behind every band of the chain (chain/workings.py), marched side by side by long steps and on a
coarse mesh (thermal/tool/alike.py); what steps and mesh miss is the nominal tool's own difference, and is taken off
every sample.
"""

from dataclasses import dataclass, fields, is_dataclass, replace
from functools import cache

import numpy as np

from ..basics.band import CENTRAL_PERCENT, Band, band_of
from ..chain.heat.in_time import HOUR_S, Warming, places_in_time, warming
from ..chain.heat.link import nominal_heat
from ..chain.workings import SAMPLES, SEED, chain, drawn_builds
from ..sheet.roles import part_with_role
from ..thermal.network.many_in_time import read_between, step_ends, warm_up_many

FIELDS = ("tip_c", "wire_c", "entry_c", "grip_c", "work_c")
DESIGNS = 64
LONGEST_S = 3 * HOUR_S
ON_TUBE, UNDER_HANDLE = 81, 41  # places along the bare tube, and along what of it lies under the handle


@dataclass(frozen=True, eq=False)
class SpreadInTime:
    """A nominal run and its samples.  samples: field of Warming -> degC (times of the run, designs). settled_samples:
    field -> degC (designs,). settled: field -> degC. bands: field -> Band of the settled tool. tube: id of the tube,
    "" without; tube_m: places on it, from its hottest one to its end (p,), bare_m: where the handle covers it, or its
    end. steps_s: times (t,) of tube_off_c, how far each sample's tube is from the nominal one then (t, designs, p);
    tube_settled_c (p,), tube_settled_samples_c (designs, p). missing: how many samples could not be worked out; they
    are nan, and may be anything. why: of these, or ""."""

    run: Warming
    samples: dict
    settled: dict
    settled_samples: dict
    bands: dict
    tube: str
    tube_m: np.ndarray
    bare_m: float
    steps_s: np.ndarray
    tube_off_c: np.ndarray
    tube_settled_c: np.ndarray
    tube_settled_samples_c: np.ndarray
    missing: int = 0
    why: str = ""

    @property
    def ranged(self):
        """Whether enough samples were worked out for a band of anything."""
        count = self.tube_settled_samples_c.shape[0]
        return self.missing <= (100 - CENTRAL_PERCENT[1]) / 100 * (count - 1)

    @property
    def bare_settled_c(self):
        """The bare tube, settled: degC at its places."""
        return self.tube_settled_c[self.tube_m <= self.bare_m + 1e-9]

    def band_at(self, field, time_s):
        """Band of a place at some time.

        field: one of FIELDS. time_s: s within the run, or inf for the settled tool.
        Returns Band, degC; as it warms its ends close up to the settled tool's own band, which more samples stand
        behind.
        """
        if np.isinf(time_s):
            return self.bands[field]
        nominal = float(np.interp(time_s, self.run.time_s, getattr(self.run, field)))
        found = band_of(nominal, read_between(np.array([time_s]), self.run.time_s, self.samples[field])[0])
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
        return nominal, nominal + read_between(np.array([time_s]), self.steps_s, self.tube_off_c)[0]


def spread_in_time(build, workings, *, designs=DESIGNS, until_s=LONGEST_S):
    """The samples of a tool in time.

    build: Build (floats). workings: Workings of it; its bands are met by the settled end. designs: samples marched, 8
    or more, the first of those behind the bands. until_s: s, above 0.
    Returns SpreadInTime; without bands where too few samples can be worked out.
    Raises Fault where no heat was worked out.
    """
    heat = workings.heat
    run = warming(build, workings.wire, workings.coil, heat, until_s=until_s, points=1 + round(until_s / 10))
    drawn = _first(drawn_builds(build, heat, workings.wire, max(designs, SAMPLES), SEED), designs)
    tube, bare_m = _tube(heat.model, heat.temps_c)
    many, near, time_s = chain(drawn).heat, nominal_heat(heat), step_ends(until_s)
    groups = () if many is None or many.refused else _groups(many)
    own = cache(lambda: warm_up_many(heat.model.net, until_s).temps_c[:, 0])
    marched = [_marched(heat, near, own, one, until_s, tube) for one in groups]
    blank = _read(heat.model, time_s, np.full((time_s.size, heat.temps_c.size), np.nan), heat.excess_k, tube)
    off, ends = (_joined([m[i] for m in marched], blank if i == 0 else _first_of(blank), designs) for i in (0, 1))
    missing = int(np.isnan(ends["wire_c"]).sum())
    settled = {k: v[0] for k, v in _read(heat.model, np.ones(1), heat.temps_c[None], heat.excess_k, tube).items()}
    bands = {k: band_of(float(settled[k]), ends[k]) for k in FIELDS}
    bands = {k: replace(workings.bands.get(f"heat.{k}", own), nominal=own.nominal) for k, own in bands.items()}
    return SpreadInTime(
        run,
        {k: getattr(run, k)[:, None] + read_between(run.time_s, time_s, off[k]) for k in FIELDS},
        {k: float(settled[k]) for k in FIELDS},
        {k: ends[k] for k in FIELDS},
        bands,
        *tube,
        bare_m,
        time_s,
        np.moveaxis(off["tube"], 1, -1),
        settled["tube"],
        ends["tube"].T,
        missing,
        (many.refused if many is not None else "") if missing else "",
    )


def _first_of(read):
    return {k: v[0] for k, v in read.items()}


def _joined(groups, like, designs):
    """Readings of groups of designs behind one another; nan for those that no group holds.

    groups: dicts of (..., designs of it). like: dict of the same without designs. designs: of all.
    """
    found = {}
    for k, value in like.items():
        parts = [g[k] for g in groups]
        short = designs - sum(part.shape[-1] for part in parts)
        found[k] = np.concatenate([*parts, np.full((*value.shape, short), np.nan)], axis=-1)
    return found


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


def _marched(heat, near, own, group, until_s, tube):
    """How far the designs of one group are from the nominal tool in time, and where they settle.

    heat: HeatPart of the nominal. near: Nominal of it. own: function that gives its temperatures by the same steps on
    the fine mesh, degC (times, nodes). group: as of _groups. until_s: s. tube: as _tube.
    Returns two dicts of (times, designs) and (designs,), of the tube with places before the designs.
    """
    model, settled_c, excess_k = group
    seen = near.coarse(model.tool) if model.designs else None
    if seen is None:
        runs = warm_up_many(model.net, until_s, contents=_melting(heat.model, model))
        temps_c = runs.temps_c if model.designs else runs.temps_c[:, 0]
        found, base = (model, temps_c), (heat.model, own())
    else:
        net = seen.like.coarse.net
        runs = warm_up_many(seen.model.net, until_s, contents=net.contents)
        nominal_c = seen.like.on_fine(warm_up_many(net, until_s).temps_c[:, 0])
        found, base = (seen.fine, seen.on_fine(runs.temps_c)), (seen.like.fine, nominal_c)
    ends = _read(model, np.array([1.0]), settled_c[None], excess_k, tube)
    found, base = (_read(m, runs.time_s, t, k, tube) for (m, t), k in ((found, excess_k), (base, heat.excess_k)))
    if not model.designs:
        found, ends = ({k: v[..., None] for k, v in of.items()} for of in (found, ends))
    return {k: found[k] - base[k][..., None] for k in base}, {k: v[0] for k, v in ends.items()}


def _melting(nominal, model):
    """What melts in a nominal tool, by the nodes of another model of the same parts: {node: HeatContent}."""
    by = {t.name: nodes[nodes >= 0] for t, nodes in zip(model.tracks, model.node)}
    return {
        int(by[t.name][np.flatnonzero(nodes[nodes >= 0] == node)[0]]): content
        for node, content in nominal.net.contents.items()
        for t, nodes in zip(nominal.tracks, nominal.node)
        if node in nodes
    }


def _read(model, time_s, temps_c, excess_k, tube):
    """What is told of temperatures (times, [designs,] nodes): the places, and the tube (times, places[, designs])."""
    on = (time_s > 0).reshape(-1, *[1] * (temps_c.ndim - 2))
    found = places_in_time(model, temps_c, np.asarray(excess_k) * on)
    found["tube"] = _on_tube(model, temps_c, tube)
    return found


def _tube(model, settled_c):
    """((id of the tube or "", places from the hottest one of its bare part to its end (p,)), m where it is bare to)."""
    tube = part_with_role(model.tool.pieces, "tube")
    if tube is None:
        return ("", np.zeros(0)), np.nan
    x, t = model.along(tube.id, settled_c)
    handle, last = part_with_role(model.tool.pieces, "handle"), float(tube.to_m)
    end = last if handle is None else float(np.clip(handle.from_m, tube.from_m, last))
    start = float(x[x <= end][np.argmax(t[x <= end])]) if (x <= end).any() else end
    under = np.linspace(end, last, UNDER_HANDLE)[1:] if end < last else np.zeros(0)
    return (tube.id, np.concatenate([np.linspace(start, end, ON_TUBE), under])), end


def _on_tube(model, temps_c, tube):
    id, places = tube
    if not id:
        return np.zeros((*temps_c.shape[:1], 0, *temps_c.shape[1:-1]))
    x, t = model.along(id, temps_c)
    if not model.designs:
        return np.array([np.interp(places, x, row) for row in t])
    return np.array([np.stack([np.interp(places, a, b) for a, b in zip(x, row)], axis=-1) for row in t])


def _ratio(wanted, own):
    return wanted / own if own and np.isfinite(wanted / own) and 0.2 < wanted / own < 5 else 1.0
