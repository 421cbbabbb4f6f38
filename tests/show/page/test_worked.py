"""Derivations: the last number is the answer, and the line on the page can be followed by hand."""

import ast
import math
import operator
import re
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from benchcalc.basics import names
from benchcalc.basics.fault import Fault
from benchcalc.show.page.formula_text import _draw, line, symbol_text, unit_tex
from benchcalc.show.page.terms import SI, Term, value_of
from benchcalc.show.page.typeset import derivation_html, derivation_latex, derivation_markdown, derivation_text
from benchcalc.show.page.worked import is_straight, shown_in, worked


def section(diameter_m):
    """Cross-section of a round wire."""
    area_m2 = np.pi * diameter_m**2 / 4
    return area_m2


def per_length(resistivity_ohm_m, diameter_m):
    """Cold resistance of each metre of wire."""
    linear_ohm_per_m = resistivity_ohm_m / section(diameter_m)
    return linear_ohm_per_m


def cold(linear_ohm_per_m, length_m):
    """Cold resistance of a length of wire."""
    cold_ohm = linear_ohm_per_m * length_m
    return cold_ohm


def heated(open_v, source_ohm, resistivity_ohm_m, diameter_m, length_m, tail_m, hot_factor=1.0):
    """Power in the hot wire."""
    linear_ohm_per_m = per_length(resistivity_ohm_m, diameter_m)
    hot_ohm = cold(linear_ohm_per_m, length_m) * hot_factor
    tails_ohm = cold(linear_ohm_per_m=linear_ohm_per_m, length_m=2 * tail_m)
    load_a = open_v / (source_ohm + hot_ohm + tails_ohm)
    coil_w = load_a**2 * hot_ohm
    return coil_w


def helix(mean_diameter_m, pitch_m):
    """Length of one turn of a helix."""
    turn_m = np.sqrt((np.pi * mean_diameter_m) ** 2 + pitch_m**2)
    return turn_m


def shone(wire_temp_c, ambient_c):
    """Heat that a dull surface sends out, the constant after a handbook in SI."""
    surface_load_w_m2 = 0.7 * 5.67e-8 * ((wire_temp_c + 273.15) ** 4 - (ambient_c + 273.15) ** 4)
    return surface_load_w_m2


def roots(load_v, wanted_w, source_ohm):
    """The higher load that takes a wanted power."""
    half_sum_ohm = load_v**2 / (2 * wanted_w) - source_ohm
    root_ohm = np.sqrt(half_sum_ohm**2 - source_ohm**2)
    higher_ohm = half_sum_ohm - (source_ohm - root_ohm)
    return higher_ohm


def growth(temp_c, ambient_c):
    """A factor that grows and flattens out."""
    hot_factor = 1 - -0.05 * (1 - np.exp(-(((temp_c - ambient_c) / 400) ** 2))) / (2 * np.log(3))
    return hot_factor


def nearly_equal(room_m, winding_m):
    """Room left over, the small difference of two long lengths."""
    spare_m = room_m - winding_m
    return spare_m


def share(load_v, open_v):
    """Drop from no load, as a share of the loaded voltage."""
    regulation = open_v / load_v - 1
    return regulation


CASES = [
    (section, {"diameter_m": 0.32e-3}),
    (per_length, {"resistivity_ohm_m": 1.09e-6, "diameter_m": 0.2546e-3}),
    (
        heated,
        {
            "open_v": 13.13,
            "source_ohm": 0.4123,
            "resistivity_ohm_m": 1.35e-6,
            "diameter_m": 0.4e-3,
            "length_m": 0.733,
            "tail_m": 0.04,
            "hot_factor": 1.04,
        },
    ),
    (helix, {"mean_diameter_m": 7.2e-3, "pitch_m": 0.61e-3}),
    (shone, {"wire_temp_c": 612.3, "ambient_c": 20.0}),
    (roots, {"load_v": 12.0, "wanted_w": 30.0, "source_ohm": 0.37}),
    (growth, {"temp_c": 333.3, "ambient_c": -5.0}),
    (nearly_equal, {"room_m": 0.0600123, "winding_m": 0.0599777}),
    (share, {"load_v": 11.8372, "open_v": 12.013}),
]
each_case = pytest.mark.parametrize("fn, values", CASES, ids=[fn.__name__ for fn, _ in CASES])

