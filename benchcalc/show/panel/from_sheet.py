"""Where a panel begins: on its sheet, or on the sheet with a cure in it, each time in the same way."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from ...chain.heat.holes import with_moves
from ...sheet.borrowed import borrowed
from ...sheet.build import Build
from .handles import handle_of, stand
from .sliders import Choice, fitting


@dataclass(frozen=True)
class FromSheet:
    """How a panel begins from a sheet, so that it can begin again: from what was kept, or with a cure in it.

    sheet: Build, as the page has it. start(sheet) -> (Build that is slid, its sliders) or, where the link hangs on the
    sheet, (Build, sliders, work).
    """

    sheet: Build
    start: Callable

    def spec_with(self, spec, moves):
        """The plan of a panel that begins from the sheet with some fields changed.

        spec: Spec of the panel as it stands. moves: dict of path -> SI value or text; {}: the sheet as it is.
        Returns Spec.  Lists name the metal of the sheet as the sheet's, whatever is tried.  Raises Fault where the
        change is not possible.
        """
        build, sliders, *work = self.start(with_moves(self.sheet, moves))
        lists = {s.path: s for s in spec.sliders if isinstance(s, Choice) and moves}
        sliders = fitting([lists.get(s.path, s) for s in sliders], build)
        work = work[0] if work else spec.work
        return replace(spec, build=build, sliders=sliders, work=work, borrows=bool(borrowed(build)))


def begun_again(handles, spec):
    """The handles of a panel stood where its plan begins: those that it had, and those that only now have a field.

    handles: dict of path -> widget, which gets what is new. spec: Spec.
    Returns list of the new ones.
    """
    new = []
    for s in spec.sliders:
        if s.path in handles:
            stand(handles[s.path], s, spec.build)
        else:
            handles[s.path] = handle_of(s, spec.build)
            new.append(handles[s.path])
    return new
