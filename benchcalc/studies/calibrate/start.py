"""What a calibration begins with: its tool, its unknowns, which of them the readings can move, and what the sheet alone
says of it.
"""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.fault import fault
from ...basics.names import say
from ...basics.slices import told_as
from ...chain.workings import chain, electrical_bands, has_arrays, settled
from ...sheet.learned import without_learned
from ...thermal.warmup.bounded_fit import PRIOR_DEVIATION
from .many_trials import Middle, middle_of
from .measured_watts import watts_of
from .probe import COLD_K, STARTS_S, part_at
from .sensor_model import ends
from .trial_tool import Trial, each_readings, settled_temps
from .unknowns import AMBIENT, SHARES, unknowns_of

NOTICED_K, MOST_UNKNOWNS = 0.5, 16
SLOPE_STEP = 0.3
RUNS_TOLD, SETTLED_TOLD = "runs against the readings", "bands of the settled tool"


@dataclass(frozen=True, eq=False)
class Start:
    """What is known before the readings have taught anything: the same however many of them are then used.

    trial: with all unknowns and all readings. fitted: numbers of those that the readings could move. middle: the tool
    with all unknowns in the middle of their bands. draws: of all unknowns (draws, k), places in half bands.
    settled_c: (draws, 4), as settled_temps gives them. given_c: metal of the middle tool at each reading. slope: of
    these by the fitted unknowns (readings, fitted). runs: of the tool through time. seed: of the draws.
    """

    trial: Trial
    fitted: tuple
    middle: Middle
    draws: np.ndarray
    settled_c: np.ndarray
    given_c: np.ndarray
    slope: np.ndarray
    runs: int
    seed: int

    def until(self, until_s):
        """The readings up to a time.

        until_s: s from switching on, or inf.
        Returns (Trial with all unknowns and these readings, which of all readings they are (n,)); a sensor without a
        reading by then is left out.
        """
        early = [p.time_s <= until_s + 1e-6 for p in self.trial.probes]
        probes = tuple(
            replace(p, time_s=p.time_s[e], temp_c=p.temp_c[e], own_k=p.own_k[e])
            for p, e in zip(self.trial.probes, early)
            if e.any()
        )
        return replace(self.trial, probes=probes), np.concatenate(early)

    def fitted_of(self, trial):
        """A trial with those unknowns only that the readings could move.  trial: Trial with all of them."""
        return replace(trial, unknowns=tuple(trial.unknowns[i] for i in self.fitted))


def starting(whole, draw_count, seed):
    """What a calibration begins with.

    whole: Trial, of trial_of. draw_count, seed: as calibrate.
    Yields what is done, in words, between slices.  Returns Start.
    """
    kept = noticed(whole)
    trial = replace(whole, unknowns=tuple(whole.unknowns[i] for i in kept))
    given_c, slope = yield from sloped(trial, np.zeros(len(kept)))
    drawn = np.random.default_rng(seed).uniform(-1, 1, (draw_count, len(whole.unknowns)))
    middle = middle_of(whole)
    settled_c = yield from told_as(SETTLED_TOLD, middle.settled(drawn))
    return Start(whole, kept, middle, drawn, settled_c, given_c, slope, 1 + len(kept), seed)


def sloped(trial, places):
    """What the readings would have been, and how they move with each unknown.

    trial: Trial. places: (k,) where.
    Yields RUNS_TOLD after each run.  Returns (degC (readings,), K per half band (readings, k)); all runs on one mesh.
    """
    k, high = len(trial.unknowns), ends(trial)[1]
    steps = np.where(places + SLOPE_STEP <= high[:k], SLOPE_STEP, -SLOPE_STEP)
    found = []
    for read_c in each_readings(trial, np.concatenate([places[None], places + np.diag(steps)])):
        found.append(read_c)
        yield RUNS_TOLD
    return found[0], (np.array(found[1:]) - found[0]).T / steps


