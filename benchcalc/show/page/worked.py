"""The formula on the screen is the formula that ran: worked derivations of straight functions.

A straight function is a docstring, lines `name_unit = expression`, and `return name`.  Its
expressions are read from its source, its numbers from the one real run.
"""

import ast
import inspect
import sys
import textwrap
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from ...basics import names
from ...basics.fault import closest, fault
from .terms import Term, primed, terms
from .typeset import derivation_markdown, derivation_text

_SIGNS = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Pow: "^", ast.USub: "neg"}
_CALLS = {np.sqrt: "sqrt", np.exp: "exp", np.log: "log", np.arcsin: "arcsin"}


@dataclass(frozen=True)
class Step:
    """One line of a derivation: the Term it gives, and its expression.

    tree: a Term, a literal, or (operation, tree, ...), operation one of + - * / ^ neg sqrt exp log arcsin pi.
    """

    term: Term
    tree: object

    @property
    def key(self):
        """Glossary key of the result, e.g. "cold_ohm"."""
        return self.term.key

    @property
    def value(self):
        """SI value of the result."""
        return self.term.value


@dataclass(frozen=True, repr=False)
class Derivation:
    """A worked derivation: function name, its claim, steps, SI value, and the units it is shown in."""

    name: str
    claim: str
    steps: tuple
    value: float
    units: str = "metric"
    degrees: str = "C"

    def __repr__(self):
        return derivation_text(self)

    def _repr_markdown_(self):
        return derivation_markdown(self)


def worked(fn, **values):
    """Run a straight function once and keep the road to its number.

    fn: a straight function (see `is_straight`). values: its arguments, SI scalars.
    Returns Derivation; the value of its last step is what fn returned.
    Raises Fault for arrays, unknown or missing arguments, and functions that are not straight.
    """
    is_straight(fn)
    try:
        given = inspect.signature(fn).bind(**values)
    except TypeError as error:
        wants = ", ".join(inspect.signature(fn).parameters)
        raise fault(fn.__name__, "", f"{error}.", "", f"It takes: {wants}.") from None
    given.apply_defaults()
    for key, value in given.arguments.items():
        if np.ndim(value) or not isinstance(value, (int, float, np.number)):
            raise fault(
                fn.__name__,
                key,
                "must be one plain number to be derived,",
                f"not {type(value).__name__}.",
                "Choose one case, then derive it.",
            )
    answer, run = _run(fn, given.arguments)
    steps, taken = [], {}
    _write(fn, {}, run, steps, taken, {})
    return Derivation(fn.__name__, inspect.getdoc(fn).splitlines()[0], tuple(steps), float(answer))


def shown_in(derivation, units="metric", degrees="C"):
    """The same derivation shown in other units.  units: "metric" or "inch". degrees: "C" or "F"."""
    return replace(derivation, units=units, degrees=degrees)


def is_straight(fn):
    """True when fn and every function it calls can be derived; else a Fault that names the line.

    fn: function with a docstring, lines `name_unit = expression` and `return name`; expressions of
    + - * / **, np.sqrt, np.exp, np.log, np.arcsin, np.pi, numbers, earlier names, other straight functions.
    """
    return bool(_read(fn))


@cache
def _read(fn):
    """(argument names, ((key, expression), ...), code objects of fn and all it calls)."""
    text, whole, body = _source(fn)
    if not (fn.__doc__ and len(body) > 2):
        raise _refused(fn, text, whole, "is no straight function.", "It needs a docstring, a line, a return.")
    arguments, lines, codes = tuple(inspect.signature(fn).parameters), [], {fn.__code__}
    known = set(arguments)
    for key in arguments:
        if key not in names.NAMES:
            need = f"has an argument {key} that the glossary does not name."
            raise _refused(fn, text, whole, need, closest(key, names.NAMES))
    for line in body[1:-1]:
        key = _given_name(fn, text, line, known)
        lines.append((key, _shape(fn, text, line.value, known, codes)))
        known.add(key)
    last = body[-1]
    if not (isinstance(last, ast.Return) and getattr(last.value, "id", None) == lines[-1][0]):
        raise _refused(fn, text, last, "must be the last line:", f"return {lines[-1][0]}")
    return arguments, tuple(lines), frozenset(codes)


def _source(fn):
    """(text, its tree, the statements in it) of a function."""
    try:
        text = textwrap.dedent(inspect.getsource(fn))
        whole = ast.parse(text).body[0]
        body = whole.body
    except (OSError, TypeError, SyntaxError, AttributeError):
        raise fault(
            getattr(fn, "__name__", str(fn)),
            "",
            "has no source that can be read.",
            "",
            "Write it with def, in a file or a cell.",
        ) from None
    return text, whole, body