# SI size of one unit, by the international definitions of inch and foot (25.4 mm, 12 in).
UNITS = {
    "ohm/m": 1,
    "ohm/ft": 1 / 0.3048,
    "uohm m": 1e-6,
    "ohm m": 1,
    "W/cm2": 1e4,
    "W/m2": 1,
    "W/in2": 1 / 0.0254**2,
    "mm2": 1e-6,
    "in2": 0.0254**2,
    "m2": 1,
    "mm": 1e-3,
    "in": 0.0254,
    "m": 1,
    "ohm": 1,
    "V": 1,
    "A": 1,
    "W": 1,
    "degC": 1,
}
_UNIT = "|".join(sorted(map(re.escape, UNITS), key=len, reverse=True))
_ACTS = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
_CALLED = {"sqrt": math.sqrt, "exp": math.exp, "ln": math.log}


def by_hand(text, letters=()):
    """Work out a printed line with Python's own grammar: an independent reader of the page."""
    text = re.sub(rf"(\d[\d.]*(?:e[+-]\d+)?) ({_UNIT})(?![\w/])", lambda m: f"({m[1]}*{UNITS[m[2]]!r})", text)
    text = text.replace("×", "*").replace("^", "**").replace("π", repr(math.pi))

    def read(node):
        if isinstance(node, ast.Constant):
            return node.value
        if isinstance(node, ast.Name):
            return letters[node.id]
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            return -read(node.operand)
        if isinstance(node, ast.BinOp):
            return _ACTS[type(node.op)](read(node.left), read(node.right))
        assert isinstance(node, ast.Call), ast.dump(node)
        return _CALLED[node.func.id](read(node.args[0]))

    return read(ast.parse(text, mode="eval").body)


@each_case
def test_the_last_number_is_what_the_function_returned(fn, values):
    derivation = worked(fn, **values)
    assert derivation.value == fn(**values)
    assert derivation.steps[-1].value == derivation.value
    assert derivation.claim == fn.__doc__
    assert (derivation.name, is_straight(fn)) == (fn.__name__, True)


@each_case
@pytest.mark.parametrize("units", ["metric", "inch"])
def test_each_printed_line_adds_up_by_hand(fn, values, units):
    for step in worked(fn, **values).steps:
        pieces = line(step, units=units, tex=False)
        numbers, result = (pieces[2], pieces[3]) if len(pieces) > 3 else (pieces[1], pieces[-1])
        if len(pieces) > 3:
            assert by_hand(numbers) == pytest.approx(by_hand(result), rel=1.1e-3)
        assert by_hand(result) == pytest.approx(step.value, rel=5.1e-4)


@each_case
def test_its_symbols_mean_the_same_as_its_code(fn, values):
    for step in worked(fn, **values).steps:
        assert value_of(step.tree, lambda term: term.value) == pytest.approx(step.value, rel=1e-12)


def test_a_line_reads_as_expected():
    text = derivation_text(worked(section, diameter_m=0.3e-3)).splitlines()
    assert text == [
        "Cross-section of a round wire.",
        "cross-section of the wire: A = π × d^2 / 4 = π × (0.3 mm)^2 / 4 = 0.07069 mm2",
    ]


def test_a_small_difference_gets_the_figures_it_needs():
    pieces = line(worked(nearly_equal, room_m=0.0600123, winding_m=0.0599777).steps[0], tex=False)
    assert pieces[-2:] == ["60.0123 mm - 59.9777 mm", "0.0346 mm"]


