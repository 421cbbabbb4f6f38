"""A controlled run that keeps up with a slider: the modes of the network stepped in closed form.

The network is straightened at one state, M dy/dt = -S (y - y0) + g, with S symmetric.  Its modes are exponentials,
exact over a piece of any length; those that watched places see most of are kept, the others follow at once, and so do
nodes without capacity.  What the
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
LEAST_AGAIN_S, LONGEST_S = 3.0, 60.0  # the curved part is looked at again after this time, at the least and at most
MELTING_S = 20.0  # at most where something melts: its end comes without a sign
MOVED_K = 0.15  # what a look may move at a watched place: after less the next one comes later, after more sooner
LESS, MORE = 0.3, 1.5  # of the time since the last look
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
    temps = np.asarray(at_c, dtype=float)[banded.free]
    slopes = heat_and_stiffness(temps, banded.fixed_w, np.empty(n)).T
    stiff = np.zeros((half + 1, n), order="F")  # as LAPACK reads it
    stiff[0] = slopes[half]
    for d in range(1, half + 1):
        stiff[d, : n - d] = (slopes[half + d, : n - d] + slopes[half - d, d:]) / 2
    own, base = banded.holding.states(temps), temps.copy()
    rise = banded.holding.temps_and_rise(own)[1]
    rise = np.ones(n) if rise is None else rise
    melts = [k for k, _ in banded.holding.melts]
    rise[melts], base[melts] = 1.0, own[melts]
    mass = banded.capacity_j_k / rise
    heavy, light = np.flatnonzero(mass > 0), np.flatnonzero(mass <= 0)
    root, (scaled, follows) = np.sqrt(mass[heavy]), _condensed(stiff, heavy, light)
    scaled /= root[:, None] * root
    rate, vectors = eigh(scaled, lower=True, driver="evd", overwrite_a=True, check_finite=False)
    vectors /= root[:, None]
    push, rows = net.power_w[banded.free], _rows(banded, watch)
    pushed, seen = (np.abs((x[..., heavy] + x[..., light] @ follows) @ vectors) for x in (push, rows))
    driven = np.maximum(pushed / rate, START_K * np.abs(mass[heavy] @ vectors))
    counts = driven * seen.max(axis=0) / (1 + LEAST_S * rate)
    kept = np.sort(np.argsort(-counts)[: min(count, heavy.size)])
    shape = np.empty((n, kept.size), order="F")
    shape[heavy] = vectors[:, kept]
    shape[light] = follows @ shape[heavy]
    factor = np.asfortranarray(cholesky_banded(stiff, lower=True, check_finite=False))
    return Modes(net, banded, base, own, rise, mass, rate[kept], shape, push, rows, heat, stiff, factor)


def _condensed(stiff, heavy, light):
    """A stiffness without the nodes that have no capacity, which follow the others at once.

    stiff: lower band (half + 1, n). heavy, light: numbers of the nodes that stay and that go.
    Returns (stiffness of the heavy ones (h, h), what the light ones make of their temperatures (l, h)).
    Equation: static condensation, here exact: Guyan, AIAA Journal 3 (1965) 380 (from memory).
    """
    from scipy.linalg import cholesky_banded
    from scipy.linalg.lapack import dpbtrs
    from scipy.sparse import csr_array

    n, half = stiff.shape[1], stiff.shape[0] - 1
    row = np.concatenate([np.arange(d, n) for d in range(half + 1)])
    column = np.concatenate([np.arange(n - d) for d in range(half + 1)])
    value = np.concatenate([stiff[d, : n - d] for d in range(half + 1)])
    place, gone = np.empty(n, dtype=int), np.zeros(n, dtype=bool)
    place[heavy], place[light], gone[light] = np.arange(heavy.size), np.arange(light.size), True
    own = ~gone[row] & ~gone[column]
    whole = np.zeros((heavy.size, heavy.size))
    whole[place[row[own]], place[column[own]]] = whole[place[column[own]], place[row[own]]] = value[own]
    if not light.size:
        return whole, np.zeros((0, heavy.size))
    between = np.zeros((light.size, heavy.size), order="F")
    for a, b in ((row, column), (column, row)):
        mixed = gone[a] & ~gone[b]
        between[place[a[mixed]], place[b[mixed]]] = value[mixed]
    band, among = np.zeros((half + 1, light.size)), gone[row] & gone[column]
    band[place[row[among]] - place[column[among]], place[column[among]]] = value[among]
    follows, _ = dpbtrs(cholesky_banded(band, lower=True), -between, lower=1)
    whole += csr_array(between).T @ follows
    return whole, follows


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
    """The state of a fast run: what each mode holds, the curved force, and what was seen so far."""

    def __init__(self, modes, start_c, sensor):
        from scipy.linalg.blas import dsbmv
        from scipy.linalg.lapack import dpbtrs

        self.m, self.rows, self.sensor, banded = modes, modes.rows, sensor, modes.banded
        self.straight, self.solve = dsbmv, dpbtrs
        start = np.asarray(start_temps(modes.net, start_c), dtype=float)[banded.free]
        off = (banded.holding.states(start) - modes.own_k) * modes.rise
        self.held = modes.shape.T @ (modes.mass * off)
        self.push = modes.shape.T @ modes.push
        self.push_fast = self._in_the_end(modes.push) - modes.shape @ (self.push / modes.rate_per_s)
        self.seen_shape, self.seen_push = self.rows @ modes.shape, self.rows @ self.push_fast
        self.sensor_shape, self.sensor_push = self.seen_shape[sensor].copy(), float(self.seen_push[sensor])
        self.longest_s = MELTING_S if banded.holding.melts else LONGEST_S
        self.fading, self.out = {}, np.empty(off.size)
        self.bend(off)
        self.now, self.looked, self.again, self.share = 0.0, 0.0, LEAST_AGAIN_S, 0.0
        self.time_s, self.shares, self.since, self.seen = [0.0], [0.0], [self.held], []

    def _in_the_end(self, force):
        """What the whole network makes of a force."""
        return self.solve(self.m.factor, force, lower=1)[0]

    def bend(self, off):
        """The curved part of the network's balance, this far off the state where it is straight."""
        modes = self.m
        temps = modes.banded.holding.temps(modes.own_k + off / modes.rise)
        modes.heat(temps, modes.banded.fixed_w, self.out)
        self.out += self.straight(modes.stiff.shape[0] - 1, 1.0, modes.stiff, off, lower=1)
        self.force, self.settled = modes.shape.T @ self.out, self._in_the_end(self.out)
        self.slow, self.gone = self.force / modes.rate_per_s, {}
        bent = self.rows @ (temps - off + self.settled)  # what is watched is a temperature
        self.zero = bent - self.seen_shape @ self.slow

    def look(self):
        """The curved part anew; what it grew by since the last look counts as if it had grown evenly."""
        seconds, force, zero = self.now - self.looked, self.force, self.zero
        self.tell()
        self.bend(self.m.shape @ (self.held - self.slow) + self.settled + self.share * self.push_fast)
        more = (self.force - force) * (1 - self.fade(seconds)[1] / seconds) / self.m.rate_per_s
        self.held = self.held + more
        moved_k = max(float(np.abs(self.zero - zero + self.seen_shape @ more).max()), 1e-9)
        again = seconds * min(max((MOVED_K / moved_k) ** 0.5, LESS), MORE)
        self.looked, self.again = self.now, min(max(again, LEAST_AGAIN_S), self.longest_s)

    def reads(self):
        """What the sensor says now, degC."""
        return float(self.zero[self.sensor] + self.sensor_shape @ self.held) + self.share * self.sensor_push

    def fade(self, seconds):
        """What is left of each mode after some time, and what a force of one makes of it."""
        found = self.fading.get(seconds)
        if found is None:
            left = np.exp(-self.m.rate_per_s * seconds)
            found = self.fading[seconds] = left, (1 - left) / self.m.rate_per_s
        return found

    def go(self, seconds, share, most_s):
        """On by one piece of power, told at least every most_s."""
        times = 1 if seconds <= most_s + 1e-9 else int(np.ceil(seconds / most_s - 1e-9))
        left, more = self.gone.get((seconds, share, times)) or self._gone(seconds, share, times)
        for _ in range(times):
            self.held = left * self.held + more
            self.since.append(self.held)
            self.now += seconds / times
            self.time_s.append(self.now)
            self.shares.append(share)
        self.share = share

    def _gone(self, seconds, share, times):
        """What a part of a piece leaves of each mode and adds to it, up to the next look."""
        left, grown = self.fade(seconds / times)
        self.gone[seconds, share, times] = left, grown * (self.force + share * self.push)
        return self.gone[seconds, share, times]

    def tell(self):
        """The watched places at all times since the last look, degC."""
        if self.since:
            shares = np.array(self.shares[-len(self.since) :])
            self.seen.append(self.zero + np.array(self.since) @ self.seen_shape.T + shares[:, None] * self.seen_push)
            self.since = []

    def until_switch(self, law, state):
        """Seconds until on-off switches, in whole looks of its, at most LOOKS of them."""
        reading, way = switches_at(law, state)
        share, key = law.most if state.on else 0.0, ("looks", law.look_s)
        if key not in self.fading:
            left = np.exp(-np.outer(law.look_s * np.arange(1, LOOKS + 1), self.m.rate_per_s))
            self.fading[key] = left * self.sensor_shape, (1 - left) / self.m.rate_per_s * self.sensor_shape
        left, grown = self.fading[key]
        read = self.zero[self.sensor] + share * self.sensor_push
        read = read + left @ self.held + grown @ (self.force + share * self.push)
        over = np.flatnonzero(way * (read - reading) >= 0)
        return law.look_s * (int(over[0]) + 1 if over.size else LOOKS)


