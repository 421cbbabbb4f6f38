"""Any page on paper: python -m benchcalc.show.card.page_paper notebooks/NAME.ipynb --to FOLDER.

The stored page by ordinary Jupyter conversion, its code left out, its formulas set here as drawings, so that neither a
script nor the network is needed; PDF too where Chromium is.
"""

import argparse
import base64
import html
import io
import re
from pathlib import Path

from ...basics.fault import Fault, fault
from .paper import to_pdf

FORMULA = re.compile(r"\$\$(.+?)\$\$|(?<![\\$])\$([^$\n]+?)\$", re.S)
STYLE = """<style>@page { size: A4; margin: 12mm }
body { font: 10pt/1.35 "DejaVu Sans", Verdana, sans-serif; color: #000 }
table { border-collapse: collapse; font-size: 8.5pt } td, th { border-bottom: .4pt solid #777; padding: .5mm 1.5mm }
img { max-width: 100%; break-inside: avoid } img.formula { vertical-align: middle } tr { break-inside: avoid }
h1, h2, h3 { break-after: avoid } pre { white-space: pre-wrap } a { color: #000 } .anchor-link { display: none }
details > * { display: block }</style>"""


def set_formula(latex):
    """One line of a formula as an HTML drawing.

    latex: without dollar signs.
    Returns tag; the LaTeX itself where it cannot be set.
    """
    from matplotlib.mathtext import math_to_image

    plain = re.sub(r"\\[tdc]frac\b", r"\\frac", latex.replace(r"\displaystyle", "")).replace("&", "").strip()
    made = io.BytesIO()
    try:
        math_to_image(f"${plain}$", made, dpi=100, format="svg")
    except (ValueError, RuntimeError):
        return f"<code>{html.escape(plain)}</code>"
    data = base64.b64encode(made.getvalue()).decode()
    said = html.escape(plain, quote=True).replace("_", "&#95;").replace("*", "&#42;")
    return f'<img class="formula" alt="{said}" src="data:image/svg+xml;base64,{data}">'


def with_formulas(text):
    """Markdown with its formulas set as drawings.  text: Markdown."""

    def one(found):
        if found[2] is not None:
            return set_formula(found[2])
        body = re.sub(r"\\(?:begin|end)\{aligned\}", "", found[1])
        rows = [r for r in re.split(r"\\\\(?:\[[^\]]*\])?", body) if r.strip()]
        return "\n\n" + "<br>".join(set_formula(" ".join(r.split())) for r in rows) + "\n\n"

    return FORMULA.sub(one, text)


def page_document(path: Path) -> str:
    """A stored page as HTML for paper.

    path: of the notebook.
    Returns the HTML, which fetches nothing.  Raises Fault: not there, or no notebook.
    """
    import nbformat
    from nbconvert import HTMLExporter

    try:
        notebook = nbformat.read(path, as_version=4)
    except (OSError, ValueError) as why:
        raise fault("page", str(path), "cannot be read as a notebook.", str(why)[:200]) from None
    for cell in notebook.cells:
        if cell.cell_type == "markdown":
            cell.source = with_formulas(cell.source)
        for output in cell.get("outputs", []):
            data = output.get("data", {})
            if "text/markdown" in data:
                data["text/markdown"] = with_formulas(data["text/markdown"])
    exporter = HTMLExporter(template_name="basic", exclude_input=True, exclude_input_prompt=True)
    exporter.exclude_output_prompt = True
    body, _ = exporter.from_notebook_node(notebook)
    title = html.escape(path.stem.replace("_", " "))
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{title}</title>{STYLE}</head>'
        f"<body>{body}</body></html>\n"
    )


def print_pages(words=None):
    """The command.  words: arguments, None for those of the command line.  Returns 0, or 1 where a page is refused."""
    asked = argparse.ArgumentParser(prog="python -m benchcalc.show.card.page_paper", description=__doc__)
    asked.add_argument("page", type=Path, nargs="+", help="stored pages, such as notebooks/02_wire_sizing.ipynb")
    asked.add_argument("--to", type=Path, default=Path("paper"), help="folder to write into (default: paper)")
    given, bad = asked.parse_args(words), 0
    given.to.mkdir(parents=True, exist_ok=True)
    for page in given.page:
        try:
            file = given.to / f"{page.stem}.html"
            file.write_text(page_document(page), encoding="utf-8")
            print(file)
            print(to_pdf(file, file.with_suffix(".pdf")))
        except Fault as told:
            print(told)
            bad = 1
    return bad


if __name__ == "__main__":
    raise SystemExit(print_pages())
