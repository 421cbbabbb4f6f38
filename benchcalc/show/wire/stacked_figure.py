"""The pictures a page can ask for.  Each is a Drawing: give it to a panel, or to `picture` for a still."""

from ..drawing.live_picture import Drawing, Live, Picture, picture, stack, still
from .coil_figure import COIL
from .length_figure import LENGTH

WIRE_SIZING = stack(COIL, LENGTH)

__all__ = ["COIL", "LENGTH", "WIRE_SIZING", "Drawing", "Live", "Picture", "picture", "stack", "still"]