def test_a_literal_with_a_unit_of_its_own_sets_its_line_in_si():
    pieces = line(worked(shone, wire_temp_c=600.0, ambient_c=20.0).steps[0], degrees="F", tex=False)
    assert "600 degC + 273.15" in pieces[2]
    assert pieces[3].endswith(" W/m2") and pieces[4].endswith(" W/cm2")
    warm = line(worked(growth, temp_c=300.0, ambient_c=20.0).steps[0], degrees="F", tex=False)
    assert "(300 degC - 20 degC)" in warm[2] and warm[-1] == names.digits(warm_value(300.0, 20.0), 4)


def warm_value(temp_c, ambient_c):
    return float(growth(temp_c, ambient_c))


def mean_of(temp_c, ambient_c):
    """Mean temperature."""
    wire_temp_c = (temp_c + ambient_c) / 2
    return wire_temp_c


def test_degrees_fahrenheit_where_the_line_allows_it():
    pieces = line(worked(mean_of, temp_c=100.0, ambient_c=0.0).steps[0], degrees="F", tex=False)
    assert pieces[2:] == ["(212 degF + 32 degF) / 2", "122 degF"]
    assert r"{}^{\circ}\mathrm{F}" in derivation_latex(worked(mean_of, temp_c=100.0, ambient_c=0.0), degrees="F")


def test_a_nested_call_is_shown_first_and_once():
    derivation = worked(heated, **CASES[2][1])
    keys = [step.key for step in derivation.steps]
    assert keys == ["area_m2", "linear_ohm_per_m", "cold_ohm", "hot_ohm", "cold_ohm", "tails_ohm", "load_a", "coil_w"]
    first, hot, second, tails = derivation.steps[2:6]
    assert line(hot)[1] == r"R_{20} \, f"
    assert (first.term.symbol, second.term.symbol) == ("R_{20}", "R_{20}'")
    assert line(second)[1] == r"r_{20} \cdot 2 \, \ell_t"
    assert line(tails)[1] == "R_{20}'"


def test_the_same_call_twice_is_written_once():
    def both(linear_ohm_per_m, length_m):
        """Twice the cold resistance."""
        total_ohm = cold(linear_ohm_per_m, length_m) + cold(linear_ohm_per_m, length_m)
        return total_ohm

    derivation = worked(both, linear_ohm_per_m=10.0, length_m=0.5)
    assert [step.key for step in derivation.steps] == ["cold_ohm", "total_ohm"]
    assert line(derivation.steps[1], tex=False)[1:] == ["R_20 + R_20", "5 ohm + 5 ohm", "10 ohm"]


def test_a_fixed_number_passed_on_keeps_the_name_of_its_place():
    def fixed(linear_ohm_per_m):
        """Resistance of a hand's breadth."""
        total_ohm = 1 * cold(linear_ohm_per_m, 0.1)
        return total_ohm

    assert "100 mm" in line(worked(fixed, linear_ohm_per_m=10.0).steps[0], tex=False)[2]


@each_case
@pytest.mark.parametrize("units, degrees", [("metric", "C"), ("inch", "F")])
def test_latex_is_well_formed(fn, values, units, degrees):
    from matplotlib.mathtext import MathTextParser

    parser = MathTextParser("path")
    derivation = shown_in(worked(fn, **values), units, degrees)
    for step in derivation.steps:
        for piece in line(step, units, degrees):
            parser.parse(f"${piece}$")
    whole = derivation_latex(derivation)
    assert whole.count("{") == whole.count("}")
    assert whole.count(r"\left") == whole.count(r"\right")
    assert whole.count("&=") == len(derivation.steps)
    for text in (whole, derivation_text(derivation)):
        assert not re.search(r"(?<![\d.])0\.0+(?!\d)", text)
        assert "nan" not in text and "float64" not in text