def _refused(fn, text, node, need, do=""):
    """The Fault that names the line of a node."""
    line = fn.__code__.co_firstlineno + node.lineno - 1
    said = text.splitlines()[node.lineno - 1].strip()
    return fault(fn.__name__, said, need, "", do, line)


def _given_name(fn, text, line, known):
    """The name that a line gives a value to; known: names that have one already."""
    target = line.targets[0] if isinstance(line, ast.Assign) and len(line.targets) == 1 else None
    if not isinstance(target, ast.Name):
        raise _refused(fn, text, line, "is not a line `name = expression`.", "Move it to another function.")
    if target.id in known:
        raise _refused(fn, text, line, f"gives {target.id} a second value.", "Use a name of its own.")
    if target.id not in names.NAMES:
        need = f"uses {target.id}, which the glossary does not name."
        raise _refused(fn, text, line, need, closest(target.id, names.NAMES))
    return target.id


def _shape(fn, text, node, known, codes):
    """The expression of a node: a number, a known name, or (operation, ...); codes grows by what it calls."""
    if isinstance(node, ast.Constant) and type(node.value) in (int, float):
        return node.value
    if isinstance(node, ast.Name) and node.id in known:
        return node.id
    if isinstance(node, (ast.BinOp, ast.UnaryOp)) and type(node.op) in _SIGNS:
        sides = [node.operand] if isinstance(node, ast.UnaryOp) else [node.left, node.right]
        return (_SIGNS[type(node.op)], *(_shape(fn, text, side, known, codes) for side in sides))
    if isinstance(node, ast.Attribute) and _find(fn, node) is np.pi:
        return ("pi",)
    if isinstance(node, ast.Call):
        callee = _find(fn, node.func)
        inner = tuple(_shape(fn, text, part, known, codes) for part in node.args)
        named = tuple((word.arg, _shape(fn, text, word.value, known, codes)) for word in node.keywords)
        if isinstance(callee, np.ufunc) and callee in _CALLS and len(inner) == 1 and not named:
            return (_CALLS[callee], *inner)
        if inspect.isfunction(callee) and callee is not fn and None not in dict(named):
            codes.update(_read(callee)[2])
            return ("call", callee, inner, named)
    raise _refused(
        fn,
        text,
        node,
        "is not a line that can be derived.",
        "Use + - * / **, np.sqrt, np.exp, np.log, np.arcsin, np.pi, numbers, names given "
        "above, and other straight functions.",
    )


def _find(fn, node):
    """What a name or a dotted name means inside fn (None when it means nothing)."""
    if isinstance(node, ast.Attribute):
        return getattr(_find(fn, node.value), node.attr, None)
    around = inspect.getclosurevars(fn)
    return {**around.globals, **around.nonlocals}.get(getattr(node, "id", None))


def _run(fn, arguments):
    """Call fn once; returns (answer, (its locals at return, runs of the functions it called))."""
    codes = _read(fn)[2]
    stack = [({}, [])]

    def watch(frame, event, _):
        if frame.f_code in codes and event == "call":
            stack[-1][1].append(({}, []))
            stack.append(stack[-1][1][-1])
        elif frame.f_code in codes and event == "return":
            stack.pop()[0].update(frame.f_locals)

    before = sys.getprofile()
    sys.setprofile(watch)
    try:
        answer = fn(**arguments)
    finally:
        sys.setprofile(before)
    return answer, stack[0][1][0]


def _write(fn, given, run, steps, taken, done):
    """Add the steps of one run, callees first; returns the Term of its answer.

    given: trees that the caller passed. taken: symbol -> what it stands for. done: runs written.
    """
    arguments, lines, _ = _read(fn)
    values, calls = run[0], iter(run[1])

    def term(key):
        symbol, meant = names.name(key).symbol, (key, repr(float(values[key])))
        while taken.setdefault(symbol, meant) != meant:
            symbol = primed(symbol)
        return Term(key, symbol, float(values[key]))

    def fill(shape):
        if not isinstance(shape, tuple):
            return at[shape] if isinstance(shape, str) else shape
        if shape[0] != "call":
            return (shape[0], *map(fill, shape[1:]))
        _, callee, inner, named = shape
        passed = inspect.signature(callee).bind(*map(fill, inner), **{k: fill(v) for k, v in named})
        return _write(callee, passed.arguments, next(calls), steps, taken, done)

    at = {key: given[key] if any(terms(given.get(key))) else term(key) for key in arguments}
    this = (fn, tuple(at.values()))
    if this not in done:
        for key, shape in lines:
            tree = fill(shape)
            at[key] = term(key)
            if tree != at[key]:
                steps.append(Step(at[key], tree))
        done[this] = at[lines[-1][0]]
    return done[this]