def fast_run(modes, law, watch, until_s, *, start_c=None, state=None, fine_s=0.0):
    """A controlled run by modes, to the same law as `exact_run`.

    modes: Modes. law: Law. watch: {name: (node numbers, weights)}, "sensor" among them. until_s: s.
    start_c: degC at the start, None for the room. state: of the law, None for a fresh one. fine_s: the last seconds,
    told at steps of half a second; the run is the same.
    Returns Held.  Within 1 K of exact_run at the held places; a place whose time constant is shorter than a piece
    follows at once.
    """
    walk = _Walk(modes, start_c, list(watch).index(SENSOR))
    state = State() if state is None else state
    while walk.now < until_s - 1e-9:
        if walk.now - walk.looked > walk.again:
            walk.look()
        state, pieces = decide(law, state, walk.reads())
        if law.kind == ON_OFF:
            pieces = ((walk.until_switch(law, state), pieces[0][1]),)
        for seconds, share in pieces:
            left_s = until_s - walk.now
            if left_s < 1e-9:
                break
            walk.go(min(seconds, left_s), share, COARSE_S if left_s > fine_s else FINE_S)
    walk.tell()
    seen = np.concatenate(walk.seen)
    temps = {name: seen[:, k] for k, name in enumerate(watch)}
    return Held(np.array(walk.time_s), np.array(walk.shares), temps, state)
