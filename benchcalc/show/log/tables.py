"""Tables of the warm-up page: the log's report, the fit's report, the answers, the parts list beside it."""

import html

import numpy as np

from ...basics.names import said_number, say
from ...basics.tables import rows as table_rows
from ...chain.log.link import listed_parts, seen_capacity
from ...chain.workings import links
from ...sheet.build import Log
from ...thermal.log.reading import log_of_bytes
from ...thermal.warmup.formulas import SKINS, end_at_power, no_loss_time, power_for_temp, time_near_end, time_to_temp
from ..drawing.live_picture import picture
from ..page.table import as_html, table
from .figure import LOG
from .numbers import view_of
from .panel import log_says, minutes

FORM_WORDS = {"one": "one time constant", "one with dead time": "one, after a dead time", "two": "two time constants"}
MOST_REMARKS = 40
LONG_WORDS = {
    "ends at": "settles at full power, as the probe reads",
    "outer band": "the same, if a slow part hides or a hot skin sheds more",
    "5 K from its end": "within 5 K of its end after",
    "slow constant": "slow time constant",
    "kelvin a watt": "kelvin for each watt",
    "heat capacity": "heat capacity, as the probe sees it",
}
PARAMETERS = {
    "start_c": "start",
    "end_c": "end at full power",
    "slow_s": "slow time constant",
    "ratio": "fast over slow",
    "roundness": "roundness of the start (1: as if under a sleeve)",
    "dead_s": "dead time",
}


def report(log, extra=()):
    """What was taken for granted, repaired or left out of a log, line by line.  log: WarmUpLog. extra: more Remarks."""
    told = [*log.remarks, *extra]
    rows = [(str(r.line) if r.line else "–", r.text) for r in told[:MOST_REMARKS]]
    if len(told) > MOST_REMARKS:
        rows.append(("–", f"and {len(told) - MOST_REMARKS} more of this kind; all stand in log.remarks"))
    return table(
        ("line of the file", "what was noticed or done"), rows or [("–", "nothing: every line was read as it stands")]
    )


def channels(log):
    """The log at a glance.  log: WarmUpLog.  Returns Table."""
    hours = f"{log.time_s.size} readings over {minutes(log.time_s[-1])}"
    steps = "not in the file" if log.steps is None else ", ".join(f"{w:.1f} W from {minutes(t)}" for t, w in log.steps)
    return table(
        ("", "log"),
        [
            ("file", log.name),
            ("length", hours),
            ("channel read", f"{log.channel} ({log.kind})"),
            ("other channels", ", ".join(c for c in log.channels if c != log.channel) or "none"),
            ("smallest step of the reading", say("rise_k", log.resolution_k)),
            ("power", steps),
        ],
    )


def answers(part, degrees="C"):
    """The answers of a fitted log.  part: LogPart. degrees: "C" or "F".  Returns Table."""
    return table(
        ("", "value (95 % band)"),
        [(LONG_WORDS[word], text) for word, text in log_says(part, degrees)]
        + [("log lasts, in slow time constants", f"{part.forecast.lasted:.1f}")],
    )


def warnings(part):
    """What the log cannot tell.  part: LogPart.  Returns Table."""
    return table(("what this log cannot tell",), [(w,) for w in part.forecast.warnings] or [("nothing to warn of",)])


def forms(part):
    """The forms side by side: what each leaves over.  part: LogPart.  Returns Table."""
    best = min(f.score for f in part.forecast.fits)
    rows = [
        (
            FORM_WORDS[f.form] + (" (chosen)" if f is part.forecast.best else ""),
            say("end_c", f.shape.end_c),
            say("rise_k", f.rms_k),
            f"{f.follow:.2f}",
            f"{f.score - best:.0f}",
        )
        for f in part.forecast.fits
    ]
    return table(("form", "end", "residual, RMS", "neighbours go together", "worse by"), rows)


def fit_report(part):
    """The fit's own report: start values, bounds, errors, what ended at a bound or never moved.  part: LogPart."""
    fit, rows = part.forecast.best, []
    for name, first, value, error, low, high in zip(fit.names, fit.first, fit.value, fit.error, fit.low, fit.high):
        state = "at a bound" if name in fit.at_bound else "never moved" if name in fit.never_moved else "free"
        rows.append(
            (
                PARAMETERS[name],
                *(_told(name, x) for x in (first, value)),
                _told(name, error, True),
                f"{_told(name, low)} to {_told(name, high)}",
                state,
            )
        )
    return table(("", "began at", "found", "one sigma", "bounds", "state"), rows)


