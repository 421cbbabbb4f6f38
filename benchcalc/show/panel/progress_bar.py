"""A bar that shows how far a long calculation is."""

import time

import ipywidgets as widgets
from IPython.display import display

from .resting import tell

AFTER_S = 0.4  # what takes no longer needs no bar


class _Bar(widgets.IntProgress):
    def _repr_mimebundle_(self, **how):
        """Said in words where no kernel draws it."""
        return super()._repr_mimebundle_(**how) | {"text/plain": f"A bar while the page is {self.description}."}


def progress_bar(words="working"):
    """A bar that shows how far a long calculation is, and goes when it is done.

    words: said before it.
    Returns function (done, of, what) to hand to the calculation.
    """
    bar = _made(_Bar, words)
    return lambda done, of, what: _move(bar, done, of, f"{words}: {what}")


def _made(kind, words):
    bar = kind(min=0, max=1, description=words, layout={"width": "60%"}, style={"description_width": "initial"})
    display(bar)
    return bar


def _move(bar, done, of, what):
    tell(bar, done, of, what)
    if done >= of:
        bar.close()


class _QuietBar(widgets.IntProgress):
    def _repr_mimebundle_(self, **how):
        """Nothing where no kernel draws it: whether it is shown at all hangs on how long the work takes."""
        return {kind: what for kind, what in super()._repr_mimebundle_(**how).items() if kind != "text/plain"}

    def _ipython_display_(self):
        """Its own bundle alone: IPython adds words to what is shown the usual way."""
        display(self._repr_mimebundle_(), raw=True)


def late_bar(words="working", after_s=AFTER_S):
    """As `progress_bar`, for work that is mostly short: the bar comes once it has taken a while.

    words: said before it. after_s: how long, s.
    Returns function (done, of, what) to hand to the calculation.
    """
    began, shown = time.monotonic(), []

    def moved(done, of, what):
        if not shown and done < of and time.monotonic() - began >= after_s:
            shown.append(_made(_QuietBar, words))
        for bar in shown:
            _move(bar, done, of, f"{words}: {what}")

    return moved
