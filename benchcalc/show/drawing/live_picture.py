"""Pictures that follow a slider: what stands still is drawn once, what moves is drawn over it.

A Drawing says what is on a picture; a Live holds one figure and its cached background.  Drawing
only the moving parts takes a few milliseconds, where a whole figure takes tens.
"""

import base64
import io
import textwrap
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PIL import Image, ImageColor

from ...sheet.build import Build
from .scales import draw_still
from .style import (
    COPPER,
    CREAM,
    DARK_COPPER,
    DPI_LIVE,
    DPI_STILL,
    FAINT,
    INK,
    PAPER,
    SHADES,
    SKY,
    SMALL,
    STEEL,
    WIDTH_IN,
    house,
    sheet_of_paper,
)

COLOURS, LIVE_COLOURS = 32, 128
COMPRESSED = 8  # of 9: a saved page grows by a fiftieth, and its pictures take a third of the time
BACKGROUNDS = 4  # kept, of about 3 MB: a slider goes to and fro between two or three
COLOURS_OF_THE_HOUSE = (INK, FAINT, COPPER, DARK_COPPER, SKY, STEEL, CREAM)
STILL_SHADES, LIVE_SHADES = 20, 40


@dataclass(frozen=True)
class Drawing:
    """One kind of picture, as functions.

    numbers(build, result, rest) -> the numbers behind the picture, with `.frame` (whatever the
    still parts depend on, comparable); rest: True when the slider rests and bands are wanted.
    lay(figure, place) -> artists with `.moving`, the artists to draw by hand, in order, and
    `.labels`, the moving words; place is (left, bottom, width, height) in inches.
    frame(artists, numbers) sets limits and other still parts. move(artists, numbers) sets the rest.
    caption(numbers) -> the picture in words. height_in: height in inches. shaded: whether it has the shades of heat.
    """

    numbers: Callable
    lay: Callable
    frame: Callable
    move: Callable
    caption: Callable
    height_in: float
    shaded: bool = False


@dataclass(frozen=True)
class Together:
    """The numbers of several drawings on one sheet of paper."""

    parts: tuple
    frame: tuple


@dataclass(frozen=True)
class _Artists:
    parts: tuple
    moving: tuple
    labels: tuple
    framed: list  # of each part, what its still parts are set to


def stack(*drawings):
    """One drawing out of several, from top to bottom.

    drawings: Drawing, at least one.
    """
    height_in = sum(d.height_in for d in drawings)

    def numbers(build, result, rest=False):
        parts = tuple(d.numbers(build, result, rest) for d in drawings)
        return Together(parts, tuple(p.frame for p in parts))

    def lay(figure, place):
        parts, top = [], place[1] + place[3]
        for d in drawings:
            top -= d.height_in
            parts.append(d.lay(figure, (place[0], top, place[2], d.height_in)))
        moving, labels = (tuple(a for p in parts for a in of(p)) for of in (lambda p: p.moving, lambda p: p.labels))
        return _Artists(tuple(parts), moving, labels, [None] * len(parts))

    def frame(artists, numbers):
        for i, (d, a, n) in enumerate(zip(drawings, artists.parts, numbers.parts)):
            if artists.framed[i] != n.frame:
                artists.framed[i] = None  # until it is done
                d.frame(a, n)
                artists.framed[i] = n.frame

    def move(artists, numbers):
        for d, a, n in zip(drawings, artists.parts, numbers.parts):
            d.move(a, n)

    def caption(numbers):
        return " ".join(d.caption(n) for d, n in zip(drawings, numbers.parts))

    return Drawing(numbers, lay, frame, move, caption, height_in, any(d.shaded for d in drawings))


class Live:
    """One figure that is drawn again and again."""

    def __init__(self, drawing, dpi=DPI_LIVE):
        """drawing: Drawing. dpi: dots an inch."""
        self.drawing = drawing
        self.figure = sheet_of_paper(drawing.height_in, dpi)
        with house():
            self.artists = drawing.lay(self.figure, (0.0, 0.0, WIDTH_IN, drawing.height_in))
        self.framed, self.background, self.palette = None, None, None
        self.drawn = []  # (frame, background), those looked at last in the end

    def still_parts(self, numbers):
        """Set all that stands still; draw it unless a frame like this was drawn lately.  numbers: of the drawing."""
        canvas = self.figure.canvas
        with house():
            self.drawing.frame(self.artists, numbers)
            kept = [pair for pair in self.drawn if pair[0] == numbers.frame]
            if not kept:
                draw_still(self.figure)
                kept = [(numbers.frame, canvas.copy_from_bbox(self.figure.bbox))]
        self.framed, self.background = kept[0]
        self.drawn = [*(pair for pair in self.drawn if pair[0] != numbers.frame), *kept][-BACKGROUNDS:]

    def image(self, numbers):
        """The picture at these numbers.  numbers: of the drawing.  Returns a PIL image."""
        if numbers.frame != self.framed:
            self.still_parts(numbers)
        canvas = self.figure.canvas
        canvas.restore_region(self.background)
        self.drawing.move(self.artists, numbers)
        pen = canvas.get_renderer()
        for artist in self.artists.moving:
            if artist.get_visible():
                artist.draw(pen)
        image = image_of(canvas)
        for words in self.artists.labels:
            words.draw(image, self.figure.dpi)
        return image

    def png(self, numbers):
        """The picture as PNG bytes with a palette, encoded fast.  numbers: of the drawing."""
        image = self.image(numbers)
        if self.palette is None:
            self.palette = _palette_for(image, LIVE_COLOURS, LIVE_SHADES if self.drawing.shaded else 0)
        return png_of(image.quantize(palette=self.palette, dither=Image.Dither.NONE), compress_level=1)


