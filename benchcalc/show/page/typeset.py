"""How a derivation looks: as LaTeX, Markdown, HTML or plain letters."""

import html

from ...basics import names
from .formula_text import line, symbol_text
from .terms import terms

_WIDE = 72


def derivation_latex(derivation, *, units=None, degrees=None):
    """The derivation as one aligned LaTeX block, without delimiters.

    derivation: from `worked`. units: "metric" or "inch"; degrees: "C" or "F"; None: its own.
    """
    way = {"units": units or derivation.units, "degrees": degrees or derivation.degrees}
    rows = []
    for step in derivation.steps:
        pieces, plain = line(step, **way), line(step, **way, tex=False)
        row, wide = f"{pieces[0]} &= {pieces[1]}", len(plain[1])
        for piece, text in zip(pieces[2:], plain[2:]):
            wide += len(text)
            if wide > _WIDE:
                row, wide = rf"{row} \\ &", len(text)
            row += f" = {piece}"
        rows.append(row)
    return "\\begin{aligned}\n" + " \\\\[4pt]\n".join(rows) + "\n\\end{aligned}"


def _where(derivation, mark):
    """What each symbol stands for, once, in order of appearance."""
    said = {}
    for step in derivation.steps:
        for term in [*terms(step.tree), step.term]:
            said.setdefault(symbol_text(term, True)[0], names.name(term.key).word)
    return "; ".join(f"{mark[0]}{symbol}{mark[1]}: {word}" for symbol, word in said.items()) + "."


def derivation_markdown(derivation, *, units=None, degrees=None):
    """Claim, formulas and the meaning of each symbol, as Markdown for a saved page.

    derivation, units, degrees: as `derivation_latex`.
    """
    formulas = derivation_latex(derivation, units=units, degrees=degrees)
    claim = html.escape(derivation.claim, quote=False)
    return f"{claim}\n\n$$\n{formulas}\n$$\n\n{_where(derivation, '$$')}"


def derivation_html(derivation, *, units=None, degrees=None):
    """The same as `derivation_markdown`, for an HTMLMath widget.

    derivation, units, degrees: as `derivation_latex`.
    """
    formulas = html.escape(derivation_latex(derivation, units=units, degrees=degrees), quote=False)
    words = html.escape(_where(derivation, (r"\(", r"\)")), quote=False)
    return (
        f"<p>{html.escape(derivation.claim)}</p>"
        rf"<p>\(\displaystyle {formulas}\)</p><p>{words}</p>"
    )


def derivation_text(derivation, *, units=None, degrees=None):
    """The derivation in plain letters: the claim, then one line a step.

    derivation, units, degrees: as `derivation_latex`.
    """
    way = {"units": units or derivation.units, "degrees": degrees or derivation.degrees}
    return "\n".join(
        [derivation.claim]
        + [f"{names.name(step.key).word}: " + " = ".join(line(step, **way, tex=False)) for step in derivation.steps]
    )
