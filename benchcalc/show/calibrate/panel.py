"""Slide how much of the readings is used, and watch the band of the hour ahead shrink."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.band import MEDIAN_AND_ENDS
from ...basics.names import said_number, say
from ...sheet.build import Build
from ...studies.calibrate.calibrate import Calibration, calibrate, fewer_readings
from ...studies.calibrate.findings import TARGET_WORDS
from ...studies.calibrate.trial_tool import PLACES
from ...studies.calibrate.trust import distrust
from ..drawing.live_picture import Drawing
from ..panel.panel import Kept, panel
from ..panel.progress_bar import progress_bar
from ..panel.sliders import Slider, Telling
from .figure import BAND, band_caption, shrinking_band

RUNS, STEP_S, FEWEST = 24, 300.0, 3


@dataclass(frozen=True, eq=False)
class Used:
    """The calibrations worked out so far, by how long the readings were used (s), and where the slider stands."""

    done: dict
    at_s: float

    @property
    def found(self):
        """The calibration at the slider, None where it is not worked out."""
        return self.done.get(self.at_s)

    @property
    def nearest_s(self):
        """How long the readings of the calibration were used that is worked out nearest to the slider, s."""
        return min(self.done, key=lambda t: abs(t - self.at_s))


def calibrate_panel(build: Build, probes: tuple, *, run_count: int = RUNS) -> Kept:
    """Calibrate to all the readings, with a bar that shows how far it is; then let the reader use fewer of them.

    build: Build (floats). probes: of Probe. run_count: hours run for the bands.
    Returns a widget box as show.panel.panel, with `.found`, the Calibration to all readings.
    While a new place is worked out, which goes in slices, the lines and the band of the nearest one that is stand pale,
    and say whose they are.
    """
    found = calibrate(build, probes, run_count=run_count, progress=progress_bar("calibrating"))
    last = max(float(p.time_s[-1]) for p in probes)
    done = {last: found}
    whole = shrinking_band(found)
    build = replace(build, at_s=last)

    def work(build):
        return Used(done, build.at_s)

    def slow(build):
        if build.at_s not in done:
            done[build.at_s] = yield from fewer_readings(found, build.at_s)
        return done[build.at_s]

    def numbers(build, used, rest=False):
        return using(shrinking_band(used.done[used.nearest_s]), whole, used)

    first = min(float(p.time_s[min(FEWEST, p.time_s.size - 1)]) for p in probes)
    slider = Slider("at_s", min(max(STEP_S, first), last), last, STEP_S, "readings used up to", "lasted_s")
    box = panel(
        build,
        [slider],
        work,
        Drawing(numbers, BAND.lay, BAND.frame, BAND.move, band_caption, BAND.height_in),
        Telling(says=used_says, verdicts=lambda *_: [], slow=slow, known=lambda build: done.get(build.at_s)),
    )
    box.found = found
    return box


def using(n, whole, used):
    """The numbers of the picture where the slider stands.

    n: ShrinkingBand of the nearest calibration. whole: that of all readings. used: Used.
    Returns ShrinkingBand: all readings, those that are not used told apart.
    """
    logs = []
    for log, every in zip(n.logs, whole.logs):
        early = every.time_s <= used.at_s + 1e-6
        read = {"time_s": every.time_s[early], "read_c": every.read_c[early]}
        logs.append(replace(log, **read, unused_s=every.time_s[~early], unused_c=every.read_c[~early]))
    near_s, by = used.nearest_s, ""
    if used.found is None:
        by = "all of them" if near_s == max(used.done) else f"those of the first {say('lasted_s', near_s)}"
    return replace(n, frame=whole.frame, logs=tuple(logs), by=by)


def used_says(used: Used, build, found: Calibration | None):
    """The settled tool that day: each place with its band.

    used: Used. build: Build, for its units. found: the calibration at the slider, None while it is worked out.
    Returns rows (word, text); a dash where it is not known yet.
    """
    at, way, rows = found or used.done[used.nearest_s], {"degrees": build.degrees}, []
    believed = not distrust(at)
    for i, place in enumerate(PLACES):
        values = at.settled_after_c[:, i]
        if np.isfinite(values).all():
            low, middle, high = (float(x) for x in np.percentile(values, MEDIAN_AND_ENDS))
            rows.append(
                (
                    TARGET_WORDS[place],
                    "–"
                    if found is None
                    else "not believed"
                    if not believed
                    else f"{say('temp_c', middle, **way)} ({said_number('temp_c', low, **way)} to "
                    f"{said_number('temp_c', high, **way)})",
                )
            )
    return rows
