"""How every paper of the class looks: black on white, fetching nothing."""

from ...basics.escape import plain_text

STYLE = """@page { size: A4; margin: 14mm 15mm }
body { font: 10.5pt/1.4 "DejaVu Sans", Verdana, Arial, sans-serif; color: #000; background: #fff; margin: 0 }
h1 { font-size: 15pt; margin: 0 0 2mm } h2 { font-size: 11.5pt; margin: 4mm 0 1mm; break-after: avoid }
p { margin: 1mm 0 }
section { break-after: page } section:last-child { break-after: auto } .ask { break-inside: avoid; margin: 0 0 5mm }
.space { display: inline-block; border-bottom: .8pt solid #000; min-width: 55mm; height: 6mm }
.work { border: .5pt solid #777; height: 20mm; margin: 1mm 0 0 }
table { border-collapse: collapse; width: calc(100% - 2pt); font-size: 9pt } tr { break-inside: avoid }
td, th { border: .5pt solid #555; padding: .8mm 1.5mm; text-align: left; vertical-align: top }
td.blank { min-width: 18mm } .edge { border-left: 1.5pt dashed #000 }
.kept { margin-right: 37mm } .edged .edge { width: 34mm } .kept td.blank { min-width: 10mm }
.kept .space { min-width: 40mm } .edged td, .edged th { padding: .6mm 1.2mm; font-size: 8.5pt }
pre { font: 9pt/1.2 "DejaVu Sans Mono", monospace; margin: 1mm 0 }
.stop { border: 2pt solid #000; padding: 1.5mm 3mm; font-weight: bold } li { margin: 1mm 0; break-inside: avoid }
.small { font-size: 8.5pt }
.key td { white-space: nowrap } .key td:nth-child(2) { white-space: normal }
.grid { width: 100%; height: 82mm; border: .8pt solid #000 }
.grid line { stroke: #777; stroke-width: .3 }"""
SPACE = '<span class="space"></span>'


def cells_to_rows(cells) -> str:
    """Table rows.  cells: rows of HTML texts.  Returns HTML."""
    return "".join(f"<tr>{''.join(f'<td>{cell}</td>' for cell in row)}</tr>" for row in cells)


def blanks(head: tuple, labels: tuple) -> str:
    """A table to write into.  head: column titles. labels: first cell of each row.  Returns HTML."""
    empty = "".join('<td class="blank">&nbsp;</td>' for _ in head[1:])
    body = "".join(f"<tr><td>{label}</td>{empty}</tr>" for label in labels)
    return f"<table><tr>{''.join(f'<th>{h}</th>' for h in head)}</tr>{body}</table>"


def graph_grid(across: str, up: str, columns: int = 20, rows: int = 10) -> str:
    """A grid to plot on.  across, up: what goes along the axes. columns, rows: squares.  Returns HTML."""
    lines = "".join(f'<line x1="{10 * i}" y1="0" x2="{10 * i}" y2="{10 * rows}"/>' for i in range(1, columns))
    lines += "".join(f'<line x1="0" y1="{10 * i}" x2="{10 * columns}" y2="{10 * i}"/>' for i in range(1, rows))
    return (
        f'<p class="small">upwards: {up}</p><svg class="grid" viewBox="0 0 {10 * columns} {10 * rows}" '
        f'preserveAspectRatio="none">{lines}</svg><p class="small" style="text-align:right">across: {across}</p>'
    )


def document(title: str, *sections: str) -> str:
    """A paper.  title: plain text. sections: HTML, a new sheet each.  Returns HTML."""
    body = "".join(f"<section>{s}</section>" for s in sections)
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{plain_text(title)}</title>'
        f"<style>{STYLE}</style></head><body>{body}</body></html>\n"
    )
