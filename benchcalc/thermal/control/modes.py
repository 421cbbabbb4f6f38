"""A controlled run that keeps up with a slider: the modes of the network stepped in closed form.

The network is straightened at one state, M dy/dt = -S (y - y0) + g, with S symmetric.  Its modes are exponentials,
exact over a piece of any length; those that watched places see most of are kept, the others follow at once.  What the
straight part misses - radiation, curved losses, specific heat that changes, melting - is the force g, looked at afresh
every few seconds: the settled state is then the network's own, not that of a straight line.

Equation: exponential Euler (a first-order exponential integrator), Hochbruck and Ostermann, Exponential integrators,
Acta Numerica 19 (2010) 209, eq. 2.3; modes by the generalised symmetric eigenproblem (LAPACK).
"""

from dataclasses import dataclass

import numpy as np

from ..network.assemble import assembled
from ..network.balance import working
from ..network.warm_up import start_temps
from .held_run import Held
from .law import ON_OFF, State, decide, switches_at
from .seated import SENSOR

MODES = 160
MASSLESS_S = 1e-5  # a node without capacity gets so little that it follows within this time
AGAIN_S, LONGEST_S = 6.0, 60.0  # the curved part is looked at again after this time, later where nothing moves
CALM_K = 1.0  # what no watched place moves by from look to look
LEAST_S = 0.5  # a mode that is quicker than this need not be kept
START_K = 300.0  # how far a start may lie from the state, for the choice of modes
COARSE_S, FINE_S = 5.0, 0.5  # a piece is told at least so often, and in the last seconds of a run
LOOKS = 16  # looks of on-off that are worked out in one go


@dataclass(frozen=True, eq=False)
class Modes:
    """A network straightened at one state: rate_per_s (m,), shape (n, m) of its slow modes, and what steps need.

    base_k: the state, in the solver's order: a temperature, which rises with the solver's own state (own_k there) by
    rise. push (n,): full power into the free nodes. mass: J/K there (n,). rows: weights of the watched places. heat:
    function of (temps, given, out) of the network's own balance. stiff: lower band of S, factor: its Cholesky factor.
    """

    net: object
    banded: object
    base_k: np.ndarray
    own_k: np.ndarray
    rise: np.ndarray
    mass: np.ndarray
    rate_per_s: np.ndarray
    shape: np.ndarray
    push: np.ndarray
    rows: np.ndarray
    heat: object
    stiff: np.ndarray
    factor: np.ndarray


def modes_at(net, at_c, watch, count=MODES):
    """Straighten a network at a state.

    net: Network, one design, with the full power on its nodes. at_c: degC of every node, e.g. the held state.
    watch: {name: (node numbers, weights)} of the places that will be watched. count: modes kept, 1 or more.
    Returns Modes.  A mode counts by what it shows at a watched place, driven by the power or by a start 300 K away.
    """
    from scipy.linalg import cholesky_banded, eigh

    banded = assembled(net, warming=True)
    half, n = banded.half, banded.free.size
    heat, heat_and_stiffness = working(banded)
    out, slopes = np.empty(n), np.empty((2 * half + 1, n))
    temps = np.asarray(at_c, dtype=float)[banded.free]
    heat_and_stiffness(temps, banded.fixed_w, out, slopes)
    stiff = np.zeros((half + 1, n))
    stiff[0] = slopes[half]
    for d in range(1, half + 1):
        stiff[d, : n - d] = (slopes[half + d, : n - d] + slopes[half - d, d:]) / 2
    own, base = banded.holding.states(temps), temps.copy()
    rise = banded.holding.temps_and_rise(own)[1]
    rise = np.ones(n) if rise is None else rise
    melts = [k for k, _ in banded.holding.melts]
    rise[melts], base[melts] = 1.0, own[melts]
    mass = np.where(banded.capacity_j_k > 0, banded.capacity_j_k / rise, MASSLESS_S * stiff[0])
    root = np.sqrt(mass)
    scaled = sum(np.diag(stiff[d, : n - d] / (root[: n - d] * root[d:]), -d) for d in range(half + 1))
    rate, vectors = eigh(scaled, lower=True, driver="evd", overwrite_a=True, check_finite=False)
    shape, push = vectors / root[:, None], net.power_w[banded.free]
    rows = _rows(banded, watch)
    driven = np.maximum(np.abs(push @ shape) / rate, START_K * np.abs(mass @ shape))
    counts = driven * np.abs(rows @ shape).max(axis=0) / (1 + LEAST_S * rate)
    kept = np.sort(np.argsort(-counts)[: min(count, n)])
    return Modes(
        net, banded, base, own, rise, mass, rate[kept], np.ascontiguousarray(shape[:, kept]), push, rows, heat, stiff,
        cholesky_banded(stiff, lower=True),
    )  # fmt: skip


def _rows(banded, watch):
    """What is watched, as weights over the free nodes (watched, n)."""
    place = {int(node): k for k, node in enumerate(banded.free)}
    rows = np.zeros((len(watch), banded.free.size))
    for row, (nodes, weights) in zip(rows, watch.values()):
        for node, weight in zip(nodes, weights):
            row[place[int(node)]] += weight
    return rows


def pulse_over_mean(modes, place, duty, window_s):
    """How far a watched place rises over its mean at the end of each pulse, once the pulses repeat.

    modes: Modes. place: number of the watched place. duty: share of each window that is on, 0 to 1. window_s: s,
    above 0.
    Returns K, at the full power of the modes.
    Equation: each mode is a first-order lag: (1 - exp(-r d w)) / (1 - exp(-r w)) of its end at the pulse's end, d on
    the mean; what is quicker than the modes follows at once.
    """
    from scipy.linalg import cho_solve_banded

    rate, row = modes.rate_per_s, modes.rows[place]
    ends = (row @ modes.shape) * (modes.shape.T @ modes.push) / rate
    top = np.expm1(-rate * duty * window_s) / np.expm1(-rate * window_s)
    all_of_it = float(row @ cho_solve_banded((modes.factor, True), modes.push, check_finite=False))
    return float((ends * (top - duty)).sum() + (all_of_it - ends.sum()) * (1 - duty))


