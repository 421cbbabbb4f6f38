"""One line of a derivation as text or LaTeX: symbol = symbols = numbers with units = result.

Numbers stand in display units, each with its unit.  Where a literal carries a unit of its own
(a rule of thumb in SI), mixed units would not add up, so that line's numbers stand in SI.
"""

import math
import re

import numpy as np

from ...basics import names
from .terms import SI, Term, needs_si, value_of

# How tightly a piece of formula holds together: parentheses where the place asks for more.
_MINUS, _SUM, _PRODUCT, _UNIT, _POWER, _ATOM = range(6)


_LETTERS = {
    "ell": "ℓ",
    "rho": "ρ",
    "varrho": "ϱ",
    "Delta": "Δ",
    "sim": "~",
    "sigma": "σ",
    "varepsilon": "ε",
    "epsilon": "ε",
    "lambda": "λ",
    "alpha": "α",
    "beta": "β",
    "eta": "η",
    "tau": "τ",
    "vartheta": "ϑ",
    "theta": "θ",
    "phi": "φ",
    "varphi": "φ",
    "mu": "μ",
    "nu": "ν",
    "kappa": "κ",
    "gamma": "γ",
    "delta": "δ",
    "Phi": "Φ",
    "pi": "π",
}


_UNITS = {"ohm": r"\Omega", "uohm": r"\mu\Omega", "degC": r"{}^{\circ}\mathrm{C}", "degF": r"{}^{\circ}\mathrm{F}"}


def _number(term, figures, way):
    """(number text, unit text, SI value of that text).  way: "SI" or dict of units and degrees."""
    if way == "SI":
        unit, size, zero, number = *SI[names.suffix_of(term.key)][:1], 1.0, 0.0, term.value
    else:
        unit, size = names.display(term.key, **way)
        number = names.shown(term.key, term.value, **way)
        zero = 32.0 if unit == "degF" else 0.0
    text = names.digits(number, figures)
    if not math.isfinite(number):
        return text, "", term.value
    short = re.sub(r"\.?0+(?=e|$)", "", text) if "." in text else text
    if math.isclose(float(short), number, rel_tol=1e-9):
        text = short
    return text, unit, (float(text) - zero) * size


def _figures(step, way):
    """The fewest figures (4 to 9) in which the numbers of a line give its result."""

    def result(value):
        return value if way == "SI" else names.shown(step.key, value, **way)

    wanted = result(step.value)
    if not (math.isfinite(wanted) and wanted):
        return 4
    last_digit = 10.0 ** (math.floor(math.log10(abs(wanted))) - 3)
    for figures in range(4, 9):
        with np.errstate(all="ignore"):
            again = value_of(step.tree, lambda term, figures=figures: _number(term, figures, way)[2])
        if abs(result(again) - wanted) <= last_digit:
            return figures
    return 9


def _unset(symbol):
    """A LaTeX symbol as text: R_{20} -> R_20."""
    text = re.sub(r"\\([A-Za-z]+) ?", lambda m: _LETTERS.get(m[1], m[1]), symbol)
    return text.replace("{", "").replace("}", "")


def unit_tex(unit):
    """A unit text as LaTeX: "W/cm2" -> \\mathrm{W}/\\mathrm{cm}^{2}."""

    def letter(m):
        if m[3]:
            return r"\,"
        return _UNITS.get(m[1], rf"\mathrm{{{m[1]}}}") + (f"^{{{m[2]}}}" if m[2] else "")

    return re.sub(r"([A-Za-z]+)(\d?)|( )", letter, unit.replace(" (difference)", ""))


