"""The build card as HTML: black on white, told apart by weight and line, set for A4 paper."""

from dataclasses import replace
from types import MappingProxyType

from ...basics.escape import plain_text
from ...sheet.borrowed import borrowed
from ...studies.card.heated import over_words
from ..page.lesson import known_inputs
from .picture import picture_tag
from .sources import card_sources
from .words import expected_words

STYLE = """
@media screen { .card { zoom: 1.25 } }
.card { font: 8pt/1.1 "Liberation Sans", Arial, Helvetica, sans-serif; color: #000; background: #fff;
  max-width: 194mm }
.card h1 { font: bold 13pt/1.1 "Liberation Sans", Arial, Helvetica, sans-serif; margin: 0 0 .8mm; padding: 0 }
.card h2 { font: bold 8.5pt/1.1 "Liberation Sans", Arial, Helvetica, sans-serif; margin: .8mm 0 0; padding: 0;
  border-bottom: 1pt solid #000; break-after: avoid } .card h2 span { font-weight: normal; font-size: 8pt }
.card p { margin: .5mm 0 } .card .columns { columns: 2 78mm; column-gap: 4mm }
.card .row { display: flex; break-inside: avoid; border-bottom: .4pt solid #777 }
.card .said { flex: 1; display: flex; flex-wrap: wrap; justify-content: space-between; column-gap: 2mm;
  padding: .2mm 0; overflow-wrap: anywhere; min-width: 0 }
.card .said b { margin-left: auto; text-align: right } .card .said i { flex-basis: 100% }
.card .space { flex: none; width: 15.5mm; min-height: 4.1mm; border: .8pt solid #000; margin: .2mm 0 .2mm 1.2mm }
.card .stop { border: 2pt solid #000; padding: .6mm 1.6mm; font-weight: bold; margin: .8mm 0 }
.card img { display: block; width: 100%; max-height: 54mm; object-fit: contain; margin: .5mm auto; break-inside: avoid }
.card ul { margin: .3mm 0 0; padding-left: 3.2mm }
"""
PAPER = """
@page { size: A4; margin: 6mm 8mm 7.5mm;
  @bottom-right { content: counter(page) " / " counter(pages); font: 8pt sans-serif } }
@media print { body { margin: 0 } .card { max-width: none } }
"""
DRAWN_IN = "7"  # the section that the picture belongs to


def _safe(text):
    return plain_text(text, quote=True)


def _row(build, row):
    space = f'<div class="space" title="{_safe(row.what)}"></div>' if row.ask else ""
    expected, outside = _safe(expected_words(build, row)), _safe(row.outside)
    outside = f"<i>{outside}</i>" if outside else ""
    said = f"<span>{_safe(row.what)}</span> <b>{expected}</b>{outside}"
    return f'<div class="row"><div class="said">{said}</div>{space}</div>'


def _head(section):
    said = f" <span>{_safe(section.said)}</span>" if section.said else ""
    return f"<h2>{_safe(section.title)}{said}</h2>"


def _section(build, section, head=True):
    return f"{_head(section) if head else ''}{''.join(_row(build, row) for row in section.rows)}"


def _columns(parts):
    return f'<div class="columns">{"".join(parts)}</div>' if parts else ""


def _list(title, items):
    return f"<h2>{title}</h2><ul>{''.join(f'<li>{item}</li>' for item in items)}</ul>" if items else ""


def _run_in(title, items):
    told = " · ".join(items)
    return f"<h2>{title}</h2><p>{told}</p>" if told else ""


def _known(build):
    """How the tool's own inputs are known: other reels of the sheet are not of it."""
    own = None if build.coil is None else build.coil.wire
    of_it = {p: k for p, k in build.known.items() if own is None or not p.startswith("wire.") or f".{own}." in p}
    build = replace(build, known=MappingProxyType(of_it))
    rows = [f"<b>{_safe(how)}</b> ({_safe(means)}): {_safe(inputs)}" for how, means, inputs in known_inputs(build)]
    return _list("What was measured and what assumed", rows)


def card_html(build, card, picture="", so_far=""):
    """The card as a piece of HTML with its style, for a page or for paper.

    build: Build. card: Card of it. picture: tag of a picture to stand with the parts. so_far: as
    card_document.
    Returns text; what the user typed is escaped.
    """
    kind = " – an invented demo: nobody built this one" if card.invented else ""
    top = f"<h1>Build card: {_safe(card.name)}{kind}</h1>"
    if card.stop:
        top += f'<p class="stop">STOP. Nothing is worked out for this sheet. {_safe(card.stop)}</p>'
    stops = [r for r in card.cautions if r["sentence"].startswith("Stop:")]
    top += "".join(f'<p class="stop">{_safe(r["sentence"])} Defer to: {_safe(r["defer_to"])}.</p>' for r in stops)
    lent = borrowed(build)
    if lent:
        words = f"Still borrowed from the demo {build.begun_from}: {', '.join(lent)}. Read your own before you build."
        top += f'<p class="stop">{_safe(words)}</p>'
    if card.over:
        over = "; ".join(_safe(over_words(build, v)) for v in card.over)
        top += f'<p class="stop">Past a limit as planned: {over}.'
        top += f"<br>{_safe(card.opposite)}</p>" if card.opposite else "</p>"
    top += f'<p class="stop">{_safe(_open_words(card))}</p>' if not card.stop and _open_words(card) else ""
    if card.unjudged and not card.stop:
        top += f'<p class="stop">No temperature is judged: this card only helps to read on. {_safe(card.unjudged)}</p>'
    top += "<p>Date _______ Sheet ______ Meter ______ Room ______ Each line: what, <b>what to expect (90 % "
    top += "band)</b>, <i>what to do if not</i>, a box. Local code decides.</p>"
    top += f"<p>{_safe(so_far)}</p>" if so_far else ""
    rest = [f"{_safe(r['sentence'])} <i>Defer to: {_safe(r['defer_to'])}.</i>" for r in card.cautions if r not in stops]
    sources = "Sources of the limits (titles of standards: data/sources.csv)", map(_safe, card_sources(card))
    end = [_known(build), _list("Cautions", rest), _run_in(*sources)]
    return f'<style>{STYLE}</style><div class="card">{top}{_body(build, card, picture)}{_columns(end)}</div>'


def _open_words(card):
    """What the card does not judge, and that nothing switches off by itself, in sentences."""
    told = [f"Not judged, nobody knows it: {'; '.join(card.open)}."] if card.open else []
    if card.resting:
        one = card.resting == 1
        told.append(
            f"{card.resting} more {'limit rests' if one else 'limits rest'} on what is only assumed or borrowed."
        )
    if not card.cut_out:
        told.append("No thermal cut-out is chosen: never leave it switched on and alone.")
    return " ".join(told)


def _body(build, card, picture):
    """The sections in two columns, the picture across both where its own section begins."""
    at = next((i for i, s in enumerate(card.sections) if s.title.startswith(DRAWN_IN)), None)
    made = [_section(build, s, i != at or not picture) for i, s in enumerate(card.sections)]
    if at is None or not picture:
        return picture + _columns(made)
    return _columns(made[:at]) + _head(card.sections[at]) + picture + _columns(made[at:])


def card_document(build, card, so_far=""):
    """The card as a whole HTML file for A4 paper; it fetches nothing.

    build: Build. card: Card of it. so_far: what the maker's tools so far say of this one, "" for nothing.
    """
    picture = "" if card.stop else picture_tag(build)
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Build card: {_safe(card.name)}</title>'
        f"<style>{PAPER}</style></head><body>{card_html(build, card, picture, so_far)}</body></html>\n"
    )
