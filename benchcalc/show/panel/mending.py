"""What to mend first, on a page: five lines and any further fire, each with its cure and a button that tries it."""

import ipywidgets as widgets
import numpy as np

from ...basics.escape import plain_text
from ...basics.names import say
from ...chain.as_told import guessed
from ...chain.workings import Workings, band_text
from ...sheet.build import Build
from ...sheet.schema import key_of
from ...studies.cures import Cure
from ...studies.harm import harm_of
from ...studies.mend_first import MOST, ToMend, mend_first
from ..editor.form_words import on_page
from ..editor.plan import groups
from ..page.lesson import Words
from ..page.table import as_html, say_state, verdict_table
from .panel import Kept
from .progress_bar import late_bar

MOST_FIELDS = 6
SAY = "What most of them rest on: say on page 00 whether it is true, in its group of the form."
NONE = "Nothing is past a limit here."
TRIED = (
    "The panel further up shows the tool so, in ordinary use. What this line says of a tool left on, stuck or held is "
    "reckoned for another day, and stands here alone."
)


def found_to_mend(build: Build, workings: Workings, links: tuple | None = None, most: int = MOST) -> ToMend:
    """As `mend_first`, for a page: with a bar where trying the cures takes longer than a moment.

    build: Build (floats). workings: Workings of it. links: names of the links to look at, None for all. most: lines.
    Returns ToMend.
    """
    moved, lines = late_bar("trying cures"), []

    def tell(line, of):
        lines[:] = [of]
        moved(line - 1, of, f"line {line} of {of}")

    found = mend_first(build, workings, links, most, tell)
    for of in lines:
        moved(of, of, "done")
    return found


def stands_line(build, verdict):
    """How a limit stands, in a sentence of plain text.  build: Build, for its units. verdict: Verdict."""
    way = {"units": build.units, "degrees": build.degrees}
    if verdict.state == "not known":
        return f"{verdict.named}: not known. {verdict.why}"
    reached, limit = verdict.said(verdict.value, **way), say(verdict.key, verdict.limit, **way)
    place = f"{verdict.place} " if verdict.place else ""
    return f"{verdict.named} ({harm_of(verdict)[1]}): {place}{reached}, {verdict.sense} {limit}."


def cure_lines(build, found):
    """The cures of what is to be mended, each told once with the numbers of the lines that it serves.

    build: Build, for its units. found: ToMend.
    Returns list of (plain text, Cure or None).
    """
    served = {}
    for number, mend in enumerate(found.first, 1):
        if mend.verdict.state != "not known":
            alone = number if mend.cure is None else 0  # each line without a cure has its own reason
            served.setdefault((mend.cure, mend.cured, alone), []).append((number, mend))
    many, told = len(found.first) > 1, []
    guards = {}
    for number, mend in enumerate(found.first, 1):
        if mend.guard:
            guards.setdefault(mend.guard, []).append(str(number))
    told += [(f"{', '.join(numbers)}: {words}" if many else words, None) for words, numbers in guards.items()]
    fine = "within its limit if what is assumed or borrowed holds" if guessed(build) or build.begun_from else "fine"
    for (cure, cured, _), lines in served.items():
        place = f"{', '.join(str(n) for n, _ in lines)}: " if many else ""
        if cure is None:
            told.append((f"{place}no change tried here cures it. {lines[0][1].verdict.why}", None))
            continue
        mend = lines[0][1]
        where = f"held as today, the {mend.held} is then at" if mend.held else "the tip then"
        tip = f"; {where} {say('tip_c', mend.tip_c, degrees=build.degrees)}" if np.isfinite(mend.tip_c) else ""
        reached = "; ".join(dict.fromkeys(_reached(build, m, cured) for _, m in lines))
        if cured:
            told.append((f"{place}{cure.words}: then {reached}, {fine}{tip}.", cure))
        else:
            within = all(m.after.state == "tight" for _, m in lines)
            alone = (
                "nothing tried brings its whole range within the limit" if within else "nothing tried cures it alone"
            )
            told.append((f"{place}{alone}. {_upper(cure.words)} helps most: then {reached}{tip}.", cure))
    return told


def _reached(build, mend, cured):
    """Where a cure brings a verdict; with its place and limit where another place is then the nearest to one."""
    after, way = mend.after, {"units": build.units, "degrees": build.degrees}
    value = say(after.key, after.value, **way) if after.band is None else band_text(after.band, after.key, **way)
    if after.place != mend.verdict.place or not np.isclose(after.limit, mend.verdict.limit):
        where = f"{after.place}, now the nearest to its limit, " if after.place else ""
        value = f"{where}{value}, {after.sense} {say(after.key, after.limit, **way)}"
    return value if cured else f"{value}, {after.state}"


def _upper(words):
    return words[:1].upper() + words[1:]