def image_of(canvas):
    """What a canvas shows, as a PIL image.  canvas: of a figure, drawn."""
    return Image.frombuffer("RGBA", canvas.get_width_height(), canvas.buffer_rgba(), "raw", "RGBA", 0, 1).convert("RGB")


def _palette_for(image, colours, shades):
    """A palette for a picture and for what may yet come onto it: the colours of the house, and so many shades of heat,
    whatever of them it shows at first.  Every second pixel each way tells as much as all, in a quarter of the time."""
    image = image.resize((image.width // 2, image.height // 2), Image.Resampling.NEAREST)
    swatches = Image.new("RGB", (image.width, image.height + 8 * len(COLOURS_OF_THE_HOUSE)), PAPER)
    swatches.paste(image, (0, 0))
    for i, colour in enumerate(COLOURS_OF_THE_HOUSE):
        swatches.paste(colour, (0, image.height + 8 * i, image.width, image.height + 8 * i + 8))
    if not shades:
        return swatches.quantize(colours)
    first = [ImageColor.getrgb(c) for c in (PAPER, "white", *COLOURS_OF_THE_HOUSE)]
    first += [SHADES(k / (shades - 1), bytes=True)[:3] for k in range(shades)]
    palette, left = Image.new("P", (1, 1)), colours - len(first)
    palette.putpalette([int(c) for rgb in first for c in rgb] + swatches.quantize(left).getpalette()[: 3 * left])
    return palette


def png_of(image, **how):
    """A PIL image as PNG bytes.  image: PIL image. how: options of the encoder."""
    out = io.BytesIO()
    image.save(out, "PNG", **how)
    return out.getvalue()


def still(drawing, numbers, *, caption=True, dpi=DPI_STILL):
    """A picture for the saved page: sharp, few colours, its caption under it.

    drawing: Drawing. numbers: of the drawing. caption: True to write it under the picture.
    dpi: dots an inch.
    Returns PNG bytes with a palette.
    """
    image, shades = Live(drawing, dpi).image(numbers), STILL_SHADES if drawing.shaded else 0
    if caption:
        words = _words(drawing.caption(numbers), dpi)
        whole = Image.new("RGB", (image.width, image.height + words.height), PAPER)
        whole.paste(image, (0, 0))
        whole.paste(words, (0, image.height))
        image = whole
    palette = _palette_for(image, COLOURS + 2 * shades, shades)
    flat = image.quantize(palette=palette, dither=Image.Dither.NONE)
    return png_of(flat, compress_level=COMPRESSED, dpi=(dpi, dpi))


def _words(text, dpi):
    lines = textwrap.wrap(text, 122)
    height_in = 0.12 + 0.165 * len(lines)
    with house():
        figure = sheet_of_paper(height_in, dpi)
        figure.text(
            0.15 / WIDTH_IN, 1 - 0.02 / height_in, "\n".join(lines), va="top", size=SMALL, color=INK, linespacing=1.25
        )
        figure.canvas.draw()
    return image_of(figure.canvas)


@dataclass(frozen=True, repr=False)
class Picture:
    """A still picture for a page, with its caption as the text behind it."""

    png: bytes
    caption: str

    def __repr__(self):
        return self.caption

    def _repr_mimebundle_(self, **_):
        return (
            {"image/png": base64.b64encode(self.png).decode(), "text/plain": self.caption},
            {"image/png": {"alt": self.caption}},
        )


def picture(drawing: Drawing, build: Build, result: Any) -> Picture:
    """A still picture of a build, bands included.

    drawing: Drawing. build: Build. result: what the drawing is of, e.g. links(build).
    Returns Picture, which a notebook shows with its caption.
    """
    numbers = drawing.numbers(build, result, True)
    return Picture(still(drawing, numbers), drawing.caption(numbers))