def _literal(number, unit, tex):
    """A number text with its unit as (text, level)."""
    level = _UNIT if unit else _ATOM
    if tex:
        power = re.fullmatch(r"(.+)e([+-]\d+)", number)
        if power:
            number, level = rf"{power[1]} \times 10^{{{int(power[2])}}}", _UNIT
        if not re.match(r"-?[\d.]", number):
            number = rf"\text{{{number}}}"
        unit = unit_tex(unit)
        unit = r"\," + unit if unit else ""
    else:
        unit = f" {unit}" if unit else ""
    return number + unit, (_MINUS if number.startswith("-") else level)


def symbol_text(term, tex):
    """A symbol as (text, level), the level telling how tightly it holds together.

    term: Term. tex: LaTeX, or plain text.
    """
    text = re.sub(r"_\{([A-Za-z]{2,})\}", r"_{\\mathrm{\1}}", term.symbol) if tex else _unset(term.symbol)
    sums = re.search(r" [-+] ", text)
    return text, _SUM if sums else _POWER if re.search(r"[\^']", text) else _ATOM


def _draw(tree, leaf, tex, figures):
    """A tree as (text, level).  leaf: function from a Term to (text, level); figures: are they numbers?"""
    if isinstance(tree, Term):
        return leaf(tree)
    if not isinstance(tree, tuple):
        return _literal(repr(tree), "", tex)
    act, parts = tree[0], [_draw(part, leaf, tex, figures) for part in tree[1:]]

    def put(which, least):
        text, level = parts[which]
        if level >= least or which == 0 and level == _MINUS and least <= _PRODUCT:
            return text
        return rf"\left({text}\right)" if tex else f"({text})"

    if act == "pi":
        return (r"\pi" if tex else "π"), _ATOM
    if act in "+-":
        least = _PRODUCT if act == "-" or parts[1][0].startswith("-") else _SUM
        return f"{put(0, _SUM)} {act} {put(1, least)}", _SUM
    if act == "*":
        left, right = put(0, _PRODUCT), put(1, _PRODUCT)
        sign = (r" \cdot " if figures or right[0].isdigit() else r" \, ") if tex else " × "
        return left + sign + right, _MINUS if left[0] == "-" else _PRODUCT
    if act == "/" and tex:
        return rf"\frac{{{parts[0][0]}}}{{{parts[1][0]}}}", _PRODUCT
    if act == "/":
        left = put(0, _PRODUCT)
        return f"{left} / {put(1, _POWER)}", _MINUS if left[0] == "-" else _PRODUCT
    if act == "^":
        return (f"{put(0, _ATOM)}^{{{parts[1][0]}}}" if tex else f"{put(0, _ATOM)}^{put(1, _ATOM)}"), _POWER
    if act == "neg":
        text, level = parts[0]
        inner = text if level >= _PRODUCT else rf"\left({text}\right)" if tex else f"({text})"
        return "-" + inner, _MINUS
    if act == "sqrt" and tex:
        return rf"\sqrt{{{parts[0][0]}}}", _POWER
    word = {"log": "ln"}.get(act, act)
    return (rf"\{word}\left({parts[0][0]}\right)" if tex else f"{word}({parts[0][0]})"), _POWER


def line(step, units="metric", degrees="C", tex=True):
    """One step as the pieces between its equals signs: (symbol, symbols, numbers, result, ...).

    step: Step. units: "metric" or "inch". degrees: "C" or "F". tex: LaTeX, or plain text.
    Pieces that would only repeat are left out; a result in SI is followed by its display unit.
    """
    shown = {"units": units, "degrees": degrees}
    way = "SI" if needs_si(step) else shown
    figures = _figures(step, way)

    def number(term, figures=figures, way=way):
        return _literal(*_number(term, figures, way)[:2], tex)

    pieces = [
        symbol_text(step.term, tex)[0],
        _draw(step.tree, lambda term: symbol_text(term, tex), tex, False)[0],
        _draw(step.tree, number, tex, True)[0],
        number(step.term, 4)[0],
        number(step.term, 4, shown)[0],
    ]
    return [piece for n, piece in enumerate(pieces) if n == 0 or piece != pieces[n - 1]]
