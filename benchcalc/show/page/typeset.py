"""How a derivation looks: each line as symbol = symbols = numbers with units = result.

Numbers stand in display units, each with its unit.  Where a literal carries a unit of its own
(a rule of thumb in SI), mixed units would not add up, so that line's numbers stand in SI.
"""

import html
import math
import operator
import re
from dataclasses import dataclass

import numpy as np

from ...basics import names


@dataclass(frozen=True)
class Term:
    """A number with a name: glossary key, LaTeX symbol (primed where two would clash), SI value."""

    key: str
    symbol: str
    value: float


_DO = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
    "^": operator.pow,
    "neg": operator.neg,
    "sqrt": np.sqrt,
    "exp": np.exp,
    "log": np.log,
    "arcsin": np.arcsin,
    "pi": lambda: np.pi,
}
# SI unit of each suffix, and its size in odd units of length, time, volt, ampere and kelvin: an
# expression that keeps its meaning in those has no literal with a unit of its own.
_M, _S, _V, _A, _K = 2.0, 3.0, 5.0, 7.0, 11.0
_KG = _V * _A * _S**3 / _M**2
SI = {
    "ohm_per_m": ("ohm/m", _V / _A / _M),
    "ohm_m": ("ohm m", _V / _A * _M),
    "w_m": ("W/m", _V * _A / _M),
    "w_m2": ("W/m2", _V * _A / _M**2),
    "w_mk": ("W/(m K)", _V * _A / _M / _K),
    "w_m2k": ("W/(m2 K)", _V * _A / _M**2 / _K),
    "j_kgk": ("J/(kg K)", _V * _A * _S / _KG / _K),
    "kg_m3": ("kg/m3", _KG / _M**3),
    "per_k": ("1/K", 1 / _K),
    "m_s": ("m/s", _M / _S),
    "pa": ("Pa", _V * _A * _S / _M**3),
    "j": ("J", _V * _A * _S),
    "n": ("N", _V * _A * _S / _M),
    "m3": ("m3", _M**3),
    "m2": ("m2", _M**2),
    "ohm": ("ohm", _V / _A),
    "m": ("m", _M),
    "kg": ("kg", _KG),
    "v": ("V", _V),
    "va": ("VA", _V * _A),
    "a": ("A", _A),
    "w": ("W", _V * _A),
    "s": ("s", _S),
    "c": ("degC", _K),
    "k": ("K", _K),
    "v_m": ("V/m", _V / _M),
    "life_s": ("s", _S),
    "k_per_w": ("K/W", _K / _V / _A),
    "j_k": ("J/K", _V * _A * _S / _K),
    "": ("", 1.0),
}
_ZERO_SHIFT = 13.0
# How tightly a piece of formula holds together: parentheses where the place asks for more.
_MINUS, _SUM, _PRODUCT, _UNIT, _POWER, _ATOM = range(6)
_WIDE = 72
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


def terms(tree):
    """The Terms of a tree, from left to right.  tree: Term, literal, None or (operation, trees)."""
    if isinstance(tree, tuple):
        return [term for part in tree[1:] for term in terms(part)]
    return [tree] if isinstance(tree, Term) else []


def primed(symbol):
    """The LaTeX symbol with a prime, for a second number of the same name."""
    return (f"{{{symbol}}}" if "^" in symbol else symbol) + "'"


def value_of(tree, meaning):
    """The value of a tree.  meaning: function from a Term to its number."""
    if isinstance(tree, tuple):
        return _DO[tree[0]](*(value_of(part, meaning) for part in tree[1:]))
    return np.float64(meaning(tree) if isinstance(tree, Term) else tree)


def _needs_si(step):
    """Does a literal of this step carry a unit of its own?"""

    def odd(term):
        suffix = names.suffix_of(term.key)
        return term.value * SI[suffix][1] + (_ZERO_SHIFT if suffix == "c" else 0.0)

    with np.errstate(all="ignore"):
        return not np.isclose(value_of(step.tree, odd), odd(step.term), rtol=1e-7, equal_nan=True)


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
            again = value_of(step.tree, lambda term: _number(term, figures, way)[2])
        if abs(result(again) - wanted) <= last_digit:
            return figures
    return 9


def _plain(symbol):
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


def _symbol(term, tex):
    """A symbol as (text, level)."""
    text = re.sub(r"_\{([A-Za-z]{2,})\}", r"_{\\mathrm{\1}}", term.symbol) if tex else _plain(term.symbol)
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
    way = "SI" if _needs_si(step) else shown
    figures = _figures(step, way)

    def number(term, figures=figures, way=way):
        return _literal(*_number(term, figures, way)[:2], tex)

    pieces = [
        _symbol(step.term, tex)[0],
        _draw(step.tree, lambda term: _symbol(term, tex), tex, False)[0],
        _draw(step.tree, number, tex, True)[0],
        number(step.term, 4)[0],
        number(step.term, 4, shown)[0],
    ]
    return [piece for n, piece in enumerate(pieces) if n == 0 or piece != pieces[n - 1]]


def as_latex(derivation, *, units=None, degrees=None):
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
            said.setdefault(_symbol(term, True)[0], names.name(term.key).word)
    return "; ".join(f"{mark[0]}{symbol}{mark[1]}: {word}" for symbol, word in said.items()) + "."


def as_markdown(derivation, *, units=None, degrees=None):
    """Claim, formulas and the meaning of each symbol, as Markdown for a saved page.

    derivation, units, degrees: as `as_latex`.
    """
    formulas = as_latex(derivation, units=units, degrees=degrees)
    claim = html.escape(derivation.claim, quote=False)
    return f"{claim}\n\n$$\n{formulas}\n$$\n\n{_where(derivation, '$$')}"


def as_html(derivation, *, units=None, degrees=None):
    """The same as `as_markdown`, for an HTMLMath widget.

    derivation, units, degrees: as `as_latex`.
    """
    formulas = html.escape(as_latex(derivation, units=units, degrees=degrees), quote=False)
    words = html.escape(_where(derivation, (r"\(", r"\)")), quote=False)
    return (
        f"<p>{html.escape(derivation.claim)}</p>"
        rf"<p>\(\displaystyle {formulas}\)</p><p>{words}</p>"
    )


def as_text(derivation, *, units=None, degrees=None):
    """The derivation in plain letters: the claim, then one line a step.

    derivation, units, degrees: as `as_latex`.
    """
    way = {"units": units or derivation.units, "degrees": degrees or derivation.degrees}
    return "\n".join(
        [derivation.claim]
        + [f"{names.name(step.key).word}: " + " = ".join(line(step, **way, tex=False)) for step in derivation.steps]
    )
