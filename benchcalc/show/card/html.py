"""The build card as HTML: black on white, told apart by weight and line, set for A4 paper."""

from ...basics.escape import plain_text
from ...sheet.borrowed import borrowed
from ...studies.card.heated import over_words
from ..page.lesson import known_inputs
from .picture import picture_tag
from .words import expected_words

STYLE = """
.card { font: 7.6pt/1.18 "DejaVu Sans", Verdana, Arial, sans-serif; color: #000; background: #fff; max-width: 190mm }
.card h1 { font-size: 14pt; margin: 0 0 1mm; padding: 0 } .card p { margin: .6mm 0 }
.card h2 { font-size: 9.5pt; margin: 2.5mm 0 .8mm; padding: 0; border-bottom: .5pt solid #000; break-after: avoid }
.card table { border-collapse: collapse; width: 100%; margin: 0; table-layout: fixed; font-size: inherit }
.card table td, .card table th { border-bottom: .4pt solid #777; padding: .35mm 1mm; text-align: left !important;
  vertical-align: top; font-size: inherit; white-space: normal; background: #fff; color: #000; overflow-wrap: anywhere }
.card thead { display: table-header-group } .card tr { break-inside: avoid }
.card table tr.step th { border-bottom: 1pt solid #000; padding-top: 1.1mm; font-weight: bold }
.card tr.step { break-after: avoid } .card tr.step span { font-weight: normal }
.card table td.space { border: .8pt solid #000 } .card table td.none { color: #555; text-align: center }
.card table td.expected { font-weight: bold } .card table td.outside { font-size: 7pt }
.card .stop { border: 2pt solid #000; padding: 1mm 2mm; font-weight: bold; margin: 1mm 0 }
.card img { display: block; max-width: 100%; max-height: 54mm; margin: .5mm auto; filter: brightness(1.04) }
.card ul { columns: 2; column-gap: 5mm; margin: 0; padding-left: 4mm; font-size: 6.8pt }
.card li { break-inside: avoid }
.card .small { font-size: 7.2pt }
"""
PAPER = """
@page { size: A4; margin: 9mm 10mm 11mm;
  @bottom-right { content: counter(page) " / " counter(pages); font: 7pt sans-serif } }
@media print { body { margin: 0 } .card { max-width: none } }
"""
COLUMNS = (("what", 32), ("expected (90 % band)", 28), ("reading", 11), ("if it is not", 29))


def _safe(text):
    return plain_text(text, quote=True)


def _row(build, row):
    space = '<td class="space"></td>' if row.ask else '<td class="none">–</td>'
    expected = _safe(expected_words(build, row))
    return (
        f'<tr><td>{_safe(row.what)}</td><td class="expected">{expected}</td>{space}'
        f'<td class="outside">{_safe(row.outside)}</td></tr>'
    )


def _section(build, section):
    said = f" <span>{_safe(section.said)}</span>" if section.said else ""
    head = f'<tr class="step"><th colspan="4" scope="rowgroup">{_safe(section.title)}{said}</th></tr>'
    return f"<tbody>{head}{''.join(_row(build, row) for row in section.rows)}</tbody>"


def _list(title, items):
    return f"<h2>{title}</h2><ul>{''.join(f'<li>{item}</li>' for item in items)}</ul>" if items else ""


def _known(build):
    rows = [f"<b>{_safe(how)}</b> ({_safe(means)}): {_safe(inputs)}" for how, means, inputs in known_inputs(build)]
    return _list("What was measured and what assumed", rows)


def card_html(build, card, picture=""):
    """The card as a piece of HTML with its style, for a page or for paper.

    build: Build. card: Card of it. picture: tag of a picture to stand above the rows.
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
        top += f'<p class="stop">Past a limit as planned: {over}.</p>'
    top += '<p class="small">Date ________ Sheet and version ________ Meter ________ Room ________ '
    top += "Estimates with bands; measure before you trust one. Local code decides.</p>"
    widths = "".join(f'<col style="width:{wide}%">' for _, wide in COLUMNS)
    heads = "".join(f'<th scope="col">{head}</th>' for head, _ in COLUMNS)
    body = "".join(_section(build, section) for section in card.sections)
    table = f"<table><colgroup>{widths}</colgroup><thead><tr>{heads}</tr></thead>{body}</table>"
    rest = [f"{_safe(r['sentence'])} <i>Defer to: {_safe(r['defer_to'])}.</i>" for r in card.cautions if r not in stops]
    end = _known(build) + _list("Cautions", rest) + _list("Sources of the limits", [_safe(s) for s in card.sources])
    return f'<style>{STYLE}</style><div class="card">{top}{picture}{table}{end}</div>'


def card_document(build, card):
    """The card as a whole HTML file for A4 paper; it fetches nothing.

    build: Build. card: Card of it.
    """
    picture = "" if card.stop else picture_tag(build)
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Build card: {_safe(card.name)}</title>'
        f"<style>{PAPER}</style></head><body>{card_html(build, card, picture)}</body></html>\n"
    )
