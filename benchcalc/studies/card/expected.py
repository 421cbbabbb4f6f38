"""What is expected of a row, and the meter it is read with."""

import numpy as np

from ...basics.band import Band
from ...basics.tables import rows as table_rows
from ...chain.as_told import is_untold
from ...sheet.load import DEFAULT_METER


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


def reader_of(build, dimension):
    """The meter that the sheet's readings were taken with, as far as it reads this.

    build: Build. dimension: SI suffix, "v", "a" or "ohm".
    Returns its key in data/instruments.csv; the cheap one where the sheet names none.
    """
    reads = {r["key"] for r in table_rows("instruments") if r["quantity"] == dimension}
    named = [k.group.rpartition(" ")[0] for k in build.known.values() if k.group]
    fitting = [name for name in named if name in reads]
    return max(fitting, key=fitting.count) if fitting else DEFAULT_METER
