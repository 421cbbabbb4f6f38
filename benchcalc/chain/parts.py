"""Small tools that every link uses: an unknown value, and plain floats out of numpy scalars."""

from dataclasses import fields, replace

import numpy as np

NAN = float("nan")


def plain(part):
    """The part with every 0-d array or numpy scalar turned into a float or bool.

    part: a frozen dataclass.
    """

    def one(value):
        if isinstance(value, (np.ndarray, np.generic)) and np.ndim(value) == 0:
            return value.item()
        return value

    return replace(part, **{f.name: one(getattr(part, f.name)) for f in fields(part)})
