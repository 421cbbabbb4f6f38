"""What to mend first, on a page: at most five lines, each with its cure and a button that tries it in the panel."""

import ipywidgets as widgets
import numpy as np

from ...basics.escape import plain_text
from ...basics.names import say
from ...chain.workings import band_text
from ...sheet.build import Build
from ...studies.mend_first import Mend, ToMend
from ..page.lesson import Words
from ..page.table import as_html, say_state, verdict_table
from .panel import Kept

NONE = "Nothing is past a limit here, and nothing is missing."


def mend_line(build, mend):
    """One thing to mend and its cure, each in a sentence of plain text: (what stands, what cures it).

    build: Build, for its units. mend: Mend.
    """
    v, way = mend.verdict, {"units": build.units, "degrees": build.degrees}
    if v.state == "not known":
        return f"{v.named}: not known. {v.why}", ""
    stands = f"{v.named} ({mend.harm}): {say(v.key, v.value, **way)}, {v.sense} {say(v.key, v.limit, **way)}"
    if mend.cure is None:
        return f"{stands}.", f"No change tried here cures it. {v.why}"
    after, cure = mend.after, mend.cure.words[:1].upper() + mend.cure.words[1:]
    reached = say(after.key, after.value, **way) if after.band is None else band_text(after.band, after.key, **way)
    tip = f"; the tip then {say('tip_c', mend.tip_c, **way)}" if np.isfinite(mend.tip_c) else ""
    if mend.cured:
        return f"{stands}.", f"{cure}: {reached}, fine{tip}."
    return f"{stands}.", f"Nothing tried cures it alone. {cure} helps most: {reached}, {after.state}{tip}."


def mend_words(build: Build, found: ToMend, verdicts: tuple = ()) -> Words:
    """What to mend first as text, the whole table of verdicts folded below it.

    build: Build, for its units. found: ToMend. verdicts: for the table; advice stands in one of its own.
    Returns Words.
    """
    lines = [f"{i}. **{plain_text(a)}** {plain_text(b)}" for i, (a, b) in enumerate(_lines(build, found), 1)]
    text = "\n".join(lines) or NONE
    text = f"<details><summary>to mend first, as text</summary>\n\n{text}\n\n</details>"
    way = {"units": build.units, "degrees": build.degrees}
    limits, advice = ([v for v in verdicts if v.advice is only] for only in (False, True))
    for title, some in (("all limits", limits), ("advice, no limits", advice)):
        if some:
            shown, rows = as_html(verdict_table(some, **way)), "1 row" if len(some) == 1 else f"{len(some)} rows"
            text += f"\n\n<details><summary>{title}: {rows} with sources</summary>\n\n{shown}\n\n</details>"
    return Words(text)


def _lines(build, found):
    return [mend_line(build, one) for one in found.first]


def told_advice(found):
    """What only advises, in a sentence; "" without any.  found: ToMend."""
    names = [v.what for v in found.advice]
    return f"Advice, not limits, to look at: {'; '.join(names)}." if names else ""


def mend_panel(build: Build, found: ToMend, beside: Kept | None = None) -> Kept:
    """The lines of what to mend first, each with a button that tries its cure in a panel.

    build: Build. found: ToMend. beside: the panel of the page, or None where there is none.
    Returns a widget box with `.buttons`.
    """
    return _Mending(build, found, beside)


class _Mending(Kept):
    def __init__(self, build, found, beside):
        self.build, self.found, self.buttons = build, found, []
        rows = [widgets.HTML(f"<b>To mend first</b>{self._after()}")]
        for one, (stands, cure) in zip(found.first, _lines(build, found)):
            state = say_state(one.verdict.state) + (": borrowed" if one.verdict.borrowed else "")
            told = widgets.HTML(
                f'<div style="line-height:1.35"><b>{state}</b> {plain_text(stands)}<br>{plain_text(cure)}</div>',
                layout={"flex": "1 1 500px"},
            )
            rows.append(widgets.HBox([told, *self._button(one, beside)], layout={"align_items": "center"}))
        rows.append(widgets.HTML(plain_text(told_advice(found))))
        super().__init__(rows)

    def _after(self):
        if not self.found.first:
            return f": {NONE}"
        return f", and {self.found.more} more below" if self.found.more else ""

    def _button(self, mend: Mend, beside):
        if mend.cure is None or beside is None:
            return []
        button = widgets.Button(description="try it in the panel", layout={"width": "170px", "flex": "0 0 auto"})
        moves = dict(mend.cure.moves)
        button.on_click(lambda _: beside.try_on(moves, mend.cure.words))
        self.buttons.append(button)
        return [button]

    def kept(self):
        """What the saved page shows of it without a kernel."""
        lines = "".join(f"<li>{plain_text(a)} {plain_text(b)}</li>" for a, b in _lines(self.build, self.found))
        html = f"<p><b>To mend first</b></p><ol>{lines}</ol><p>{plain_text(told_advice(self.found))}</p>"
        return {
            "text/plain": "What to mend first, with buttons that try each cure: run this page.",
            "text/html": html,
        }, {}
