"""The table of faults on the control page: what the controller sees and does, and where the tool ends."""

import numpy as np

from ...basics.names import say, shown
from ...chain.control.stuck import wire_curve
from ...chain.heat.places import excess_of
from ...sheet.build import Build
from ...studies.held_elsewhere import loosened
from ...studies.holding import HeldTool
from ..page.lent import tells_lent
from ..page.table import Table, table
from .fail_tables import held_place, nothing_stuck, place_word, stuck_of, wire_words

HALF_SEEN = 0.5  # of the rise, by a bead that has come half loose: an example


@tells_lent
def faults(build: Build, found: HeldTool) -> Table:
    """Each fault: what the controller sees and does, where what is held and the hottest wire end.

    build: Build with a controller. found: its HeldTool.
    Returns Table.
    """
    stuck, control, way = stuck_of(found), found.control, {"degrees": build.degrees}
    if stuck is None:
        return nothing_stuck(found)
    place = held_place(found)
    held, wire = stuck.temp_c[place], wire_curve(found.control)
    full = (say("temp_c", held[-1], **way), wire_words(build, found, wire[-1]))
    cold = ("cools to the room", "cools to the room")
    broken = full if build.sensor.broken_as == "cold" else cold
    rows = [
        ("sensor fallen off", "a cold reading: full power for ever", *full),
        (
            "sensor wire broken",
            f"reads {build.sensor.broken_as}: " + ("full power" if broken is full else "off"),
            *broken,
        ),
        ("sensor wires touching", "reads its own far end, the room: full power for ever", *full),
        ("switch fused, or a strand across it", "the controller says off, nothing listens", *full),
    ]
    if build.sensor.sort == "type K":
        rows.append(("its two leads swapped", "the hotter the tool, the colder it reads: full power for ever", *full))
    rows += [_half_loose(build, found, full)] if not found.refused else []
    if np.isfinite(control.set_c):
        wrong_c = float(shown("temp_c", control.set_c, degrees="F"))
        reached = min(wrong_c, float(held[-1]))
        at = float(np.interp(reached, held, wire))
        what = f"set point mistyped: {wrong_c:.0f}, its figure in degrees F, into a box that counts in degrees C"
        ends = (say("temp_c", reached, **way), wire_words(build, found, at))
        rows.append((what, "it does as it is told" if reached == wrong_c else "full power for ever", *ends))
    what = "the box set for another kind of sensor"
    if not found.refused:
        rows.append((what, "holds a wrong temperature, and shows the room rightly", *["not worked out"] * 2))
    rows.append(("no mains, fuse blown", "nothing", *cold))
    return table(("fault", "what happens", f"the {place_word(place)} ends at", "the hottest wire ends at"), rows)


def _half_loose(build, found, full):
    """The row of a bead that still sees a part of the rise; an ordinary day, since it is still held."""
    what, way = f"bead half off: it sees {HALF_SEEN:.0%} of the rise, an example", {"degrees": build.degrees}
    held = loosened(found.control, HALF_SEEN)
    if held is None:
        return what, "the reading never gets there: full power for ever", *full
    _, wire, coil, _ = found.parts
    wire_c = held[0]["sheath"] + excess_of(build, wire, coil, found.control.on_w)
    ends = say("temp_c", held[0][found.control.place], **way), wire_words(build, found, wire_c)
    return what, f"holds, far too hot, on for {held[1]:.0%} of the time", *ends