def test_pages_and_widgets_get_the_same_formula():
    derivation = worked(cold, linear_ohm_per_m=15.4, length_m=0.5)
    formula = derivation_latex(derivation)
    assert formula in derivation_markdown(derivation)
    assert r"\ell" in derivation_html(derivation) and "&amp;=" in derivation_html(derivation)
    assert derivation._repr_markdown_() == derivation_markdown(derivation)
    assert repr(derivation) == derivation_text(derivation)
    assert r"$\ell$: length of wire that heats" in derivation_markdown(derivation)
    inches = shown_in(derivation, "inch")
    assert "19.685 in" in derivation_text(inches) and derivation_text(inches) == derivation_text(
        derivation, units="inch"
    )


@pytest.mark.parametrize(
    "unit, latex",
    [
        ("W/(m2 K)", r"\mathrm{W}/(\mathrm{m}^{2}\,\mathrm{K})"),
        ("uohm m", r"\mu\Omega\,\mathrm{m}"),
        ("1/K", r"1/\mathrm{K}"),
        ("degC", r"{}^{\circ}\mathrm{C}"),
        ("", ""),
        ("degF (difference)", r"{}^{\circ}\mathrm{F}"),
    ],
)
def test_units_in_latex(unit, latex):
    assert unit_tex(unit) == latex


def test_every_suffix_has_its_si_unit():
    assert set(SI) == set(names.SUFFIXES) | {""}


# --- what cannot be derived -----------------------------------------------------------------


def with_if(length_m):
    """Branches."""
    if length_m > 1:
        length_m = 1
    tail_m = length_m * 2
    return tail_m


def with_for(length_m):
    """Loops."""
    for _ in range(3):
        tail_m = length_m * 2
    return tail_m


def with_other_call(length_m):
    """Calls something else."""
    tail_m = abs(length_m)
    return tail_m


def with_unnamed_local(length_m):
    """Uses a local that nobody named."""
    lenght_m = 2 * length_m
    return lenght_m


def with_unnamed_argument(oddness):
    """Takes an argument that nobody named."""
    tail_m = 2 * oddness
    return tail_m


def with_second_value(length_m):
    """Gives a name twice."""
    tail_m = 2 * length_m
    tail_m = 3 * tail_m
    return tail_m


def with_other_return(length_m):
    """Returns something else than its last line."""
    tail_m = 2 * length_m
    cut_m = 3 * tail_m
    return tail_m + cut_m


def with_constant(length_m):
    """Uses a number from outside."""
    tail_m = 2 * length_m * _OUTSIDE
    return tail_m


def with_crooked_inside(length_m):
    """Calls a function that is not straight."""
    cut_m = with_if(length_m)
    return cut_m


def without_docstring(length_m):
    tail_m = 2 * length_m
    return tail_m


def with_itself(length_m):
    """Never ends."""
    tail_m = with_itself(length_m)
    return tail_m


_OUTSIDE = 3


@pytest.mark.parametrize(
    "fn, said",
    [
        (with_if, "if length_m > 1"),
        (with_for, "for _ in range(3)"),
        (with_other_call, "abs(length_m)"),
        (with_unnamed_local, "lenght_m = 2"),
        (with_unnamed_argument, "oddness"),
        (with_second_value, "tail_m = 3"),
        (with_other_return, "return tail_m + cut_m"),
        (with_constant, "_OUTSIDE"),
        (with_crooked_inside, "if length_m > 1"),
        (without_docstring, "without_docstring"),
        (with_itself, "with_itself(length_m)"),
    ],
)
def test_crooked_functions_are_refused_with_their_line(fn, said):
    for act in (is_straight, lambda f: worked(f, length_m=1.0)):
        with pytest.raises(Fault) as caught:
            act(fn)
        assert said in str(caught.value)


def test_a_refusal_points_at_the_line_of_the_file():
    with pytest.raises(Fault) as caught:
        is_straight(with_other_call)
    here = Path(__file__).read_text(encoding="utf-8").splitlines()
    assert "abs(length_m)" in here[caught.value.complaints[0].line - 1]


def test_an_unnamed_local_lists_the_closest_names():
    with pytest.raises(Fault, match="Closest: .*length_m"):
        is_straight(with_unnamed_local)


