"""The tree of a formula: its terms, its value, and whether a literal in it carries a unit of its own."""

import operator
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
    "w_k": ("W/K", _V * _A / _K),
    "j_kgk": ("J/(kg K)", _V * _A * _S / _KG / _K),
    "kg_m3": ("kg/m3", _KG / _M**3),
    "per_k": ("1/K", 1 / _K),
    "m_s": ("m/s", _M / _S),
    "a_s": ("A s", _A * _S),
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


def needs_si(step):
    """Does a literal of this step carry a unit of its own?  step: Step of a derivation."""

    def odd(term):
        suffix = names.suffix_of(term.key)
        return term.value * SI[suffix][1] + (_ZERO_SHIFT if suffix == "c" else 0.0)

    with np.errstate(all="ignore"):
        return not np.isclose(value_of(step.tree, odd), odd(step.term), rtol=1e-7, equal_nan=True)
