"""Two designs kept side by side, A and B, and how they differ."""

import re

from ...basics.escape import plain_text
from ...basics.names import display
from .keeping import kept_words

NOTHING = "as on the sheet"
STEPS = {display("temp_c", degrees=d)[0]: display("rise_k", degrees=d)[0].removesuffix(" (difference)") for d in "CF"}


def design_of(at, sliders, moved):
    """What is kept of a setting: what was moved, in words, and the headline rows without their bands.

    at: Moved. sliders: of the panel. moved: dict of path -> value.
    Returns (words, dict of word -> text).
    """
    return kept_words(sliders, moved, at.build) or NOTHING, {word: text.split(" (")[0] for word, text in at.rows}


def difference(one, other):
    """How far one text of a number with its unit stands from another: "+38 degC", or "" where they are no such pair.

    one, other: texts such as "283 degC".
    """
    found = [re.fullmatch(r"(-?[\d.]+(?:e-?\d+)?)(?: (.*))?", text) for text in (one, other)]
    if None in found or found[0][2] != found[1][2]:
        return ""
    places = max(len(f[1].partition(".")[2]) for f in found)
    gap = float(found[1][1]) - float(found[0][1])
    unit = STEPS.get(found[0][2], found[0][2] or "")
    tiny = "e" in found[0][1] + found[1][1]
    return f"{gap:+.2e} {unit}".strip() if tiny else f"{gap:+.{places}f} {unit}".strip()


def designs_html(kept):
    """The kept designs as HTML: A and B next to each other, then B less A.

    kept: dict of "A" and "B" -> (words, rows) as design_of; either may be missing.
    Returns HTML, "" where nothing is kept.
    """
    if not kept:
        return ""
    letters = [letter for letter in ("A", "B") if letter in kept]
    words = dict.fromkeys(word for letter in letters for word in kept[letter][1])
    both = len(letters) == 2
    head = "".join(f"<th>{x}</th>" for x in ("", *letters, *(["B less A"] if both else [])))
    lines = [f"<td>moved</td>{''.join(f'<td>{plain_text(kept[x][0])}</td>' for x in letters)}{'<td></td>' * both}"]
    for word in words:
        texts = [kept[x][1].get(word, "–") for x in letters]
        gap = f"<td>{plain_text(difference(*texts)) or '–'}</td>" if both else ""
        lines.append(f"<td>{plain_text(word)}</td>{''.join(f'<td>{plain_text(t)}</td>' for t in texts)}{gap}")
    return (
        '<div class="jp-RenderedHTMLCommon" style="padding:0"><table style="margin:4px 0;font-size:88%">'
        f"<tr>{head}</tr>{''.join(f'<tr>{x}</tr>' for x in lines)}</table></div>"
    )
