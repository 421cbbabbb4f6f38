"""Tables of the warm-up page: the log's report, the fit's report, the answers, the parts list beside it."""

import numpy as np

from ...basics.names import said_number, say
from ...basics.tables import rows as table_rows
from ...chain.log.end import no_end_words
from ...materials.sensors import tolerance
from ...thermal.warmup.forecast import LASTS
from ...thermal.warmup.formulas import SKINS, end_at_power, power_for_temp
from ..page.table import table
from .panel import CANNOT_TELL, log_says, minutes

MOST_REMARKS, MOST_LOOKED_AT = 40, 8
LONG_WORDS = {
    "ends at": "settles at full power, as the probe reads",
    "outer band": "the same, if a slow part hides or a hot skin sheds more",
    "5 K from its end": "within 5 K of its end after",
    "slow constant": "slow time constant",
    "kelvin a watt": "kelvin for each watt",
    "heat capacity": "heat capacity, as the probe sees it",
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


def before_keeping(log, extra=()):
    """What to look at before a log is believed and kept: readings left out, and where it is taken as switched off.

    log: WarmUpLog. extra: more Remarks.
    """
    rows = [(str(r.line) if r.line else "–", r.text) for r in (*log.remarks, *extra) if r.look]
    if len(rows) > MOST_LOOKED_AT:
        rows = [*rows[:MOST_LOOKED_AT], ("–", f"and {len(rows) - MOST_LOOKED_AT} more, in the list below")]
    return table(
        ("line of the file", "look at this before you keep it"),
        rows or [("–", "nothing: no reading was left out, and none falls as if it had been switched off")],
    )


def channels(log, degrees="C", noted_w=None):
    """The log at a glance.

    log: WarmUpLog. degrees: "C" or "F". noted_w: watts that were noted beside it, which count where it has none itself,
    or None.
    Returns Table.
    """
    hours = f"{log.time_s.size} readings over {minutes(log.time_s[-1])}"
    steps = "not in the file" if log.steps is None else ", ".join(f"{w:.1f} W from {minutes(t)}" for t, w in log.steps)
    if log.steps is None and noted_w is not None:
        steps = f"{say('load_w', noted_w)}, noted beside the log"
    return table(
        ("", "log"),
        [
            ("file", log.name),
            ("length", hours),
            ("channel read", f"{log.channel} ({log.kind})"),
            ("other channels", ", ".join(c for c in log.channels if c != log.channel) or "none"),
            ("smallest step of the reading", say("rise_k", log.resolution_k, degrees=degrees)),
            ("power", steps),
        ],
    )


def answers(part, degrees="C"):
    """The answers of a fitted log.  part: LogPart. degrees: "C" or "F".  Returns Table."""
    return table(
        ("", "value (95 % band)"),
        [(LONG_WORDS[word], text) for word, text in log_says(part, degrees)]
        + [("log lasts, in slow time constants", CANNOT_TELL if part.no_end else f"{part.forecast.lasted:.1f}")],
    )


def warnings(part, degrees="C"):
    """What the log cannot tell, and what of it to look at.  part: LogPart. degrees: "C" or "F".  Returns Table."""
    told = [str(r) for r in part.remarks if r.look] + [no_end_words(part, degrees)] * (part.no_end and not part.spoilt)
    told += [w for w in part.forecast.warnings if not (part.no_end and w.startswith(LASTS))]  # in constants not known
    return table(("what this log cannot tell",), [(w,) for w in told] or [("nothing to warn of",)])


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


def powers_for_less(part, ambient_c, wanted=(0.5, 0.75, 0.9), degrees="C"):
    """Power for lower temperatures, in proportion and as a hot skin wants it.

    part: LogPart with a power. ambient_c: degC. wanted: shares of the settled rise. degrees: "C" or "F".
    Returns Table.
    """
    if part.no_end:
        return table(("power",), [(f"Not known. {no_end_words(part, degrees)}",)])
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
            f"half power settles at {said_number('temp_c', half[0], degrees=degrees)} to "
            f"{say('temp_c', half[1], degrees=degrees)}",
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


def meters(temp_c=250.0, room_c=20.0, degrees="C"):
    """Why two meters disagree: what each may read on the same hot metal, from data/.

    temp_c: of the metal, degC. room_c: degC. degrees: "C" or "F".
    Returns Table.
    """
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
