"""Small tools that every link uses: an unknown value, and plain floats out of numpy scalars."""

from dataclasses import dataclass, field, fields, replace

import numpy as np

from ..thermal.tool.parts import arrays_in

NAN = float("nan")


@dataclass(frozen=True)
class Keyed:
    """A thing as a key of a cache.

    key: what tells it from others, hashable. thing: itself; it does not count when keys are compared.
    """

    key: object
    thing: object = field(compare=False)


def kept_last(kept, key, work, most):
    """What was worked out for a key, or is now; the few that were asked for first are forgotten.

    kept: dict, changed here. key: hashable. work: function without arguments. most: how many are kept.
    """
    if key not in kept:
        kept[key] = work()
        while len(kept) > most:
            kept.pop(next(iter(kept)))
    return kept[key]


def as_floats(part):
    """The part with every 0-d array or numpy scalar turned into a float or bool.

    part: a frozen dataclass.
    """

    def one(value):
        if isinstance(value, (np.ndarray, np.generic)) and np.ndim(value) == 0:
            return value.item()
        return value

    return replace(part, **{f.name: one(getattr(part, f.name)) for f in fields(part)})


def has_arrays(thing):
    """Whether any field of a build is an array.

    thing: Build or any dataclass or tuple in it.
    """
    return any(True for _ in arrays_in(thing))
