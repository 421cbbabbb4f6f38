"""What a calibration says on a page: predictions before and after, each unknown, sentences, what to read next."""

import html

import numpy as np

from ..basics.names import say
from ..sheet.calibrate import Calibration
from ..sheet.tell_apart import TARGET_WORDS, next_readings, told
from ..sheet.trial import PLACES
from .lesson import Words
from .table import table


def target_of(found: Calibration):
    """The place whose band matters most on this tool.

    found: Calibration.
    Returns "entry" where there is a handle, else "work", "tip" or "wire", the first that the tool has.
    """
    return next(p for p in ("entry", "work", "tip", "wire") if np.isfinite(found.settled_after_c[0, PLACES.index(p)]))


def predictions(found: Calibration):
    """Tip, wire, entry and work of the settled tool, before and after the readings.

    found: Calibration.
    Returns Table: the central 90 % of the draws, and how much of the band is left.
    """
    way = _way(found)
    rows = []
    for i, place in enumerate(PLACES):
        before, after = found.settled_before_c[:, i], found.settled_after_c[:, i]
        if np.isfinite(after).all():
            left = np.ptp(np.percentile(after, [5, 95])) / np.ptp(np.percentile(before, [5, 95]))
            rows.append((TARGET_WORDS[place], _ends("temp_c", before, way), _ends("temp_c", after, way), f"{100 * left:.0f} %"))
    return table(("settled, that day", "before the readings", "after", "left of the band"), rows)


def learned_table(found: Calibration):
    """Every unknown that the readings could move: the sheet's band, and what the readings leave of it.

    found: Calibration.
    Returns Table, the best known first. Shares and places stand as they are; lengths and temperatures in the sheet's units.
    """
    way = _way(found)
    ratio = found.narrowed()
    rows = []
    for i in sorted(found.fitted, key=lambda i: ratio[i]):
        u = found.unknowns[i]
        key = u.path.rsplit(".", 1)[-1]
        words = f"{u.words} (place in its table's band)" if key == "conductivity_place" else u.words
        rows.append((words, _ends(key, u.value(np.array([-1.0, 1.0])), way, whole=True), _ends(key, u.value(found.after[:, i]), way),
                     f"{100 * ratio[i]:.0f} %"))
    for j, p in enumerate(found.trial.probes):
        row = p.low_share
        rows.append((f"{p.name}: reads low by this share of the rise", _ends("", np.array([row["low"], row["high"]]), way, whole=True),
                     _ends("", found.low_shares[:, j], way), "–"))
    return table(("unknown", "sheet or table", "after the readings", "left of the band"), rows)


def sentences(found: Calibration):
    """What was learned, in sentences for a page.

    found: Calibration.
    Returns Words.
    """
    return Words("\n".join(f"- {html.escape(s, quote=False)}" for s in told(found, target_of(found))))


def next_table(found: Calibration, count=5):
    """The readings that would narrow the band that matters most.

    found: Calibration. count: rows.
    Returns Table.
    """
    target = target_of(found)
    rows = [(c.words, f"{100 * c.left_of(target):.0f} %", c.teaches) for c in next_readings(found, target)[:count]]
    return table(("take this reading next", f"left of today's band of the {TARGET_WORDS[target]}", "it speaks mostly of"), rows)


def _way(found):
    return {"units": found.trial.build.units, "degrees": found.trial.build.degrees}


def _ends(key, values, way, *, whole=False):
    """Two ends in words: of all values, or of their central 90 %."""
    low, high = (values.min(), values.max()) if whole else np.percentile(values, [5, 95])
    return f"{say(key, float(low), **way)} to {say(key, float(high), **way)}"
