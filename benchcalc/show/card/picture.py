"""The tool to scale for the card: the picture of the sheet's form, with its dimension lines."""

import base64
from pathlib import Path

from ...basics.fault import Fault
from ...sheet.edits import tables_of
from ..editor.drawn import drawn
from ..editor.figure import drawn_png


def card_picture(build):
    """The tool to scale.

    build: Build read from a file.
    Returns (PNG bytes, width, height in pixels), or None where there is nothing to draw.
    """
    if not build.file:
        return None
    try:
        shapes = drawn(tables_of(Path(build.file).read_text(encoding="utf-8-sig")), build)
        return drawn_png(shapes) if shapes.shapes else None
    except (Fault, OSError):
        return None


def picture_tag(build):
    """The picture as an HTML tag with its bytes in it, "" where there is none.  build: Build."""
    found = card_picture(build)
    if found is None:
        return ""
    data = base64.b64encode(found[0]).decode()
    return f'<img alt="The tool to scale, with its dimensions" src="data:image/png;base64,{data}">'