class _Walk:
    """The state of a fast run: what each mode holds, the curved force, and what is watched."""

    def __init__(self, modes, start_c):
        self.m, self.rows, banded = modes, modes.rows, modes.banded
        start = np.asarray(start_temps(modes.net, start_c), dtype=float)[banded.free]
        off = (banded.holding.states(start) - modes.own_k) * modes.rise
        self.held = modes.shape.T @ (modes.mass * off)
        self.push = modes.shape.T @ modes.push
        self.push_fast = self._fast(modes.push)
        self.seen_shape = self.rows @ modes.shape
        self.seen_push = self.rows @ self.push_fast
        self.quiet, self.force = np.zeros(off.size), None
        self.fading = {}
        self.look(0.0, off)

    def _fast(self, force):
        """What the fast modes make of a force at once."""
        from scipy.linalg import cho_solve_banded

        modes = self.m
        slow = modes.shape @ ((modes.shape.T @ force) / modes.rate_per_s)
        return cho_solve_banded((modes.factor, True), force, check_finite=False) - slow

    def look(self, share, off=None):
        """The curved part of the network's balance, at the state now."""
        from scipy.linalg.blas import dsbmv

        modes = self.m
        if off is None:
            off = modes.shape @ self.held + self.quiet + share * self.push_fast
        temps = modes.banded.holding.temps(modes.own_k + off / modes.rise)
        force = np.empty(off.size)
        modes.heat(temps, modes.banded.fixed_w, force)
        force += dsbmv(modes.stiff.shape[0] - 1, 1.0, modes.stiff, off, lower=1)
        self.force, self.quiet = modes.shape.T @ force, self._fast(force)
        bent = self.rows @ (temps - modes.base_k - off)  # what is watched is a temperature
        self.zero = self.rows @ (modes.base_k + self.quiet) + bent
        self.at = self.seen(share)

    def seen(self, share):
        """The watched places now, degC."""
        return self.zero + self.seen_shape @ self.held + share * self.seen_push

    def fade(self, seconds):
        """What is left of each mode after some time, and what a force of one makes of it."""
        found = self.fading.get(seconds)
        if found is None:
            left = np.exp(-self.m.rate_per_s * seconds)
            found = self.fading[seconds] = left, (1 - left) / self.m.rate_per_s
        return found

    def go(self, seconds, share):
        """On by one piece of power."""
        left, grown = self.fade(seconds)
        self.held = left * self.held + grown * (self.force + share * self.push)


def fast_run(modes, law, watch, until_s, *, start_c=None, state=None, fine_s=0.0):
    """A controlled run by modes, to the same law as `exact_run`.

    modes: Modes. law: Law. watch: {name: (node numbers, weights)}, "sensor" among them. until_s: s.
    start_c: degC at the start, None for the room. state: of the law, None for a fresh one. fine_s: the last seconds,
    told at steps of half a second; the run is the same.
    Returns Held.  Within 1 K of exact_run at the held places; a place whose time constant is shorter than a piece
    follows at once.
    """
    walk = _Walk(modes, start_c)
    state = State() if state is None else state
    sensor = list(watch).index(SENSOR)
    now, looked, share, again = 0.0, 0.0, 0.0, AGAIN_S
    time_s, shares, seen = [0.0], [0.0], [walk.at]
    while now < until_s - 1e-9:
        if now - looked > again:
            before, looked = walk.at, now
            walk.look(share)
            calm = np.abs(walk.at - before).max() < CALM_K
            again = min(1.5 * again, LONGEST_S) if calm else AGAIN_S
        state, pieces = decide(law, state, float(seen[-1][sensor]))
        if law.kind == ON_OFF:
            pieces = ((_until_switch(walk, law, state, sensor), pieces[0][1]),)
        for seconds, share in pieces:
            for part in _parts(min(seconds, until_s - now), COARSE_S if now < until_s - fine_s else FINE_S):
                walk.go(part, share)
                now += part
                here = walk.seen(share)
                time_s.append(now)
                shares.append(share)
                seen.append(here)
            if now >= until_s - 1e-9:
                break
    seen = np.array(seen)
    return Held(np.array(time_s), np.array(shares), {name: seen[:, k] for k, name in enumerate(watch)}, state)


def _parts(seconds, most_s):
    """A long piece in equal parts of at most some seconds."""
    count = max(1, int(np.ceil(seconds / most_s - 1e-9)))
    return [seconds / count] * count


def _until_switch(walk, law, state, sensor):
    """Seconds until on-off switches, in whole looks, at most LOOKS of them."""
    reading, way = switches_at(law, state)
    share = law.most if state.on else 0.0
    key = ("looks", law.look_s)
    if key not in walk.fading:
        times = law.look_s * np.arange(1, LOOKS + 1)
        left = np.exp(-np.outer(times, walk.m.rate_per_s))
        walk.fading[key] = left * walk.seen_shape[sensor], (1 - left) / walk.m.rate_per_s * walk.seen_shape[sensor]
    left, grown = walk.fading[key]
    read = (
        walk.zero[sensor] + share * walk.seen_push[sensor] + left @ walk.held + grown @ (walk.force + share * walk.push)
    )
    over = np.flatnonzero(way * (read - reading) >= 0)
    return law.look_s * (int(over[0]) + 1 if over.size else LOOKS)
