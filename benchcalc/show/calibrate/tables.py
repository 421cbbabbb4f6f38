"""What a calibration says on a page: predictions before and after, each unknown, sentences, what to read next."""

import numpy as np

from ...basics.band import CENTRAL_PERCENT
from ...basics.escape import plain_text
from ...basics.names import display, said_number, say
from ...chain.workings import Workings
from ...sheet.build import Build
from ...sheet.change import get
from ...sheet.learned import of_that_day, without_learned
from ...sheet.teachable import MAINS
from ...studies.calibrate.calibrate import Calibration
from ...studies.calibrate.findings import TARGET_WORDS, next_readings, told
from ...studies.calibrate.trial_tool import PLACES, settled_temps
from ...studies.calibrate.trust import distrust
from ...studies.calibrate.unknowns import POWER, STORED
from ..page import shared_tables
from ..page.lesson import Words
from ..page.table import captioned, table

TIMES_TABLE = ("contact_scale", "conductivity_scale", "convection", "rear_convection", "wood_along_grain")


def target_of(found: Calibration):
    """The place whose band matters most on this tool.

    found: Calibration.
    Returns "entry" where there is a handle, else "work", "tip" or "wire", the first that the tool has.
    """
    return next(p for p in ("entry", "work", "tip", "wire") if np.isfinite(found.settled_after_c[0, PLACES.index(p)]))


def readings_table(build, probes):
    """The sensors that a calibration is to believe.

    build: Build, for its units. probes: of Probe.
    Returns Table.
    """
    way = {"units": build.units, "degrees": build.degrees}
    rows = [
        (p.name, say("at_m", p.at_m, **way), p.attached, p.time_s.size, say("temp_c", float(p.temp_c.max()), **way))
        for p in probes
    ]
    return table(("sensor", "place", "attached", "readings", "hottest"), rows)


INVENTED = "From invented readings, for practice: not of your tool."


def predictions(found: Calibration, hidden=None):
    """Tip, wire, entry and work of the settled tool, before and after the readings.

    found: Calibration. hidden: as lid; None for readings of one's own.
    Returns Table: the central 90 % of the draws, and how much of the band is left.
    """
    way = _way(found)
    rows = []
    if why := distrust(found):
        return table(("nothing is taken over",), [(why,)])
    for i, place in enumerate(PLACES):
        before, after = found.settled_before_c[:, i], found.settled_after_c[:, i]
        if np.isfinite(after).all():
            left = np.ptp(np.percentile(after, CENTRAL_PERCENT)) / np.ptp(np.percentile(before, CENTRAL_PERCENT))
            rows.append(
                (TARGET_WORDS[place], _ends("temp_c", before, way), _ends("temp_c", after, way), f"{100 * left:.0f} %")
            )
    return captioned(
        _whose(hidden), table(("settled, that day", "before the readings", "after", "left of the band"), rows)
    )


def _whose(hidden):
    return "" if hidden is None else INVENTED


def put_back(build: Build, better: Build, found: Calibration, hidden, workings: Workings):
    """The tool with what was learned back on its sheet: its numbers, or why nothing was put back.

    build: Build of the sheet. better: with what was learned, as calibrated gives it. found: Calibration. hidden: as
    lid. workings: Workings of better.
    Returns Table.
    """
    paths = ("heat.tip_c", "heat.wire_c", "heat.entry_c", "heat.work_c")
    why = f"Nothing was put back: {distrust(found)}. These are the sheet's own numbers." if better is build else ""
    return captioned(why or _whose(hidden), shared_tables.numbers(better, workings, *paths))


