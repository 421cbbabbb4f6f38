"""Slide how much of the readings is used, and watch the band of the hour ahead shrink."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.band import MEDIAN_AND_ENDS
from ...basics.names import said_number, say
from ...sheet.build import Build
from ...studies.calibrate.calibrate import Calibration, calibrate
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
    def nearest(self):
        """The calibration at the slider, or the nearest that is worked out."""
        return self.done[min(self.done, key=lambda t: abs(t - self.at_s))]


def until(probes, at_s):
    """The readings up to a time.

    probes: of Probe. at_s: s from switching on.
    Returns tuple of Probe; a sensor without a reading by then is left out.
    """
    cut = []
    for p in probes:
        early = p.time_s <= at_s + 1e-6
        if early.any():
            cut.append(replace(p, time_s=p.time_s[early], temp_c=p.temp_c[early], own_k=p.own_k[early]))
    return tuple(cut)


def calibrate_panel(build: Build, probes: tuple, *, run_count: int = RUNS) -> Kept:
    """Calibrate to all the readings, with a bar that shows how far it is; then let the reader use fewer of them.

    build: Build (floats). probes: of Probe. run_count: hours run for the bands.
    Returns a widget box as show.panel.panel, with `.found`, the Calibration to all readings.
    """
    found = calibrate(build, probes, run_count=run_count, progress=progress_bar("calibrating"))
    last = max(float(p.time_s[-1]) for p in probes)
    done = {last: found}
    frame = shrinking_band(found).frame
    build = replace(build, at_s=last)

    def work(build):
        return Used(done, build.at_s)

    def slow(build):
        if build.at_s not in done:
            done[build.at_s] = calibrate(build, until(probes, build.at_s), run_count=run_count)
        return done[build.at_s]

    def numbers(build, used, rest=False):
        n = shrinking_band(used.nearest)
        logs = tuple(
            (name, t[t <= used.at_s], read[t <= used.at_s], said[t <= used.at_s]) for name, t, read, said in n.logs
        )
        return replace(n, frame=frame, logs=tuple(log for log in logs if log[1].size))

    first = min(float(p.time_s[min(FEWEST, p.time_s.size - 1)]) for p in probes)
    slider = Slider("at_s", min(max(STEP_S, first), last), last, STEP_S, "readings used up to", "lasted_s")
    box = panel(
        build,
        [slider],
        work,
        Drawing(numbers, BAND.lay, BAND.frame, BAND.move, band_caption, BAND.height_in),
        Telling(says=used_says, verdicts=lambda *_: [], slow=slow),
    )
    box.found = found
    return box


def used_says(used: Used, build, found: Calibration | None):
    """The settled tool that day: each place with its band.

    used: Used. build: Build, for its units. found: the calibration at the slider, None while it moves.
    Returns rows (word, text).
    """
    at, way, rows = found or used.nearest, {"degrees": build.degrees}, []
    believed = not distrust(at)
    for i, place in enumerate(PLACES):
        values = at.settled_after_c[:, i]
        if np.isfinite(values).all():
            low, middle, high = (float(x) for x in np.percentile(values, MEDIAN_AND_ENDS))
            rows.append(
                (
                    TARGET_WORDS[place],
                    "not believed"
                    if not believed
                    else f"{say('temp_c', middle, **way)} ({said_number('temp_c', low, **way)} to "
                    f"{said_number('temp_c', high, **way)})",
                )
            )
    return rows