def _told(name, value, difference=False):
    if name.endswith("_s"):
        return f"{value:.4g} s"
    if name.endswith("_c"):
        return f"{value:.3g} K" if difference else f"{value:.4g} degC"
    return f"{value:.3g}"


def correlations(part):
    """The strongest correlations of the fit.  part: LogPart.  Returns Table."""
    fit = part.forecast.best
    pairs = [(abs(fit.correlation[i, j]), i, j) for i in range(len(fit.names)) for j in range(i)]
    rows = [
        (f"{PARAMETERS[fit.names[i]]} with {PARAMETERS[fit.names[j]]}", f"{fit.correlation[i, j]:+.2f}")
        for _, i, j in sorted(pairs, reverse=True)[:4]
    ]
    return table(("goes together", "correlation"), rows)


def lengths(build, view_at, shares=(0.15, 1 / 3, 0.6, 1.0)):
    """The forecast from ever more of the log.

    build: Build. view_at(seconds) -> LogPart or None. shares: of the whole log.
    Returns Table.
    """
    rows = []
    for share in shares:
        part = view_at(share)
        if part is None:
            rows.append((f"first {share:.0%}", "–", "–", "–"))
            continue
        rows.append(
            (
                f"first {share:.0%}, {minutes(part.lasted_s)}",
                log_says(part, build.degrees)[0][1],
                log_says(part, build.degrees)[1][1],
                f"{len(part.forecast.warnings)}",
            )
        )
    return table(("of the log", "ends at", "outer band", "warnings"), rows)


def powers(part, ambient_c, wanted=(0.5, 0.75, 0.9), degrees="C"):
    """Power for lower temperatures, in proportion and as a hot skin wants it.

    part: LogPart with a power. ambient_c: degC. wanted: shares of the settled rise. degrees: "C" or "F".
    Returns Table.
    """
    if not np.isfinite(part.load_w):
        return table(
            ("power",),
            [("The power of this log is not known: give it a column, or a supply and a coil to the sheet.",)],
        )
    rows = []
    for share in wanted:
        at = ambient_c + share * (part.end_c - ambient_c)
        low, high = sorted(float(power_for_temp(part.load_w, part.end_c, ambient_c, at, *skin)) for skin in SKINS)
        rows.append(
            (
                say("temp_c", at, degrees=degrees),
                say("load_w", share * part.load_w),
                f"{said_number('load_w', low)} to {say('load_w', high)}",
            )
        )
    half = sorted(end_at_power(part.load_w, part.end_c, ambient_c, part.load_w / 2, *skin) for skin in SKINS)
    rows.append(
        (
            f"half power settles at {said_number('temp_c', half[0], degrees=degrees)} to {say('temp_c', half[1], degrees=degrees)}",
            "–",
            say("load_w", part.load_w / 2),
        )
    )
    if part.forecast.exponent < 1:
        measured = part.forecast.shape.start_c + part.forecast.shape.rise_k * 0.5**part.forecast.exponent
        rows.append(
            (
                f"by this log's own steps: {say('temp_c', measured, degrees=degrees)}",
                "–",
                say("load_w", part.load_w / 2),
            )
        )
    return table(("wanted, at the probe", "in proportion", "power wanted"), rows)


def slow_or_not(build, workings, part=None):
    """The parts list as a store of heat: what each part takes, and the shortest time, nothing lost.

    build: Build. workings: Workings. part: LogPart to set beside it, or None.
    Returns Table.
    """
    parts, watts = listed_parts(build, workings.heat), workings.coil.coil_w if workings.coil is not None else np.nan
    if not parts:
        return table(("parts list",), [("This sheet has no parts with lengths and diameters yet.",)])
    room, rows, total = build.room.ambient_c, [], 0.0
    for p in parts:
        heat_j = p.capacity_j_k * (p.mean_c - room)
        total += heat_j
        rows.append(
            (
                p.id,
                say("mass_kg", p.mass_kg) if np.isfinite(p.mass_kg) else "–",
                say("capacity_j_k", p.capacity_j_k),
                say("temp_c", p.mean_c, degrees=build.degrees),
                f"{heat_j / 1000:.2f} kJ",
                minutes(no_loss_time(p.capacity_j_k, p.mean_c - room, watts)),
            )
        )
    rows.append(("all of it", "", "", "", f"{total / 1000:.2f} kJ", minutes(total / watts)))
    if part is not None:
        near = 0.63 * (part.end_c - part.forecast.shape.start_c) + part.forecast.shape.start_c
        rows.append(
            (
                "measured: 63 % of the rise after",
                "",
                "",
                say("temp_c", near, degrees=build.degrees),
                "",
                minutes(time_to_temp(part.forecast.shape, near)),
            )
        )
        rows.append(
            ("measured: within 5 K of the end after", "", "", "", "", minutes(time_near_end(part.forecast.shape)))
        )
    return table(
        ("part", "mass", "heat capacity", "settles at (mean)", "heat it takes", "at full power, nothing lost"), rows
    )


