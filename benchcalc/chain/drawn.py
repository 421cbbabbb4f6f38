"""The samples behind the bands, kept: which inputs were drawn, what came out, and which input moves which outcome."""

from dataclasses import dataclass, field, fields
from types import MappingProxyType

import numpy as np

from ..basics.fault import closest, fault
from ..sheet.change import get

FEWEST = 40  # samples
MOST_COLUMNS = 0.4  # of the number of samples: with more, curves are left out and straight lines fitted alone
SAID_FROM = 0.005  # a smaller share cannot be told from none


@dataclass(frozen=True, eq=False)
class Samples:
    """What was drawn and what came of it, sample by sample.

    inputs: path of a field -> samples (n,), SI; each is independent of the others but for its group. groups: path ->
    name of the instrument whose error it shares, only for those that share one. logs: paths drawn by their logarithm.
    outcomes: path such as "heat.tip_c" -> samples (n,), SI, nan where a sample has none. margins: (link, what is
    judged) -> margin of the verdict in each sample (n,), SI, below 0 past the limit; only what is judged side by side.
    """

    inputs: MappingProxyType
    groups: MappingProxyType
    logs: frozenset
    outcomes: MappingProxyType
    margins: MappingProxyType = field(default_factory=lambda: MappingProxyType({}))

    @property
    def count(self):
        """Number of samples."""
        return len(next(iter(self.outcomes.values()), ()))


@dataclass(frozen=True)
class InputShare:
    """How much of an outcome's variance comes from one input.

    paths: the input's path, or all paths of one instrument. share: 0 to 1 of the variance. error: of the share, one
    deviation. rises: whether the outcome rises with the input (False: it falls).
    """

    paths: tuple
    share: float
    error: float
    rises: bool


@dataclass(frozen=True)
class Shares:
    """The shares of one outcome's band.  path: of the outcome. inputs: Shares that can be told, the largest first.
    rest: what no input brings alone: inputs that act together, bends, chance."""

    path: str
    inputs: tuple
    rest: float


def drawn_of(drawn_build, drawn_parts, verdicts, samples):
    """Put the samples together.

    drawn_build: Build with its uncertain inputs drawn. drawn_parts: name of a link -> part of it, or None. verdicts:
    (link, Verdict) of them. samples: number.
    Returns Samples.
    """
    inputs = {}
    for path in sorted(drawn_build.known):
        value = get(drawn_build, path)
        if isinstance(value, np.ndarray) and value.shape == (samples,) and np.ptp(value) > 0:
            inputs[path] = value
    groups = {p: drawn_build.known[p].group for p in inputs if drawn_build.known[p].group}
    logs = frozenset(p for p in inputs if drawn_build.known[p].spread == "log")
    outcomes = {}
    for name, part in drawn_parts.items():
        for f in fields(part) if part is not None else ():
            value = getattr(part, f.name)
            if isinstance(value, float | np.ndarray) and np.ndim(value) < 2 and np.asarray(value).dtype.kind == "f":
                outcomes[f"{name}.{f.name}"] = np.broadcast_to(value, (samples,))
    held = (MappingProxyType(held) for held in (inputs, groups))
    return Samples(*held, logs, MappingProxyType(outcomes), MappingProxyType(margins_of(verdicts, samples)))


def margins_of(verdicts, samples):
    """The margin of each verdict in each sample.

    verdicts: (link, Verdict) of the samples. samples: number.
    Returns dict of (link, what is judged) -> array (samples,), SI; nan where it could not be judged.
    """
    margins = {}
    for link, v in verdicts:
        if v.margin is not None and np.ndim(v.margin) < 2:
            margins.setdefault((link, v.what), np.broadcast_to(np.asarray(v.margin, float), (samples,)))
    return margins


def shares_of(drawn, path):
    """Which inputs an outcome's band comes from.

    drawn: Samples. path: of an outcome, such as "heat.tip_c".
    Returns Shares; without inputs where the outcome does not move at all or is known in too few samples.
    Raises Fault: no such outcome, with the closest.
    Equation: first-order shares of variance, Var(E[y | x]) / Var(y), Saltelli, Global Sensitivity Analysis, 2008,
    eq. 1.25 (from memory), by least squares on a line and a parabola in each independent input, which is exact for
    such outcomes (Sudret, Reliability Engineering and System Safety 93 (2008) 964); what chance alone would fit is
    taken off.  An instrument's readings count as one input.
    """
    if path not in drawn.outcomes:
        raise fault("outcome", path, "was not worked out.", closest(path, drawn.outcomes))
    good = np.isfinite(drawn.outcomes[path])
    y = drawn.outcomes[path][good]
    if y.size < FEWEST or np.ptp(y) <= 1e-12 * max(np.abs(y).max(), 1e-300) or not drawn.inputs:
        return Shares(path, (), 0.0)
    blocks = {}
    for name in drawn.inputs:
        blocks.setdefault(drawn.groups.get(name, name), []).append(name)
    place = {p: _place(x[good], p in drawn.logs) for p, x in drawn.inputs.items()}
    bent = 2 * len(place) <= MOST_COLUMNS * y.size
    columns, owner = [], []
    for number, paths in enumerate(blocks.values()):
        for p in paths:
            columns += [place[p]] + ([place[p] ** 2] if bent else [])
            owner += [number] * (1 + bent)
    x, owner = np.column_stack(columns), np.array(owner)
    x -= x.mean(axis=0)
    y = y - y.mean()
    inverse = np.linalg.pinv(x.T @ x, rcond=1e-10, hermitian=True)
    slope = inverse @ (x.T @ y)
    left = y - x @ slope
    noise = float(left @ left) / max(y.size - x.shape[1] - 1, 1)
    whole = float(y @ y) / (y.size - 1)
    found = []
    for number, paths in enumerate(blocks.values()):
        mine = owner == number
        part, inner = x[:, mine], x[:, mine].T @ x[:, mine] / (y.size - 1)
        by_chance = noise * float(np.trace(inner @ inverse[np.ix_(mine, mine)]))
        share = max(float(slope[mine] @ inner @ slope[mine]) - by_chance, 0.0) / whole
        error = 2 * np.sqrt(share * max(1 - share, 0.0) / y.size) + by_chance / whole
        rises = float(part[:, 0] @ (part @ slope[mine])) > 0
        if share > max(SAID_FROM, 2 * by_chance / whole):
            found.append(InputShare(tuple(paths), min(share, 1.0), float(error), rises))
    found.sort(key=lambda s: -s.share)
    return Shares(path, tuple(found), max(1.0 - sum(s.share for s in found), 0.0))


def _place(x, by_log):
    """Where each sample lies between its ends, -1 to 1."""
    x = np.log(x) if by_log else x
    low, high = x.min(), x.max()
    return (2 * x - low - high) / max(high - low, 1e-300)