def trial_of(build, probes, power_w=None):
    """The tool with all its unknowns and the readings taken on it.

    build, probes, power_w: as calibrate.
    Returns Trial.  Raises Fault as calibrate.
    """
    probes, build = tuple(probes), without_learned(build)
    if has_arrays(build):
        raise fault("calibrating", "", "takes one tool, not many what-ifs side by side.")
    if not probes:
        raise fault("calibrating", "", "needs at least one reading: a log, or a marker with its place and time.")
    _, wire, coil, heat, _ = chain(build)
    if heat is None or heat.model is None:
        raise fault(
            "calibrating",
            "",
            "needs the heat model.",
            heat.refused
            if heat is not None and heat.refused
            else "The sheet has no parts with places along the axis, or no coil on one of them.",
        )
    power_w = watts_of(build, probes) if power_w is None else power_w
    whole = Trial(build, wire, coil, unknowns_of(build, _share(build, coil, power_w)), probes, power_w)
    _refuse_bad(whole, heat)
    return whole


def noticed(trial):
    """Numbers of the unknowns that move the settled tool where it was read, the most telling first.

    trial: Trial.
    Returns tuple: those that move a reading by 0.5 K or more within one deviation of their band, at most 16.
    Power, room and heat stored always count. The others keep their bands.
    """
    at = tuple((p.at_m, p.on) for p in trial.probes)
    effect = np.abs(settled_slope(trial, np.zeros(len(trial.unknowns)), at)[4:]).max(axis=0) * PRIOR_DEVIATION
    order = sorted(range(len(trial.unknowns)), key=lambda i: -effect[i])
    strong = [i for i in order if effect[i] >= NOTICED_K][:MOST_UNKNOWNS]
    return tuple(sorted(set(strong) | {i for i, u in enumerate(trial.unknowns) if u.path in (*SHARES, AMBIENT)}))


def settled_slope(trial, places, at):
    """How the settled tool moves with each unknown.

    trial: Trial. places: (k,) where. at: tuple of (at_m, id of a part or None).
    Returns K per half band (4 + len(at), k): tip, wire, entry, work, then the places.
    """
    k = len(trial.unknowns)
    low, high = np.array([u.ends for u in trial.unknowns]).T
    up, down = np.minimum(places + SLOPE_STEP, high), np.maximum(places - SLOPE_STEP, low)
    designs = np.tile(places, (2 * k, 1))
    designs[np.arange(k), np.arange(k)], designs[k + np.arange(k), np.arange(k)] = up, down
    found = settled_temps(trial, designs, at)
    return ((found[:k] - found[k:]) / (up - down)[:, None]).T


def _share(build, coil, power_w):
    """Ends of the power over the coil's own."""
    if power_w is not None:
        low, high = sorted(float(x) for x in power_w)
        if not 0 < low < high:
            raise fault("power_w", f"{low:g} to {high:g} W", "must be two ends above zero, the lower first.")
    else:
        band = electrical_bands(settled(build)).get("coil.coil_w")
        if band is None or not np.isfinite(band.low) or band.low == band.high:
            return 0.9, 1.1
        half = (band.high - band.low) / 2 / 1.645 * np.sqrt(3.0)  # a uniform input of the same deviation
        middle = (band.low + band.high) / 2
        low, high = max(middle - half, 0.1 * middle), middle + half
    return low / coil.coil_w, high / coil.coil_w


def _refuse_bad(trial, heat):
    known = trial.build.known.get(AMBIENT)
    warmest = trial.build.room.ambient_c if known is None else known.high
    for p in trial.probes:
        part_at(heat.model.tool, p.at_m, p.on, where=p.name)
        if p.time_s.size > 1 and p.time_s[0] < STARTS_S and p.temp_c[0] > warmest + COLD_K:
            raise fault(
                p.name,
                say("temp_c", float(p.temp_c[0]), degrees=trial.build.degrees),
                f"at {p.time_s[0]:.0f} s: this log starts hot.",
                f"The room of the sheet is at most {say('temp_c', float(warmest), degrees=trial.build.degrees)}.",
                "Take a log from switching on, of a tool that has cooled down.",
            )