def capacity_beside(build, workings, part, place_c):
    """Fitted against listed heat capacity.

    build: Build. workings: Workings. part: LogPart. place_c: settled temperature at the probe's place by the model, degC.
    Returns (Table, ratio of fitted to listed; nan where one is missing).
    """
    parts = listed_parts(build, workings.heat)
    listed = seen_capacity(parts, place_c, build.room.ambient_c) if parts and np.isfinite(place_c) else np.nan
    ratio = part.capacity_j_k / listed
    meant = (
        "not known"
        if not np.isfinite(ratio)
        else "they agree: metal and watts are what the sheet says"
        if 0.75 <= ratio <= 1.33
        else "more heat goes in than the list holds: metal left out, watts lower than believed, or a probe that reads low"
        if ratio > 1.33
        else "less than listed: watts higher than believed, or a part that never gets warm is counted"
    )
    return table(
        ("heat capacity as a probe sees it", ""),
        [
            ("fitted to the log", say("capacity_j_k", part.capacity_j_k)),
            ("from the parts list", say("capacity_j_k", listed)),
            ("fitted over listed", f"{ratio:.2f}" if np.isfinite(ratio) else "–"),
            ("what it means", meant),
        ],
    ), ratio


def meters(temp_c=250.0, room_c=20.0, degrees="C"):
    """Why two meters disagree: what each may read on the same hot metal, from data/.

    temp_c: of the metal, degC. room_c: degC. degrees: "C" or "F".
    Returns Table.
    """
    from ...materials.sensors import tolerance

    way, rows = {"degrees": degrees}, []
    for words, sensor, grade in (
        ("type K, class 1", "type K", 1),
        ("type K, class 2 or unmarked", "type K", 2),
        ("Pt100, class B", "Pt100", "B"),
    ):
        half = tolerance(sensor, grade, temp_c).half_k
        rows.append(
            (
                f"{words}, itself",
                f"{said_number('temp_c', temp_c - half, **way)} to {say('temp_c', temp_c + half, **way)}",
            )
        )
    for r in table_rows("defaults"):
        if r["key"].startswith("sensor.low_share/"):
            ends = [temp_c - share * (temp_c - room_c) for share in (r["high"], r["low"])]
            rows.append(
                (
                    f"attached as {r['key'].split('/')[1]}",
                    f"{said_number('temp_c', ends[0], **way)} to {say('temp_c', ends[1], **way)}",
                )
            )
    return table((f"metal at {say('temp_c', temp_c, **way)}", "reads"), rows)


def told_of(build, name, data, *, channel=None, time=None, kind=None, attached=None, **how):
    """What a dropped log says, as HTML: the log, its report, the picture, the answers.

    build: Build. name, data: of the file. channel, time, kind: as log_of_text. attached: how the probe sits, or None.
    how: as work_log.
    Returns (WarmUpLog, HTML).  Raises Fault: what reading or fitting complains of.
    """
    import base64

    log = log_of_bytes(data, name, channel=channel, time=time, kind=kind)
    view = view_of(build, links(build)[2] if build.wire else None, log, Log(file=name, attached=attached), **how)
    seen = picture(LOG, build, view)
    image = (
        f'<img alt="{html.escape(seen.caption, quote=True)}" style="width:100%" src="data:image/png;base64,'
        f'{base64.b64encode(seen.png).decode()}">'
    )
    below = (
        as_html(answers(view.part, build.degrees)) + as_html(warnings(view.part))
        if view.part
        else html.escape(view.said)
    )
    return log, f"{as_html(channels(log))}{image}{below}{as_html(report(log))}"
