"""Sheets and texts no reader should choke on: each is a Fault in words, whatever Python raised underneath."""

import pytest

import benchcalc as bc
from benchcalc.sheet.load import LONGEST_LINE
from benchcalc.sheet.toml_lines import lines_of

HEAD = '[sheet]\nname = "x"\n'
NEST = "x = " + "[\n" * 5000


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (NEST, "too deep"),
        (HEAD + "[coil]\nlayers = " + "7" * 5000, "at most 1000"),
        (HEAD + '[coil]\nlength = "' + "7" * 400 + '/3 in"', "at most 100"),
        (HEAD + '[coil]\nlength = "1 ' + "7" * 400 + '/3 in"', "at most 100"),
        (HEAD + " " * 2000 + "[coil]\n", "at most 1000"),
    ],
)
def test_what_python_cannot_hold_is_told(text, says):
    with pytest.raises(bc.Fault, match=says):
        bc.read(text)


def test_a_line_of_the_longest_length_is_read():
    assert bc.read(HEAD + "#" * LONGEST_LINE).name == "x"


def test_a_table_is_found_with_blanks_in_it():
    assert ("supply.reading", 0, "") in lines_of("[[ supply . reading ]]", ("supply.reading",))


@pytest.mark.parametrize(
    ("name", "says"),
    [(".", "is a folder"), ("a" * 400 + ".toml", "cannot be opened"), ("a\0b.toml", "cannot be opened")],
)
def test_what_is_no_file_is_told(name, says, tmp_path):
    with pytest.raises(bc.Fault, match=says):
        bc.load(tmp_path / name)


@pytest.mark.parametrize(
    ("body", "says"),
    [
        ('[[joint]]\nmade = "pressed, fresh"\n', "joint 1.between: is missing"),
        ('[[layer]]\nmaterial = "mica"\nthickness = "0.1 mm"\n', "layer 1.between: is missing"),
        ('[[part]]\nid = "a"\nfrom = "0 mm"\n', "part 1.to: is missing beside from"),
        ('[[part]]\nid = "a"\nto = "5 mm"\n', "part 1.from: is missing beside to"),
        ('[[joint]]\nbetween = ["a", "a"]\nfrom = "5 mm"\n[[part]]\nid = "a"\n', "joint 1.to: is missing beside from"),
    ],
)
def test_half_a_place_is_told(body, says):
    with pytest.raises(bc.Fault) as told:
        bc.read(HEAD + body)
    assert says in str(told.value)
