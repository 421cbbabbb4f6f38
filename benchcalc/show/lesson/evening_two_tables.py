"""The plan of evening two: how many adults and boxes, which lamps, the soak's load, readings for the board."""

from ...basics.names import say
from ...heater.soak import winding_rise
from ...heater.supply import open_from_two, source_from_two
from ...studies.lesson.evening_two_table import (
    BENCHES_A_BOX,
    BENCHES_AN_ADULT,
    BOX_MIN,
    HOME_S,
    LAMP_V,
    LAMP_W,
    LEAST_VA,
    MOST_DROP,
    MOST_OPEN,
    MOST_VA,
    box_lamps,
    boxes_that_fit,
    chalked_box,
    staffing,
    warmest_at_home,
)
from ..page.table import Table, table
from ..page.words import Words

SHOWN = (2, 3, 5, 6, 8, 10, 12, 15)
METER_STEP_V = 0.01  # last digit of a small meter in its 20 V range


def who_and_how_many() -> Table:
    """Adults and boxes for a number of benches, with the minutes that evening two's line takes."""
    rows = []
    for s in map(staffing, SHOWN):
        shared = "a box for each bench" if s.round_a_box == 1 else f"up to {s.round_a_box} benches round each box"
        if s.halves:
            shared = f"evening two is held twice, half of the class each time; {shared}"
        rows.append((s.benches, f"{s.least} to {s.most}", s.adults, s.boxes, f"{s.line_min:.0f} min", shared))
    words = (
        f"One adult for at most {BENCHES_AN_ADULT} benches; with fewer, benches take turns. On evening two the "
        f"teacher's hand is {BOX_MIN:.0f} min at each box, so {boxes_that_fit()} boxes fill the part kept for it, and "
        f"at most {BENCHES_A_BOX} benches read one box in turn."
    )
    return table(("benches", "people", "adults", "boxes on evening two", "their line takes", "so"), rows, words)


def lamps_for_the_box() -> Words:
    """What the lamps of evening two ask of a box."""
    lamps = box_lamps()
    two = {"figures": 2}
    least_ohm = METER_STEP_V / (lamps.all_a - lamps.one_a)
    return Words(
        f"*Which lamps.* Of {say('load_v', LAMP_V, **two)} and {LAMP_W:g} W, two for each box and never a larger one: "
        f"one draws {say('load_a', lamps.one_a, **two)}, two draw {say('load_a', lamps.all_a, **two)}, "
        f"{lamps.all_va:.0f} VA, which a box of {LEAST_VA:.0f} to {MOST_VA:.0f} VA carries for an evening. In each low "
        f"lead, next to the box, sits a fuse of {say('fuse_a', lamps.fuse_a)}, slow, because cold filaments ask for "
        f"some {say('load_a', lamps.first_a, figures=1)} in the first instant. A box that stands {MOST_OPEN - 1:.0%} "
        f"or more above what is printed on the lamps gets none; one that a single lamp pulls down by {MOST_DROP:.0%} "
        "gets no second one and no soak. A box that two lamps hardly pull down is stiff, and *less than "
        f"{say('source_ohm', least_ohm, **two)}* is its result, from the last digit of a meter that shows "
        f"{say('drop_v', METER_STEP_V, **two)}."
    )


def soak_words() -> Words:
    """How the soak is tried at home, what it carries, and who sits beside it."""
    lamps, box = box_lamps(), chalked_box()
    lasts_min = box.soak[-1][0] / 60
    return Words(
        f"*The soak.* Its load is the same two lamps side by side, {say('load_a', lamps.all_a, figures=2)}, behind the "
        f"same slow fuse of {say('fuse_a', lamps.fuse_a)} in its low lead. **At home first**, for {HOME_S / 3600:g} "
        "hours, watched all the time, plug pulled for each reading: no smell, core and case such that a hand stays on "
        f"them, and its winding by its own ohms never above {say('winding_c', warmest_at_home(), figures=2)} (an "
        "unmarked one is taken for the lowest class, with a reserve that is our own judgement). A box that fails one "
        "of these stays at home, and the board's readings do. **In class** it begins only when every other plug lies "
        f"on the table, and runs {lasts_min:.0f} min. The teacher sits beside it from the first minute to the last and "
        "goes to no bench: so one pair of hands is enough for it, one box at a time is plugged in all evening, and the "
        "soak is watched by the only hand that may pull its plug. Called away? The plug comes out, and the board's "
        "readings finish it."
    )


def chalked() -> Table:
    """Readings for a bench or a box that failed: invented, with what comes of them."""
    box = chalked_box()
    rows = [(say("load_v", v), say("load_a", a) if a else "nothing connected") for v, a in box.line]
    (first_v, first_a), (last_v, last_a) = box.line[1], box.line[-1]
    source = source_from_two(first_v, first_a, last_v, last_a)
    found = f"{say('source_ohm', source)} inside, {say('open_v', open_from_two(first_v, first_a, source))} unloaded"
    rows.append((f"one lamp and two: {found}", "by hand, from two readings"))
    rows.append((f"cold: {box.cold_ohm:.1f} ohm at {say('temp_c', box.cold_room_c)}", "soak, before anything"))
    for loaded_s, ohm, room_c in box.soak:
        rise = winding_rise(box.cold_ohm, ohm, box.cold_room_c, room_c)
        told = f"rise {say('winding_rise_k', rise)}, room {say('temp_c', room_c)}"
        rows.append((f"after {loaded_s / 60:.0f} min: {ohm:.1f} ohm", told))
    return table(("reading of a box of our own (invented)", "amps, or what it is"), rows)
