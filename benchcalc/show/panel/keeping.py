"""What a panel keeps: which moved fields go into the sheet, and which sheet of the user's own takes them."""

from pathlib import Path

import numpy as np

from ...basics.escape import plain_text
from ...basics.fault import Fault, fault
from ...basics.names import say, suffix_of
from ...chain.workings import chain
from ...sheet.change import change, get
from ...sheet.choose import chosen, copy_to_mine, my_folder
from ...sheet.field_words import field_words
from ...sheet.save import as_typed
from ...sheet.schema import key_of
from ..page.lent import lent_words

WORKED_OUT = "coil.length_m"  # where the sheet leaves it open, the page's own is kept with what was moved
NOT_YOURS = "There is nothing of yours here to keep: fill in on page 00 what your sheet lacks, and run this page again."


def to_keep(build, sliders, moved, in_use):
    """What goes into the sheet when a reader keeps what was moved.

    build: Build. sliders: of the panel. moved: dict of path -> SI value or text. in_use: the same, of WORKED_OUT.
    Returns (dict of path -> value for the sheet, labels of what only looks and no sheet holds).
    """
    moved = dict(moved)
    for path, value in in_use.items():
        if get(build, path) is None:
            moved.setdefault(path, value)
    looked = [_word(s) for s in sliders if s.path in moved and key_of(s.path) is None]
    moved = {path: value for path, value in moved.items() if key_of(path) is not None}
    moved |= _length_for_power(build, moved)
    if any(path.startswith("heat_break.") for path in moved):  # so is what the page assumed of holes that were moved
        for path, known in build.known.items():
            if path.startswith("heat_break.") and known.how == "assumed":
                moved.setdefault(path, get(build, path))
        for hole in build.heat_break:
            if any(path.startswith(f"heat_break.{hole.id}.") for path in moved):
                moved.setdefault(f"heat_break.{hole.id}.rings", hole.rings)
    return moved, looked


def _length_for_power(build, moved):
    """The wire that gives a power that was moved: a wanted power alone would leave a typed length as it is."""
    if "want.power_w" not in moved or "coil.length_m" in moved or build.coil is None or build.coil.length_m is None:
        return {}
    free = change(build, "coil.length_m", None)
    for path, value in moved.items():
        free = change(free, path, value)
    length_m = chain(free).coil.length_m
    return {"coil.length_m": round(float(length_m), 3)} if np.isfinite(length_m) else {}  # as a tape reads


def nothing_moved(looked):
    """Why nothing is kept, as HTML.  looked: labels of the moved sliders that only look."""
    if not looked:
        return "Nothing was moved: the sheet stays as it is."
    return plain_text(f"Not kept. No sheet holds {' or '.join(looked)}: it only looks. The sheet stays as it is.")


def kept_words(sliders, moved, build):
    """What was kept, in words.  sliders: of the panel. moved: dict of path -> value. build: Build after it."""
    told = [f"{_word(s)} {_said(getattr(s, 'key', s.path), moved[s.path], build)}" for s in sliders if s.path in moved]
    shown = {s.path for s in sliders} | {WORKED_OUT}
    told += [
        f"{field_words(build, p)} {_said(p, x, build)}" for p, x in moved.items() if p not in shown and x is not None
    ]
    if WORKED_OUT in moved and not any(s.path == WORKED_OUT for s in sliders):
        told.insert(0, f"a coil of {_said(WORKED_OUT, moved[WORKED_OUT], build)} for it")
    return ", ".join(told)


def _word(slider):
    return slider.label.split(",")[0]


def own_sheet(build, moved):
    """A sheet of one's own to write to.

    build: Build, read from a file. moved: dict of path -> SI value or text, checked before anything is copied.
    Returns (path, sentence about a copy if one was made).  Raises Fault as own_file, or a value no sheet takes.
    """
    for path, value in moved.items():
        as_typed(path, value, build)  # complains before anything is copied
    return own_file(build)


def own_file(build):
    """The file to write to for what a page shows.

    build: Build, read from a file.
    Returns (path, sentence about a copy if one was made).  Raises Fault: no file, or a demo that stands in for the
    maker's sheet, of which nothing is his to keep.
    """
    if build.lent:
        raise fault("sheet", "", f"is the demo {build.lent} here, lent to show how the page works.", do=NOT_YOURS)
    if not build.file:
        raise fault("sheet", build.name, "was not read from a file, so there is nowhere to keep it.")
    return own_name(build.file)


def lent_note(build):
    """What stands above a panel that shows a lent demo, as HTML; "" above one's own.  build: Build."""
    return (
        f'<p style="margin:0 0 6px;line-height:1.35"><b>{lent_words(build)}</b> {NOT_YOURS}</p>' if build.lent else ""
    )


def own_name(file):
    """The file to write to for a sheet: itself if it is the user's own, else a fresh copy in my/.

    file: the sheet's file.
    Returns (path, sentence about the copy, "" if none was made).  Nothing is overwritten; the copy is chosen where the
    demo itself was, and where no sheet of one's own is.
    """
    own, mine = Path(file), my_folder().resolve()
    if own.resolve().is_relative_to(mine):
        return own, ""
    number, name = 1, f"my_{own.stem}"
    while (my_folder() / f"{name}.toml").exists():
        number += 1
        name = f"my_{own.stem}_{number}"
    try:
        worked_with = chosen()
    except Fault:  # what was chosen has gone
        worked_with = own
    stays = worked_with.resolve() != own.resolve() and worked_with.resolve().is_relative_to(mine)
    made = copy_to_mine(str(own), name, chosen_too=not stays)
    which = f"was made; your chosen sheet is still {worked_with.stem}" if stays else "was made and chosen"
    return made, f"The sheet {own.stem} stays as it is; one of your own, {name}, {which}. "


def _said(path, value, build):
    if isinstance(value, str):
        return value
    if isinstance(value, bool):
        return "yes" if value else "no"
    key = path.rsplit(".", 1)[-1]
    return say(key, value, units=build.units, degrees=build.degrees) if suffix_of(key) else f"{value:g}"
