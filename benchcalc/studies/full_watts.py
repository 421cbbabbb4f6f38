"""Whether a tool may be switched on at full watts: what guards it when its power is stuck on."""

from dataclasses import dataclass

from ..chain.control.in_use import passed_in_use
from ..sheet.build import Build
from ..thermal.control.failing import CutOut
from .holding import HeldTool
from .stopping import Advice, cut_out_advice, may_pass, sheets_cut_out

FREE, GUARDED, FIT_FIRST, UNGUARDED, IN_USE, UNKNOWN = (
    "nothing to guard", "guarded", "fit first", "unguarded", "passed in use", "not known",
)  # fmt: skip


@dataclass(frozen=True)
class FullWatts:
    """Whether full watts may be switched on.  state: FREE: power stuck on passes no limit; GUARDED: the sheet's cut-out
    opens first; FIT_FIRST: only with the cut-out of advice, which guards all of them; UNGUARDED: a limit is passed that
    no cut-out guards; IN_USE: use itself passes one; UNKNOWN: power stuck on could not be worked out. own: the sheet's
    cut-out, or None. advice: Advice, None where the sheet's own guards and holds or nothing is left to guard. passed:
    words of the limits that power stuck on passes by its own value and use does not. first_s: when the first is."""

    state: str
    own: CutOut | None = None
    advice: Advice | None = None
    passed: tuple = ()
    first_s: float = float("nan")

    @property
    def stuck(self):
        """What power stuck on passes and when the first of it is passed, in words; "" where nothing is."""
        if not self.passed:
            return ""
        when = f"{self.first_s:.0f} s" if self.first_s < 60 else f"{self.first_s / 60:.1f} min"
        if len(self.passed) == 1:
            return f"{self.passed[0]} passes its limit after {when}"
        return f"{', '.join(self.passed)} pass their limits, the first after {when}"

    @property
    def no_rating(self):
        """Why no cut-out guards all of it, in words."""
        late = () if self.advice is None or self.advice.best is None else self.advice.late
        words = f"no rating is quick enough for {', '.join(late)}"
        return words if late else "no rating fits anywhere on its free outside"


def full_watts_gate(build: Build, found: HeldTool) -> FullWatts:
    """What stands between a tool at full watts and harm, once its control fails.

    build: Build with a controller. found: its HeldTool.
    Returns FullWatts; worked out once for each held tool and cut-out.
    """
    control = found.control
    if control is None or control.stuck is None:
        return FullWatts(UNKNOWN)
    own, _ = sheets_cut_out(build, found)
    guarded = own is not None and own.guards
    advice = None if guarded and own.holds or not may_pass(build, found) else cut_out_advice(build, found)
    sure = control.passed
    told = own, advice, tuple(dict.fromkeys(h.place for h in sure)), float(sure[0].after_s) if sure else float("nan")
    if passed_in_use(control):
        return FullWatts(IN_USE, *told)
    if not sure:
        return FullWatts(GUARDED if guarded else FREE, *told)
    if guarded:
        return FullWatts(GUARDED, *told)
    serves = advice is not None and advice.best is not None and not set(advice.late) & set(told[2])
    return FullWatts(FIT_FIRST if serves else UNGUARDED, *told)
