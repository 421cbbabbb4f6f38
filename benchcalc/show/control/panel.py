"""The panel of the control page: law, set point and switching moved, the tool and its wire watched."""

from collections import deque
from dataclasses import replace

import numpy as np

from ...basics.escape import plain_text
from ...basics.fault import Fault
from ...basics.names import say
from ...chain.control.in_use import HELD
from ...chain.control.link import held_calmly, set_point, work_control
from ...chain.control.verdicts import control_checks
from ...chain.metals.verdicts import service_checks
from ...chain.verdict import unknown
from ...chain.workings import Workings, chain
from ...sheet.build import Build, Control
from ...sheet.build_control import FIXED, switch_of
from ...sheet.defaults import fill
from ...sheet.key import ASSUMED
from ...studies.held_elsewhere import for_wanted, set_elsewhere, with_own_lag
from ...studies.holding import HeldTool, failing_too, holding
from ...studies.settings import with_settings
from ...studies.stopping import own_doubt
from ...studies.tuned import tool_parts, tuning_of
from ...studies.tunings import SMOOTH
from ...thermal.control.law import ON_OFF
from ..page.lesson import Words
from ..panel.from_sheet import FromSheet
from ..panel.panel import Kept, panel
from ..panel.sliders import Choice, Slider, Telling
from .figure import HELD_TOOL
from .hold_tables import WINDOWS_S
from .numbers import beyond_rows, swing_words

BY_ON_OFF, BY_INTEGRAL = ("control.band_k",), ("control.window_s", "control.proportional_k", "control.integral_s")
LENGTH, ANOTHER_TOOL = "coil.length_m", {"coil.length_m", "sensor.at_m"}
MET = 4  # dials and tools whose failure a panel remembers
NO_ENDS = 120.0, 200.0, 600.0  # nothing to hold: the sliders only stand there
SHORTER = "coil wire, less: more W"
HELD_SHARE = 0.6  # of the rise that full power gives: a set point where the sheet names none


def to_hold(build: Build) -> tuple[Build, Words]:
    """The build that the page holds, and what was put in where the sheet is silent.

    build: Build of the sheet.
    Returns (Build, Words): with a controller, and with a set point where sheet, wanted temperature and job name none.
    """
    taken = []
    if build.control is None:
        build = fill(replace(build, control=Control()))
    control = build.control
    if control.kind is None:
        taken.append(f"a {control.law} controller")
    if control.set_c is None:
        set_c, said = _dial(build)
        build = replace(build, control=replace(control, set_c=float(set_c)))
        taken.append(said)
    taken += _taken(build)
    said = f"Not on your sheet, so taken here: {'; '.join(taken)}." if taken else ""
    return build, Words(f"{said} {_offset(build)}".strip())


def _dial(build):
    """The dial where the sheet has none: (degC, what it is in words)."""
    aim_c, way = set_point(build), {"degrees": build.degrees}
    if np.isfinite(aim_c):
        _, dial = for_wanted(set_elsewhere(build, aim_c), aim_c)
        if np.isfinite(dial):
            wanted = say("temp_c", aim_c, **way)
            dial = float(np.round(dial))
            return dial, f"{say('temp_c', dial, **way)} at the sensor, with which what is held should be at {wanted}"
        return aim_c, f"{say('temp_c', aim_c, **way)} at the sensor, as it is wanted of the metal"
    heat = chain(build)[3]
    places = () if heat is None else (heat.work_c, heat.tip_c, heat.sheath_c)
    tip, room = next((c for c in places if np.isfinite(c)), 100.0), build.room.ambient_c
    set_c = round((room + HELD_SHARE * (tip - room)) / 10) * 10.0
    return set_c, f"{say('temp_c', set_c, **way)} at the sensor, middling for this tool"


