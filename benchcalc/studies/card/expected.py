"""What is expected of a row."""

import numpy as np

from ...basics.band import Band
from ...chain.as_told import is_untold


def band_at(workings, path):
    """What is expected of an outcome: its band, or the value alone where it has none.

    workings: Workings. path: such as "coil.meter_ohm".
    Returns Band, or None where it is not known, or told by no verdict.
    """
    part, field = path.split(".")
    value = getattr(workings.parts.get(part), field, None)
    if value is None or not np.isfinite(value) or is_untold(workings, part, field):
        return None
    band = workings.bands.get(path)
    good = band is not None and np.isfinite(band.low) and np.isfinite(band.high)
    return Band(value, min(band.low, value), max(band.high, value)) if good else Band(value, value, value)
