"""A bar that shows how far a long calculation is."""

import ipywidgets as widgets
from IPython.display import display

from .resting import tell


class _Bar(widgets.IntProgress):
    def _repr_mimebundle_(self, **how):
        """Said in words where no kernel draws it."""
        return super()._repr_mimebundle_(**how) | {"text/plain": f"A bar while the page is {self.description}."}


def progress_bar(words="working"):
    """A bar that shows how far a long calculation is, and goes when it is done.

    words: said before it.
    Returns function (done, of, what) to hand to the calculation.
    """
    bar = _Bar(min=0, max=1, description=words, layout={"width": "60%"}, style={"description_width": "initial"})
    display(bar)

    def moved(done, of, what):
        tell(bar, done, of, f"{words}: {what}")
        if done >= of:
            bar.close()

    return moved
