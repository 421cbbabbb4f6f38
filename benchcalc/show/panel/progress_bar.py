"""A bar that shows how far a long calculation is."""

import ipywidgets as widgets
from IPython.display import display

from .resting import tell


def progress_bar(words="working"):
    """A bar that shows how far a long calculation is, and goes when it is done.

    words: said before it.
    Returns function (done, of, what) to hand to the calculation.
    """
    bar = widgets.IntProgress(
        min=0, max=1, description=words, layout={"width": "60%"}, style={"description_width": "initial"}
    )
    display(bar)

    def moved(done, of, what):
        tell(bar, done, of, f"{words}: {what}")
        if done >= of:
            bar.close()

    return moved
