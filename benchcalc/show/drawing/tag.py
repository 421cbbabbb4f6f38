"""A picture as an HTML tag with its bytes in it, so that nothing is fetched."""

import base64

from ...basics.escape import plain_text


def image_tag(png: bytes, said: str, style: str = "width:100%", size: tuple | None = None) -> str:
    """A picture for a widget or a file.

    png: its bytes. said: the picture in words, for who does not see it. style: CSS, may be empty. size: (width, height)
    in pixels, so that the page keeps the room free, or None.
    Returns HTML.
    """
    room = "" if size is None else f' width="{size[0]}" height="{size[1]}"'
    look = f' style="{style}"' if style else ""
    data = base64.b64encode(png).decode()
    return f'<img{room} alt="{plain_text(said, quote=True)}" src="data:image/png;base64,{data}"{look}>'