def _taken(build):
    """What of the switch and the sensor the sheet leaves open, and is taken, in words."""
    control, sensor = build.control, build.sensor
    told, window = [], say("window_s", control.window_s)

    def silent(path):
        known = build.known.get(path)
        return known is not None and known.how == ASSUMED and known.line is None

    if control.way is None:
        told.append(f"{switch_of(build)} as its switch, in windows of {window}")
    elif silent("control.window_s") and control.law != ON_OFF:
        told.append(f"windows of {window}")
    if silent("control.band_k") and control.law == ON_OFF:
        told.append(f"a band of {say('rise_k', control.band_k, degrees=build.degrees)}")
    if sensor.kind is None:
        told.append(f"a {sensor.sort} sensor")
    if sensor.grade is None:
        told.append(f"the sensor's class {sensor.tolerance_class}")
    if sensor.attached is None:
        told.append(f"a {plain_text(sensor.fixed)}" + (" on what is held" if sensor.on is None else ""))
    elif sensor.on is None:
        told.append("its place on what is held")
    if silent("sensor.lag_s"):
        told.append(f"the sensor's lag of {say('window_s', sensor.lag_s)}")
    if sensor.broken is None:
        told.append(f"a broken sensor wire that reads {sensor.broken_as}")
    return told


def _offset(build):
    """What the dial's number means at the metal, in a sentence."""
    control = work_control(build, *tool_parts(build))
    if control is not None and control.refused:
        return f"**Nothing is held.** {plain_text(f'{control.refused} {control.beyond}'.strip())}"
    if control is None or not np.isfinite(control.offset_k):
        return ""
    way = {"degrees": build.degrees}
    gap, doubt = (say("offset_k", abs(x), figures=2, **way) for x in (control.offset_k, control.doubt_k))
    more = "hotter" if control.offset_k > 0 else "cooler"
    return (
        f"Dialled {say('temp_c', control.set_c, **way)}, the {control.place} is really "
        f"{say('temp_c', control.mean_c, **way)} on the mean, by {control.law.kind}: {gap} {more} than the sensor "
        f"says, give or take {doubt}."
    )


def held_says(found, build, extra):
    """Headline rows.  found: HeldTool. build: Build. extra: None."""
    way = {"degrees": build.degrees}
    if found.refused:
        return beyond_rows(build, found) or [("held", "not worked out")]
    control, place = found.control, found.control.place
    low, high = (found.held.mean_c + s * control.doubt_k for s in (-1, 1))
    quiet = "swings steadily" if found.law.kind == ON_OFF else "calm"
    return [
        (f"{place}, mean in the end", f"{say('temp_c', found.held.mean_c, **way)} ({say('temp_c', low, **way)} to "
         f"{say('temp_c', high, **way)})"),
        ("ready after", f"{found.held.ready_s / 60:.1f} min"),
        (f"{place} overshoots by", swing_words(found.held.overshoot_k, **way)),
        (f"{place} swings by", swing_words(found.held.ripple_k, **way)),
        ("hottest wire, first or later pulse", say("wire_c", found.wire_top_c, **way)),
        ("watts to hold it", say("hold_w", control.hold_w)),
        ("on for", f"{100 * control.duty:.0f} % of the time"),
        ("the loop", next((word for word, _ in found.remarks), quiet)),
    ]  # fmt: skip


def held_verdicts(found, build, extra):
    """Verdicts on the held tool, None while it moves.  found: HeldTool without its failure. build: Build. extra: None
    while it moves."""
    if not extra:
        return None
    whole = failing_too(build, found)
    return [*failing_verdicts(whole, build), *_metals_in_use(build, whole)]


def _metals_in_use(build, found):
    """Metals past their long service at the hottest that use brings them to.  found: HeldTool with its failure."""
    control, heat = found.control, found.parts[3]
    if control is None or control.normal_c is None:
        return []
    hottest = {i: float(heat.model.along(i, control.normal_c)[1].max()) for i in heat.part_ids}
    judged = service_checks(build, hottest, {})
    return [replace(v, what=HELD + v.what) for v in judged if v.state != "fine"]


def failing_verdicts(found, build):
    """Verdicts on the held tool.  found: HeldTool with its failure. build: Build."""
    if found.control is None or found.refused and found.control.standing is None:
        return [unknown("held temperature", "held_c", why=found.refused)]
    return control_checks(build, found.control, found.parts[3], own_doubt(build))


