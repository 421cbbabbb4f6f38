"""What a sensor says of the metal's temperature: low by a share of the rise, off by what its whole meter is off,
scattered.
"""

import numpy as np

from ...sheet.defaults import default
from ...thermal.warmup.bounded_fit import PRIOR_DEVIATION
from .unknowns import AMBIENT

MOST_LOW = 0.95


def as_read(trial, place, metal_c, steep=None):
    """What the sensors say of the metal's temperatures.

    trial: Trial of the fitted unknowns. place: theirs, then low share and offset of each probe, in half bands.
    metal_c: degC of each reading. steep: slope of metal_c by the fitted unknowns, or None.
    Returns (degC, slope by all of place or None).
    """
    k = len(trial.unknowns)
    paths = [u.path for u in trial.unknowns]
    j = paths.index(AMBIENT) if AMBIENT in paths else None
    ambient = trial.build.room.ambient_c if j is None else float(trial.unknowns[j].value(place[j]))
    said = np.empty_like(metal_c)
    of = None if steep is None else np.zeros((metal_c.size, place.size))
    at = 0
    for i, p in enumerate(trial.probes):
        here = slice(at, at + p.time_s.size)
        at += p.time_s.size
        middle, half = low_share(p)
        low, offset = middle + half * place[k + 2 * i], p.common_k / PRIOR_DEVIATION * place[k + 2 * i + 1]
        rise = metal_c[here] - ambient
        said[here] = metal_c[here] - low * rise + offset
        if of is not None:
            of[here, :k] = (1 - low) * steep[here]
            if j is not None:
                of[here, j] += low * (trial.unknowns[j].high - trial.unknowns[j].low) / 2
            of[here, k + 2 * i], of[here, k + 2 * i + 1] = -half * rise, p.common_k / PRIOR_DEVIATION
    return said, of


def low_share(p):
    """Middle and half width of the share by which a sensor reads low.

    p: Probe.
    Returns (middle, half).
    """
    row = p.low_share
    return (row["low"] + row["high"]) / 2, (row["high"] - row["low"]) / 2


def ends(trial):
    """How far each fitted number may go, in half bands: the unknowns, then low share and offset of each probe.

    trial: Trial of the fitted unknowns.
    Returns (low (n,), high (n,)). A low share is never negative: a sensor does not read the metal too hot.
    """
    both = [u.ends for u in trial.unknowns]
    for p in trial.probes:
        middle, half = low_share(p)
        both += [(max(-2.0, -middle / half), min(3.0, (MOST_LOW - middle) / half)), (-2.0, 2.0)]
    return tuple(np.array(both).T)


def deviation(build, probes, read_c):
    """Deviation of each reading: its own scatter, and what the model may miss there.

    build: Build. probes: tuple of Probe. read_c: degC of all readings, one probe after another.
    Returns K, an array.
    """
    own = np.concatenate([p.own_k for p in probes])
    share = default("calibrate.model_share")["value"]
    return np.sqrt(own**2 + (share * np.maximum(read_c - build.room.ambient_c, 0.0)) ** 2)
