"""Text of a user in a page is letters to Python's own HTML parser and to a general Markdown parser (mistune)."""

from html.parser import HTMLParser

import mistune
import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchcalc.basics.escape import plain_lines, plain_text

EVIL = [
    '<img src=x onerror="fetch(1)">',
    "<script>alert(1)</script>",
    "![picture](http://x.invalid/a.png)",
    "[link](javascript:alert(1))",
    "[a]: http://x.invalid\n\n![a]",
    "&lt;img src=x&gt;",
    "$x_$ \\(\\href{javascript:alert(1)}{y}\\)",
]


class Tags(HTMLParser):
    def __init__(self):
        super().__init__()
        self.seen, self.text = [], ""

    def handle_starttag(self, tag, attrs):
        self.seen.append(tag)

    def handle_data(self, data):
        self.text += data


def read(markup):
    """(tags other than a paragraph's, text) of a piece of HTML."""
    parser = Tags()
    parser.feed(markup)
    parser.close()
    return [t for t in parser.seen if t != "p"], parser.text


@pytest.mark.parametrize("text", EVIL)
def test_nothing_of_it_is_markup(text):
    safe = plain_text(text)
    assert read(safe)[0] == []
    tags, _ = read(mistune.html(safe))
    assert not {"img", "a", "script"} & set(tags)
    assert "$" not in safe and "\\(" not in safe


def test_two_names_in_one_sentence_make_no_formula():
    assert "$" not in f"{plain_text('5$')} and {plain_text('7$')}"


@given(st.text(alphabet="<>&![]():$\\\"'=/ \nabimgscrhtp", max_size=40))
def test_no_text_makes_a_tag_a_link_or_a_picture(text):
    assert read(plain_text(text))[0] == [] and "\n" not in plain_text(text)
    assert not {"img", "a"} & set(read(mistune.html(plain_text(text)))[0])
    assert not {"img", "a"} & set(read(mistune.html(plain_lines(text)))[0])


@pytest.mark.parametrize("text", ["iron of a friend", 'the "big" tip', "R & D", "a < b", "[[marker]] is missing"])
def test_ordinary_words_read_as_they_were_written(text):
    assert read(plain_text(text))[1] == text