@pytest.mark.parametrize(
    "values, said",
    [
        ({"linear_ohm_per_m": 1.0, "length_m": np.array([1.0, 2.0])}, "length_m"),
        ({"linear_ohm_per_m": 1.0, "length_m": None}, "length_m"),
        ({"linear_ohm_per_m": 1.0}, "length_m"),
        ({"lenght_m": 1.0}, "It takes: linear_ohm_per_m, length_m"),
    ],
)
def test_bad_values_are_refused(values, said):
    with pytest.raises(Fault, match=said):
        worked(cold, **values)


def test_a_tracer_that_was_there_comes_back():
    def watcher(frame, event, value):
        return None

    before = sys.getprofile()
    sys.setprofile(watcher)
    try:
        worked(cold, linear_ohm_per_m=1.0, length_m=2.0)
        assert sys.getprofile() is watcher
        with pytest.raises(ZeroDivisionError):
            worked(share, load_v=0.0, open_v=1.0)
        assert sys.getprofile() is watcher
    finally:
        sys.setprofile(before)


def test_unknown_and_endless_numbers_are_words():
    text = derivation_text(worked(cold, linear_ohm_per_m=float("nan"), length_m=1.0))
    assert text.endswith("= not known")
    assert r"\text{not known}" in derivation_latex(worked(cold, linear_ohm_per_m=float("nan"), length_m=1.0))
    assert derivation_text(worked(cold, linear_ohm_per_m=float("inf"), length_m=1.0)).endswith("no end")


# --- any expression: the drawn symbols, read again by Python's grammar, mean the same ----------

LETTERS = {name: Term("length_m", name, value) for name, value in zip("abcde", (0.7, 1.3, 2.1, -0.4, 3.2))}


def trees(inner):
    two = st.tuples(st.sampled_from("+-*/"), inner, inner)
    return two | st.tuples(st.just("neg"), inner) | st.tuples(st.just("^"), inner, st.sampled_from([2, 3]))


@settings(max_examples=300, deadline=None)
@given(st.recursive(st.sampled_from(list(LETTERS.values())) | st.sampled_from([2, 0.5]), trees, max_leaves=9))
def test_parentheses_are_never_missing(tree):
    letters = {name: term.value for name, term in LETTERS.items()}
    with np.errstate(all="ignore"):
        meant = float(value_of(tree, lambda term: term.value))
    assume(math.isfinite(meant) and abs(meant) < 1e12)
    drawn = _draw(tree, lambda term: symbol_text(term, False), False, False)[0]
    try:
        read = by_hand(drawn, letters)
    except ZeroDivisionError:
        assume(False)
    assert read == pytest.approx(meant, rel=1e-6, abs=1e-6)


@pytest.mark.parametrize(
    "tree, drawn",
    [
        (("*", "a", ("+", "b", "c")), "a × (b + c)"),
        (("+", ("*", "a", "b"), "c"), "a × b + c"),
        (("-", "a", ("-", "b", "c")), "a - (b - c)"),
        (("-", ("-", "a", "b"), "c"), "a - b - c"),
        (("/", "a", ("*", "b", "c")), "a / (b × c)"),
        (("^", ("/", "a", "b"), 2), "(a / b)^2"),
        (("neg", ("+", "a", "b")), "-(a + b)"),
        (("^", ("neg", "a"), 2), "(-a)^2"),
        (("neg", ("^", "a", 2)), "-a^2"),
        (("+", "a", ("neg", "b")), "a + (-b)"),
        (("^", ("^", "a", 2), 3), "(a^2)^3"),
        (("sqrt", ("+", "a", "b")), "sqrt(a + b)"),
    ],
)
def test_parentheses_stand_only_where_needed(tree, drawn):
    def grow(part):
        if isinstance(part, tuple):
            return (part[0], *map(grow, part[1:]))
        return LETTERS.get(part, part)

    assert _draw(grow(tree), lambda term: symbol_text(term, False), False, False)[0] == drawn
