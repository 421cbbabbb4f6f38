"""Moving words on a live picture: set as small tiles and kept, since setting a text anew is slow."""

from functools import lru_cache
from pathlib import Path

import matplotlib
from PIL import Image, ImageDraw, ImageFont

from .style import INK, PAPER, SMALL

PAD_PX = 2


class Label:
    """A text at a place on a picture (data coordinates of its axes); hidden until put somewhere."""

    def __init__(self, axes, *, size=SMALL, color=INK, ha="left", va="center", bold=False, box=True):
        """axes: where it lives. size: points. color: of the letters. ha, va: which side stands at the
        place. bold: heavy letters. box: with a piece of paper behind it, to be read over lines."""
        self.axes, self.size, self.color, self.bold, self.box = axes, size, color, bold, box
        self.ha, self.va, self.upright, self.place, self.text = ha, va, False, (0, 0), ""

    def hide(self):
        """Take it off the picture."""
        self.text = ""

    def put(self, x, y, text, ha=None, va=None, upright=False):
        """Show it.  x, y: place. text: words. ha, va: new sides. upright: to be read from below."""
        self.place, self.text, self.upright = (x, y), text, upright
        self.ha, self.va = ha or self.ha, va or self.va

    def draw(self, image, dpi):
        """Set the words on a picture.  image: PIL image of the whole figure. dpi: its dots an inch."""
        if not self.text:
            return
        tile = tile_of(self.text, self.size * dpi / 72, self.color, self.bold, self.box, self.upright)
        x, y = self.axes.transData.transform(self.place)
        y = image.height - y
        x -= {"left": 0, "center": tile.width / 2, "right": tile.width}[self.ha]
        y -= {"top": 0, "center": tile.height / 2, "bottom": tile.height}[self.va]
        x = min(max(x, 2), image.width - tile.width - 2)
        image.paste(tile, (round(x), round(y)), tile)


@lru_cache(maxsize=16)
def font_of(size_px, bold):
    """The letters of the house.  size_px: px. bold: heavy letters.  Returns PIL font."""
    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    return ImageFont.truetype(str(Path(matplotlib.get_data_path()) / "fonts" / "ttf" / name), size_px)


@lru_cache(maxsize=512)
def tile_of(text, size_px, color, bold, box, upright):
    """A text as a small image.  text, color, bold, box, upright: as `Label`. size_px: px.  Returns PIL image."""
    font = font_of(size_px, bold)
    up, down = font.getmetrics()
    lines = text.split("\n")
    wide = max(font.getlength(line) for line in lines)
    tile = Image.new("RGBA", (round(wide) + 2 * PAD_PX, (up + down) * len(lines)), PAPER if box else PAPER + "00")
    pen = ImageDraw.Draw(tile)
    for i, line in enumerate(lines):
        pen.text((PAD_PX + (wide - font.getlength(line)) / 2, i * (up + down)), line, font=font, fill=color)
    return tile.transpose(Image.Transpose.ROTATE_90) if upright else tile
