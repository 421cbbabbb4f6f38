"""The tool to scale for the card: the picture of the sheet's form, with its dimension lines."""

import base64
from dataclasses import dataclass
from pathlib import Path

from ...basics.fault import Fault
from ...sheet.build import Build
from ...sheet.edits import tables_of
from ..drawing.tag import image_tag
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
        return drawn_png(shapes, paper=True) if shapes.shapes else None
    except (Fault, OSError):
        return None


@dataclass(frozen=True, repr=False)
class CardDrawing:
    """The tool to scale, for a page.  png: bytes, b"" where there is nothing to draw. said: the picture in words."""

    png: bytes
    said: str

    def __repr__(self):
        return self.said

    def _repr_mimebundle_(self, **how):
        shown = {"text/plain": self.said}
        return shown | ({"image/png": base64.b64encode(self.png).decode()} if self.png else {})


def card_drawing(build: Build) -> CardDrawing:
    """The tool to scale, with its dimension lines, for a page.

    build: Build.
    """
    found = card_picture(build)
    names = ", ".join(p.id for p in build.part)
    said = f"The tool to scale, with its dimensions: {names}." if found else "The sheet names no parts to draw."
    return CardDrawing(found[0] if found else b"", said)


def picture_tag(build):
    """The picture as an HTML tag with its bytes in it, "" where there is none.  build: Build."""
    found = card_picture(build)
    if found is None:
        return ""
    return image_tag(found[0], "The tool to scale, with its dimensions", "")