def held_sliders(build):
    """The sliders of the control page, those of both laws: the panel shows the ones that the chosen law listens to.

    build: Build, as to_hold.
    Returns list of Slider and Choice.  The set point goes beyond what the supply can reach, bands and integral time to
    what the tables of the page advise.
    """
    room, set_c = build.room.ambient_c, build.control.set_c
    most_c, band_k, integral_s = _ends(build)
    made = [
        Choice("control.kind", ("proportional-integral", "on-off"), "law"),
        Slider("control.set_c", min(room + 20.0, set_c), max(most_c, set_c + 100.0, 120.0), 1.0, "set point"),
        Slider("control.band_k", 0.5, 30.0, 0.5, "band of on-off"),
        Slider("control.window_s", 0.5, 30.0, 0.5, "window of the switching"),
        Slider("control.proportional_k", 5.0, band_k, 5.0, "proportional band"),
        Slider("control.integral_s", 20.0, integral_s, 10.0, "integral time"),
        Choice("sensor.attached", FIXED, "sensor fixed as"),
    ]
    held = held_part(build)
    if held is not None:
        made.append(Slider("sensor.at_m", held.from_m, held.to_m, 1e-3, "its place, from the tip"))
    length_m = tool_parts(build)[2].length_m if tool_parts(build)[2] is not None else np.nan
    if np.isfinite(length_m):
        made.append(Slider(LENGTH, 0.6 * length_m, 3 * length_m, 0.01, SHORTER))
    return made


def held_start(sheet):
    """Where the panel begins: with a controller that holds.  sheet: Build.  Returns (Build, its sliders)."""
    build = with_settings(to_hold(sheet)[0])
    return build, held_sliders(build)


def held_part(build):
    """The part that the sensor sits on, None where the sheet names none that is there.  build: Build."""
    return next((p for p in build.part if p.id == build.sensor.on and None not in (p.from_m, p.to_m)), None)


def _ends(build):
    """How far the sliders go: (set point in degC, proportional band in K, integral time in s)."""
    parts = tool_parts(build)
    if any(part is None for part in parts) or parts[3].model is None:
        return NO_ENDS
    try:
        control = held_calmly(build, parts)
        tried = [
            tuning_of(replace(build, control=replace(build.control, window_s=w)), control.standing, smooth)
            for w, smooth in ((build.control.window_s, SMOOTH[-1][0]), (WINDOWS_S[-1], 1.0))
        ]
    except Fault:
        return NO_ENDS
    bands, times = [1 / t.gain_per_k for t in tried], [t.integral_s for t in tried]
    return min(control.full_c + 50.0, 900.0), max(1.1 * max(bands), 200.0), max(1.1 * max(times), 600.0)


def held_at(build: Build) -> HeldTool:
    """The held tool, its sensor as late as one fixed like it; its failure is left out.  build: Build, as to_hold."""
    return holding(with_own_lag(build), failing=False)


def failing_at(build: Build) -> HeldTool:
    """As `held_at`, with its failure.  build: Build, as to_hold."""
    return holding(with_own_lag(build))


def met_before(of, *parts):
    """Verdicts at rest, and at once where their long part was met lately: (slow, known) of a Telling, whose extra only
    says that they are due.

    of: function of a build: all of it that the long part hangs on. parts: functions of a build that work it out, each
    in a slice of its own, and are asked for it again by the verdicts.
    """
    met = deque(maxlen=MET)

    def slow(build):
        for done, part in enumerate(parts):
            part(build)
            yield done + 1, len(parts), ""
        met.append(of(build))
        return True

    return slow, lambda build: of(build) in met or None


def _tool_and_dial(build):
    """All of a build but the law that holds it: power stuck on begins where the dial had it."""
    law = {"kind": ON_OFF, "band_k": 0.0, "window_s": 0.0, "proportional_k": None, "integral_s": None}
    return repr(replace(build, control=replace(build.control, **law), known={}))


def control_panel(build: Build, workings: Workings | None = None) -> Kept:
    """Hold the tool without burning a finger.

    build: Build, as to_hold. workings: Workings of it where the page has them, so that its samples are not drawn again.
    Returns a widget box, as show.panel.panel; another law shows its own sliders at once.
    """
    own_doubt(build, workings)
    slow, known = met_before(_tool_and_dial, lambda at: failing_too(at, held_at(at)), own_doubt)
    telling = Telling(says=held_says, verdicts=held_verdicts, slow=slow, known=known)
    begins = FromSheet(build, held_start)
    made = panel(build, held_sliders(build), held_at, HELD_TOOL, telling, begins=begins)
    for path in ANOTHER_TOOL & made.handles.keys():  # each step is another tool, worked out anew
        made.handles[path].continuous_update = False

    def fit(_=None):
        unheard = BY_INTEGRAL if made.handles["control.kind"].value == ON_OFF else BY_ON_OFF
        made.offer([path for path in made.handles if path not in unheard])

    made.handles["control.kind"].observe(fit, "value")
    fit()
    return made
