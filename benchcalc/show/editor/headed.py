"""What stands beside the form's name: whose numbers the page below shows, and how the sheet in the form stands."""

from dataclasses import replace

from ...basics.escape import plain_text
from ...basics.fault import Fault
from ...sheet.choose import chosen, my_folder
from ..page.inputs import sheet_name


def same_sheet(one, two) -> bool:
    """Whether two builds say the same, whatever file they come from.  one, two: Build, or None."""
    return None not in (one, two) and replace(one, file="") == replace(two, file="")


def steps_to_run(draft) -> str:
    """What to press so that the page, run again, shows what stands in the form; "" for nothing.  draft: Draft."""
    needed = ["press check and keep"] if draft.altered else []
    path, mine = draft.path.resolve(), my_folder().resolve()
    try:
        with_it = chosen().resolve()
    except Fault:
        with_it = None
    is_chosen, another = with_it == path, with_it is not None and with_it != path and with_it.is_relative_to(mine)
    copied = needed and not path.is_relative_to(mine) and not another  # the copy of a demo is chosen when it is made
    if not copied and not is_chosen:
        needed.append("work with this sheet" if needed else "press work with this sheet")
    return " and ".join(needed)


def head_html(name, build, run, steps, stands=""):
    """The line beside the form's name, as HTML.

    name: of the sheet in the form. build: Build of it, None with faults. run: Build the page was run with, None where
    it is not known. steps: what to press before the page is run again, "" for nothing. stands: how the sheet in the
    form stands, "" before it is worked out.
    """
    if run is None or same_sheet(build, run):
        return _boxed(f"The form shows <b>{plain_text(name)}</b>." if run is None else _both(name, run))
    ran = sheet_name(run)
    whose = (
        "as it was when the page was run, not as it stands in the form" if ran == name else "not of the form's sheet"
    )
    first = f"{steps}, then run" if steps else "run"
    again = plain_text(f"{first} the page again for the rest (Run, Run All Cells).")
    return _boxed(
        f"▲ <b>The form shows {plain_text(name)}. {plain_text(stands)}</b><br>Every number below the form is of "
        f"the sheet <b>{plain_text(ran)}</b>, {whose}: {again}",
        "min-height:54px;border-left:4px solid #c4621d;padding-left:6px",
    )


def _both(name, run):
    ran = sheet_name(run)
    same = "" if ran == name else f" (it says the same as {plain_text(ran)}, with which the page was run)"
    return f"The form and the page below show <b>{plain_text(name)}</b>{same}."


def _boxed(told, look=""):
    return f'<div style="line-height:1.35;min-height:36px;{look}">{told}</div>'
