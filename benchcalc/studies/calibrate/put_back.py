"""A calibrated tool put back on the sheet's road: the build with what its readings taught, and the lines for it."""

from dataclasses import replace

import numpy as np

from ...sheet.build import Build
from ...sheet.build_learned import Learned
from ...sheet.learned import of_that_day, with_learned, without_learned
from ...sheet.teachable import MAINS, name_of, said_of
from ...sheet.teachable import STORED as STORED_SCALE
from ...thermal.warmup.bounded_fit import PRIOR_DEVIATION
from .calibrate import Calibration
from .trust import distrust
from .unknowns import POWER, STORED

FIELD_OF = {POWER: MAINS, STORED: STORED_SCALE}
DIGITS = 3  # of how two go with each other


def learned_entries(build: Build, found: Calibration) -> tuple:
    """What the readings taught, as a sheet keeps it: every input that they could move, in one set.

    build: Build that was calibrated. found: Calibration.
    Returns tuple of Learned; empty where the model cannot follow the readings, or only with values past what the sheet
    allows: then they teach nothing to be kept.
    Its ends are those of a uniform input with the middle and the deviation of the draws; how the inputs go with each
    other is kept too, so that what two of them share and neither tells alone is not lost.  The day's watts are kept as
    its mains, the square root of their share, apart from the tool's own.
    """
    if distrust(found):
        return ()
    bare, log = without_learned(build), "; ".join(p.name for p in found.trial.probes)
    kept = [i for i in found.fitted if name_of(bare, _field(found.unknowns[i]))]
    with np.errstate(invalid="ignore"):
        goes = np.nan_to_num(np.atleast_2d(np.corrcoef(found.after[:, kept], rowvar=False)))
    entries = []
    for row, i in enumerate(kept):
        unknown, drawn = found.unknowns[i], found.after[:, i]
        middle, spread = np.median(drawn), max(drawn.std(), 1e-3) / PRIOR_DEVIATION
        ends = [float(unknown.value(np.clip(middle + s * spread, *unknown.ends))) for s in (-1, 0, 1)]
        path = _field(unknown)
        if path == MAINS:
            ends = [float(np.sqrt(share)) * bare.supply.mains for share in ends]
        entries.append(
            Learned(
                name_of(bare, path),
                log,
                said_of(bare, path),
                ends[1],
                ends[0],
                ends[2],
                not unknown.lasting,
                " ".join(f"{x:.{DIGITS}f}" for x in goes[row, :row]) or None,
            )
        )
    return tuple(entries)


def _field(unknown):
    return FIELD_OF.get(unknown.path, unknown.path)


def calibrated(build: Build, found: Calibration, *, that_day: bool = False) -> Build:
    """The build with what the readings taught put in, its bands narrowed, what was learned before left out.

    build: Build that was calibrated. found: Calibration. that_day: True to keep the day's power (as its mains voltage)
    and room too.
    Returns Build, as its sheet is where the calibration may not be believed.
    """
    entries = learned_entries(build, found)
    if not entries:
        return build
    learned = replace(without_learned(build), learned=entries)
    return of_that_day(learned) if that_day else with_learned(learned)
