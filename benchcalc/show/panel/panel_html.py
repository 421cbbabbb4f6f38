"""The numbers and verdicts of a panel as HTML of fixed height, so that nothing jumps while they change."""

import re

from ...basics.escape import plain_text
from ...basics.names import say
from ..drawing.tag import image_tag
from ..editor.form_words import on_page
from ..page.table import MARKS, as_html, say_state, table
from ..page.typeset import derivation_html

WORKING = "working out the band"
LATE = "The verdicts follow when the slider rests."
CARD_PX, _ROW_PX, _WHY_PX, _A_ROW = 70, 22, 54, 6
_WRAP_PX = 4  # a row here and there has two lines
_CARD_WIDE_PX = 128
# Beside a picture of 830 px the verdicts need not be of a fixed height: the picture is taller, nothing jumps.
WIDE = (
    "<style>.bench-verdicts td{white-space:nowrap}.bench-verdicts td:nth-child(2){white-space:normal}"
    "@container (min-width: 1200px){.bench-verdicts{height:auto !important}.bench-verdicts td+td{white-space:normal}"
    f".bench-verdicts td{{padding:3px 8px !important}}.bench-cards{{min-height:{CARD_PX}px !important}}}}</style>"
)


def cards(rows, room, rest):
    """The headline numbers, each with its word above and its likely range below.

    rows: (word, text) pairs, text such as "20.3 W (16.3 to 23.4)". room: number of cards to keep
    room for. rest: False while the band is still to come, which is then said.
    Returns HTML.
    """
    told = []
    for word, text in rows:
        value, _, band = text.partition(" (")
        band = band.rstrip(")") if rest else WORKING
        told.append(
            '<div style="border-left:3px solid #c4621d;padding:1px 0 1px 8px;min-height:60px">'
            f'<div style="font-size:80%">{plain_text(word)}</div>'
            f'<div style="font-size:120%;font-weight:600">{plain_text(value)}</div>'
            f'<div style="font-size:80%">{plain_text(band)}&nbsp;</div></div>'
        )
    lines, half = -(-max(room, 1) // _A_ROW), -(-len(told) // 2)
    groups = [told] if len(told) < _A_ROW else [told[:half], told[half:]]  # side by side or one below the other
    grids = "".join(
        f'<div style="display:grid;grid-template-columns:repeat(auto-fit,minmax({_CARD_WIDE_PX}px,1fr));gap:8px;'
        f'flex:1 1 {(_CARD_WIDE_PX + 8) * min(len(group), 3)}px">{"".join(group)}</div>'
        for group in groups
    )
    how = f"display:flex;flex-wrap:wrap;align-items:flex-start;gap:8px;min-height:{CARD_PX * lines}px"
    return f'<div class="bench-cards" style="{how}">{grids}</div>'


def page_html(at, picture, tiles, told, caption, dim=""):
    """Picture, caption, numbers and verdicts of a panel: one text, so that they always belong together.

    at: Moved. picture: (png, (wide, tall) in px). tiles, told: cards and verdicts as HTML.
    caption: HTML below the picture. dim: style of what is no longer so.
    """
    png, (wide, tall) = picture
    look = f"width:100%;max-width:{wide}px;height:auto;aspect-ratio:{wide}/{tall};display:block;margin:0{dim}"
    return (
        f"{WIDE}"
        f'<div class="jp-RenderedHTMLCommon" style="padding:0;line-height:1.3;container-type:inline-size">'
        f'<div style="margin-bottom:4px{dim}">{tiles}</div>'
        f'<div style="display:flex;flex-wrap:wrap;gap:0 14px"><div style="flex:0 1 {wide}px;min-width:0">'
        f"{image_tag(png, at.caption, look, (wide, tall))}"
        f'<div style="height:74px;overflow:auto;margin:4px 0;font-size:88%">{caption}</div></div>'
        f'<div style="flex:1 1 360px;min-width:0{dim}">{told}</div>'
        "</div></div>"
    )


def told_verdicts(verdicts, room, build, late=False):
    """The verdicts, the worst first, and why the worst is as it is.

    verdicts: iterable of Verdict. room: number of rows to keep room for. build: Build, for its units. late: True for
    those of before, which stand dimmed until new ones come.
    Returns HTML.
    """
    way, order = {"units": build.units, "degrees": build.degrees}, list(MARKS)
    verdicts = sorted(verdicts, key=lambda v: (order.index(v.state), v.advice))
    rows = []
    for v in verdicts:
        stands = (
            "–" if v.state == "not known" else (f"{v.said(v.value, **way)}, {v.sense} {say(v.key, v.limit, **way)}")
        )
        state = say_state(v.state, v.advice and v.state in ("over", "tight")) + (": borrowed" if v.borrowed else "")
        rows.append((state, v.named, stands))
    text = re.sub(
        "<table[^>]*>", '<table style="margin:0;width:100%;table-layout:auto;font-size:88%">', as_html(table((), rows))
    )
    text = re.sub('(<td) style="text-align:right"', r'\1 style="text-align:left"', text)
    text = text.replace('<td style="', '<td style="padding:1px 8px;')
    text = text.replace("<tr>", f'<tr style="height:{_ROW_PX}px">')
    why = next((f"{v.named}: {on_page(v.why)}" for v in verdicts if v.state != "fine"), "")
    tall = (_ROW_PX + _WRAP_PX) * room + 4
    why, dim = (LATE, ";opacity:0.35") if late else (why, "")
    return (
        f'<div class="bench-verdicts" style="height:{tall}px;overflow:auto;margin-top:4px{dim}">{text}</div>'
        f'<div style="height:{_WHY_PX}px;overflow:auto;font-size:88%;margin-top:4px">{plain_text(why)}&nbsp;</div>'
    )


def at_its_end(handle):
    """That a slider is as far as it goes, which is where a browser puts what was typed beyond.

    handle: widget of a slider or choice, or None.
    Returns HTML, "" where it stands between its ends.
    """
    if handle is None or not hasattr(handle, "max") or handle.min < handle.value < handle.max:
        return ""
    ends = " to ".join(f"{end:{handle.readout_format}}" for end in (handle.min, handle.max))  # as it shows itself
    beyond = " Beyond that, type it on page 00." if handle.on_sheet else ""
    return f"<i>{plain_text(handle.description)}: this slider goes from {ends}.{beyond}</i>"


def math_px(derived):
    """Height that the derivations need at the start, so that nothing jumps later, px.  derived: as math_html."""
    derived = derived if isinstance(derived, (list, tuple)) else [derived]
    return min(460, 40 + sum(90 if isinstance(d, str) else 75 + 38 * len(d.steps) for d in derived))


def math_html(derived):
    """Where the slider last rested, worked.  derived: Derivation or HTML text, or several.  Returns HTML."""
    derived = derived if isinstance(derived, (list, tuple)) else [derived]
    told = "".join(d if isinstance(d, str) else derivation_html(d) for d in derived)
    return f'<p style="margin:0"><i>Worked where the slider last rested:</i></p>{told}'
