"""Text that a user wrote, made harmless where it enters a page."""

import html


def plain_text(text, *, quote=False):
    """Text of a sheet or a log as it may stand in Markdown, HTML or beside formulas: read, never run or fetched.

    text: anything that was typed or read from a file; line ends become blanks. quote: whether
    quotation marks become entities too, as the value of an attribute wants it.
    Returns text in which tags, links, pictures and formulas are letters only; ordinary sentences stay.
    Source: CommonMark 0.31, sections 2.5 (entities) and 6.3 (links); HTML Living Standard, 13.1.4
    (character references).
    """
    safe = html.escape(" ".join(str(text).splitlines()), quote=quote)
    for letters, harmless in (("](", "]&#40;"), ("]:", "]&#58;"), ("\\(", "＼("), ("\\[", "＼[")):
        safe = safe.replace(letters, harmless)
    return safe.replace("$", "＄")  # two of them enclose a formula, and the other may stand in the next name


def plain_lines(text):
    """As `plain_text`, for a text of several lines, each with a Markdown line end.

    text: text with line ends.
    """
    return "  \n".join(plain_text(line) for line in str(text).splitlines())


def plain_html(text):
    """As `plain_text`, for a text of several lines inside of an HTML tag, each with an HTML line end.

    text: text with line ends.
    """
    return "<br>".join(plain_text(line, quote=True) for line in str(text).splitlines())
