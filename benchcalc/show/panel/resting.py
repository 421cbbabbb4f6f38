"""What a panel works out once its sliders rest: after a moment, and where it is long in slices, with a bar that shows
how far it is; let go as soon as a slider moves on.

Between two slices the page has a few milliseconds of its own, so that a press never waits for more than one of them.
"""

import asyncio
import gc

import ipywidgets as widgets

REST_S, PAUSE_S = 0.15, 0.004
BAR_PX = 22
LEAST_SHARE = 0.02  # of a bar, before it is drawn anew
LITTLE = 0.25  # of what is set aside: so much more is collected in a moment


class Resting:
    """The work of a panel at rest.  act: function that is called when its next step is due."""

    def __init__(self, act):
        self.act, self.timer, self.work = act, None, None
        self.bar = widgets.IntProgress(
            min=0,
            max=1,
            layout={"width": "auto", "height": f"{BAR_PX}px", "visibility": "hidden"},
            style={"description_width": "initial"},
        )

    def later(self, wait_s=REST_S):
        """Have the next step taken.  wait_s: s.  Returns False where no loop runs: a test, or a plain script."""
        if self.timer is not None:
            self.timer.cancel()
        try:
            self.timer = asyncio.get_running_loop().call_later(wait_s, self.act)
        except RuntimeError:
            self.timer = None
        return self.timer is not None

    def drop(self):
        """Let go of what is being worked out: something newer came."""
        if self.timer is not None:
            self.timer.cancel()
        if self.work is not None:
            self.work.close()
            self.bar.layout.visibility = "hidden"
        self.timer = self.work = None

    def take(self, work):
        """Begin with work in slices.  work: generator of (done, of, what), what "" where it is too short for a bar."""
        self.work = work
        with self.bar.hold_sync():
            self.bar.value, self.bar.description = 0, ""

    def step(self):
        """Do one slice, and have the next one taken.

        Returns (True, what the work comes to) at its end, else (False, None).
        """
        try:
            done, of, what = next(self.work)
        except StopIteration as end:
            self.drop()
            return True, end.value
        except BaseException:
            self.drop()
            raise
        if what:
            tell(self.bar, done, of, what)
            self.bar.layout.visibility = "visible"
        if not self.later(PAUSE_S):
            raise RuntimeError("slices need a running loop")
        return False, None


def shown_apart(work):
    """Work in slices with one more pause at its end: showing what it comes to is a slice of its own.

    work: generator, as of `Resting.take`.
    """
    found = yield from work
    yield 1, 1, ""
    return found


def set_aside():
    """Leave what a page has loaded by now out of later collections of memory, where much has come since the last time.

    A collection over all of it takes as long as several presses and may come in the midst of one; over what is made
    from now on it takes a moment.  What was set aside and has served is let go first: a page may be run again.
    """
    if len(gc.get_objects()) < LITTLE * gc.get_freeze_count():
        return
    gc.unfreeze()
    gc.collect()
    gc.freeze()


def tell(bar, done, of, what):
    """Show how far work is, where that is further than before by what an eye sees.

    bar: IntProgress. done, of: whole numbers. what: words.
    """
    if what != bar.description or done >= of or done - bar.value >= LEAST_SHARE * of:
        with bar.hold_sync():
            bar.max, bar.value, bar.description = of, done, what