def mend_words(build: Build, found: ToMend, verdicts: tuple = ()) -> Words:
    """What to mend first as text, the whole table of verdicts folded below it.

    build: Build, for its units. found: ToMend. verdicts: for the table; advice stands in one of its own.
    Returns Words.
    """
    lines = [f"{i}. **{plain_text(stands_line(build, one.verdict))}**" for i, one in enumerate(found.first, 1)]
    lines += ["", *(f"- {plain_text(_upper(words))}" for words, _ in cure_lines(build, found))]
    text = on_page("\n".join(lines)) if found.first else NONE
    text += f"\n\n{plain_text(told_advice(found))}" if found.resting else ""
    lines = "\n".join(f"- {plain_text(words)}" for words in assumed_lines(found))
    text += f"\n\n{SAY}\n\n{lines}" if lines else ""
    text = f"<details><summary>to mend first, as text</summary>\n\n{text}\n\n</details>"
    way = {"units": build.units, "degrees": build.degrees}
    limits, advice = ([v for v in verdicts if v.advice is only] for only in (False, True))
    for title, some in (("all limits", limits), ("advice, no limits", advice)):
        if some:
            shown, rows = as_html(verdict_table(some, **way)), "1 row" if len(some) == 1 else f"{len(some)} rows"
            text += f"\n\n<details><summary>{title}: {rows} with sources</summary>\n\n{shown}\n\n</details>"
    return Words(text)


def mend_html(build, found, instead=""):
    """What to mend first as HTML: how each limit stands, then the cures.

    build: Build. found: ToMend. instead: a sentence in place of the cures, while they are not known.
    """
    if not found.first:
        return f"<p><b>To mend first</b>: {NONE}</p>{_advice_html(found)}"
    lines = "".join(f"<li>{_stands_html(build, one.verdict)}</li>" for one in found.first)
    cures = "".join(f"<li>{plain_text(_upper(words))}</li>" for words, _ in cure_lines(build, found))
    cures = f"<p><b>What cures it</b></p><ul>{cures}</ul>" if cures else ""
    if instead:
        cures = f"<p>{plain_text(instead)}</p>"
    return f"<p><b>To mend first</b>{_after(found)}</p><ol>{lines}</ol>{cures}{_advice_html(found)}"


def _stands_html(build, verdict):
    state = say_state(verdict.state) + (": borrowed" if verdict.borrowed else "")
    return f"<b>{state}</b> {plain_text(stands_line(build, verdict))}"


def _advice_html(found):
    told = told_advice(found)
    return (f"<p>{plain_text(told)}</p>" if told else "") + _assumed_html(found)


def _after(found):
    if not found.first:
        return f": {NONE}"
    return f", and {found.more} more below" if found.more else ""


def assumed_lines(found):
    """What most limits rest on and the sheet only assumes: the field, how many limits, and where it is typed.

    found: ToMend.
    Returns list of plain text, the most first.
    """
    made = []
    for path, words, count in found.assumed[:MOST_FIELDS]:
        section = key_of(path).section if key_of(path) is not None else path.split(".")[0]
        where = next((g.title for g in groups() if section in g.sections), "more")
        made.append(f"{words}: {'1 limit' if count == 1 else f'{count} limits'}, group {where}")
    more = len(found.assumed) - len(made)
    return [*made, *([f"and {more} more"] if more > 0 else [])]


def _assumed_html(found):
    lines = "".join(f"<li>{plain_text(words)}</li>" for words in assumed_lines(found))
    return f"<p><b>{SAY}</b></p><ul>{lines}</ul>" if lines else ""


def told_advice(found):
    """What only rests on what is assumed or borrowed, and what only advises, in sentences; "" without any.

    found: ToMend.
    """
    names, told = [v.what for v in found.advice], []
    if found.resting:
        limits = "One limit rests" if found.resting == 1 else f"{found.resting} limits rest"
        told.append(
            f"{limits} on what the sheet only assumes or borrows: not known before you measure it, or state it as what "
            "you know."
        )
    if names:
        told.append(f"Advice, not limits, to look at: {'; '.join(names)}.")
    return " ".join(told)


def mend_panel(build: Build, found: ToMend, beside: Kept | None = None) -> Kept:
    """The lines of what to mend first, each with a button that tries its cure in a panel.

    build: Build. found: ToMend. beside: the panel of the page, or None where there is none.
    Returns a widget box with `.buttons`.
    """
    return _Mending(build, found, beside)


class _Mending(Kept):
    def __init__(self, build, found, beside):
        self.build, self.found, self.buttons = build, found, []
        rows = [widgets.HTML(f"<b>To mend first</b>{_after(found)}")]
        for number, one in enumerate(found.first, 1):
            rows.append(_told(on_page(f"{number}. {_stands_html(build, one.verdict)}")))
        for words, cure in cure_lines(build, found):
            told, tried = _told(on_page(plain_text(_upper(words))), flex="1 1 500px"), widgets.HTML()
            button = self._button(cure, beside, tried)
            rows.append(widgets.HBox([told, *button], layout={"align_items": "center"}))
            rows += [tried] if button else []
        rows.append(widgets.HTML(on_page(plain_text(told_advice(found)) + _assumed_html(found))))
        super().__init__(rows)

    def _button(self, cure: Cure | None, beside, tried):
        if cure is None or beside is None:
            return []
        button = widgets.Button(description="try it in the panel", layout={"width": "170px", "flex": "0 0 auto"})
        moves = dict(cure.moves)

        def try_it(_):
            beside.try_on(moves, cure.words)
            tried.value = f"<i>{TRIED}</i>"

        button.on_click(try_it)
        self.buttons.append(button)
        return [button]

    def kept(self):
        """What the saved page shows of it without a kernel."""
        return {
            "text/plain": "What to mend first, with buttons that try each cure: run this page.",
            "text/html": on_page(mend_html(self.build, self.found)),
        }, {}


def _told(html, **layout):
    return widgets.HTML(f'<div style="line-height:1.35">{html}</div>', layout=layout)