def learned_table(found: Calibration, hidden=None):
    """Every unknown that the readings could move: the sheet's band, and what the readings leave of it.

    found: Calibration. hidden: as lid; None for readings of one's own.
    Returns Table, the best known first. "x table": a share of the value that the tables give; "of its band": -1 to 1
    is the
    band of the table.
    """
    way = _way(found)
    ratio = found.narrowed()
    rows = []
    for i in sorted(found.fitted, key=lambda i: ratio[i]):
        u = found.unknowns[i]
        key, size, of = u.path.rsplit(".", 1)[-1], 1.0, ""
        if u.path == POWER:
            key, size = "coil_w", found.trial.coil.coil_w
        elif u.path == STORED or key in TIMES_TABLE:
            of = " x table"
        elif key == "conductivity_place":
            of = " of its band"
        ends = (
            _ends(key, size * u.value(np.array([-1.0, 1.0])), way, whole=True),
            _ends(key, size * u.value(found.after[:, i]), way),
        )
        rows.append((u.words, ends[0] + of, ends[1] + of, f"{100 * ratio[i]:.0f} %"))
    for j, p in enumerate(found.trial.probes):
        row = p.low_share
        rows.append(
            (
                f"{p.name}: reads low by this share of the rise",
                _ends("", np.array([row["low"], row["high"]]), way, whole=True),
                _ends("", found.low_shares[:, j], way),
                "–",
            )
        )
    whose = "Nothing of this is taken over: the sentences above say why." if distrust(found) else _whose(hidden)
    return captioned(whose, table(("unknown", "sheet or table", "after the readings", "left of the band"), rows))


def lid(found: Calibration, hidden):
    """Where invented logs were made: the hidden truth beside what was found.

    found: Calibration. hidden: places of all unknowns in their bands, as practice_probes gives them.
    Returns Table.
    """
    if hidden is None:
        return Words(
            "*Your own readings: nobody knows the truth behind them. Only another day, with another probe, can "
            "say more.*"
        )
    way = _way(found)
    truth = settled_temps(found.trial, hidden[None])[0]
    rows = [
        (TARGET_WORDS[p], say("temp_c", float(truth[i]), **way), _ends("temp_c", found.settled_after_c[:, i], way))
        for i, p in enumerate(PLACES)
        if np.isfinite(truth[i])
    ]
    return table(("settled", "hidden truth", "after the readings"), rows)


def sentences(found: Calibration):
    """What was learned, in sentences for a page.

    found: Calibration.
    Returns Words.
    """
    return Words("\n".join(f"- {plain_text(s)}" for s in told(found, target_of(found))))


def next_table(found: Calibration, hidden=None, count=5):
    """The readings that would narrow the band that matters most.

    found: Calibration. hidden: as lid; None for readings of one's own. count: rows.
    Returns Table.
    """
    if why := distrust(found):
        return table(("take this reading next",), [(why,)])
    target = target_of(found)
    rows = [(c.words, f"{100 * c.left_of(target):.0f} %", c.teaches) for c in next_readings(found, target)[:count]]
    return captioned(
        _whose(hidden),
        table(
            ("take this reading next", f"left of today's band of the {TARGET_WORDS[target]}", "it speaks mostly of"),
            rows,
        ),
    )


def that_day(build: Build):
    """The day of the readings apart from the tool: its mains and its room, beside what the sheet reckons with.

    build: Build with what was learned.
    Returns Table.
    """
    own, day = without_learned(build), of_that_day(build)
    rows = [
        (e.input, _known(day, e.path), _known(own, e.path), "goes back to the sheet's own")
        for e in day.learned
        if e.path and e.that_day
    ]
    return table(("of the day", "by the readings", "the sheet reckons with", "so it"), rows or [("nothing", *"–––")])


def _known(build, path):
    """A value with its ends, in the units of the sheet."""
    key, way, known = path.rsplit(".", 1)[-1], {"units": build.units, "degrees": build.degrees}, build.known.get(path)
    value = float(get(build, path))
    said = f"{value:.1%}" if path == MAINS else say(key, value, **way)
    if known is None:
        return said
    low, high = (f"{x:.1%}" if path == MAINS else said_number(key, x, **way) for x in (known.low, known.high))
    return f"{said} ({low} to {high})"


def _way(found):
    return {"units": found.trial.build.units, "degrees": found.trial.build.degrees}


def _ends(key, values, way, *, whole=False):
    """Two ends in words: of all values, or of their central 90 %."""
    low, high = (values.min(), values.max()) if whole else np.percentile(values, CENTRAL_PERCENT)
    unit, _ = display(key, **way)
    return f"{said_number(key, float(low), **way)} to {said_number(key, float(high), **way)} {unit}".strip()
