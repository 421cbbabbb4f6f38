"""The first step on the bench: the cut-out chosen, a sample of it tested, one fitted, before anything is hot."""

from ...basics.names import say
from ...chain.control.cut_out import outside_of
from ...chain.control.in_use import passed_in_use
from ...sheet.build import Build
from ...studies.full_watts import FIT_FIRST, FREE, GUARDED, IN_USE, UNGUARDED, UNKNOWN, FullWatts
from ...studies.holding import HeldTool
from ...studies.own_cut_out import nobody_knows
from ...studies.settings import is_taken


def cut_out_step(build: Build, found: HeldTool, gate: FullWatts) -> str:
    """What to buy, to test and to fit, or why nothing serves.

    build: Build with a controller. found: its HeldTool. gate: its FullWatts.
    Returns text.
    """
    told = _step(build, found, gate)
    if gate.state in (FIT_FIRST, FREE) and is_taken(build):
        told += (
            " That is for the controller which this page takes: put it on your sheet first. For a tool that nothing "
            "holds look at page 00."
        )
    return told + ("" if gate.state in (UNKNOWN, IN_USE) else nobody_knows(found.control))


def _step(build, found, gate):
    if gate.state == UNKNOWN:
        return "**The cut-out:** what power stuck on does could not be worked out, so none can be chosen yet."
    if gate.state == IN_USE:
        early = ", ".join(passed_in_use(found.control))
        return (
            f"**The cut-out waits.** At this dial use itself passes the limit of {early}, and no cut-out can spare "
            "that. Mend it, or dial lower: then this step says what to fit."
        )
    if gate.state == UNGUARDED:
        own = "" if gate.own is None else f" The one on your sheet {gate.own.does}."
        return (
            f"**No cut-out serves this sheet yet.**{own} Stuck on, {gate.stuck}, and "
            f"{gate.no_rating}. So no step below goes to full watts."
        )
    if gate.state == GUARDED:
        where = f"yours is one of {_mark(build, gate.own)} at {_place(build, found, gate.own)}"
        best, more = None if gate.advice is None else gate.advice.best, ""
        if best is not None and best.holds:
            more = f" One of {_mark(build, best)} at {_place(build, found, best)} would keep that."
        return f"**The cut-out, before any heat:** {where}. {_test_and_fit(build, found, gate.own)}{more}"
    best = None if gate.advice is None else gate.advice.best
    if gate.state == FIT_FIRST:
        return (
            f"**The cut-out, before any heat.** Stuck on, {gate.stuck}, and nothing on your sheet guards it. Take "
            f"one of {_mark(build, best)}, at {_place(build, found, best)}; type both on page 00, group *control*. "
            f"{_test_and_fit(build, found, best)}"
        )
    skin = "Skin, paper and flux have limits too, so somebody stays with it."
    if best is None:
        return f"**No cut-out is asked for:** stuck on, nothing passes a limit that this sheet knows. {skin}"
    return (
        f"**The cut-out, before any heat.** Stuck on, {gate.advice.guards} may come to its limit by the doubt of its "
        f"temperature. One of {_mark(build, best)} at {_place(build, found, best)} would guard it. "
        f"{_test_and_fit(build, found, best)}"
    )


def _mark(build, cut):
    return say("temp_c", cut.rating_c, degrees=build.degrees)


def _place(build, found, cut):
    on = outside_of(found.control.left.heat.model)
    return f"{say('length_m', cut.at_m, units=build.units)} from the tip, on the {on}"


def _test_and_fit(build, found, cut):
    way = {"degrees": build.degrees}
    opens = f"{say('temp_c', cut.from_c, **way)} and {say('temp_c', cut.rating_c + cut.late_k, **way)}"
    amps = say("load_a", found.control.left.coil.load_a)
    on = outside_of(found.control.left.heat.model)
    return (
        "Such a link opens once, so buy two. Warm one alone, a heat gun and a thermometer at it, a meter on its leads: "
        f"it should open between {opens}, and is spent. Fit the other: crimped, never soldered, in the low-voltage "
        f"line in series with the coil, marked for {amps} {build.supply.output} or more. On many the metal case is "
        f"live: a sleeve between it and the {on}, bound on tightly. {_holding(build, cut)}"
    )


def _holding(build, cut):
    use, most = (say("temp_c", c, degrees=build.degrees) for c in (cut.normal_c, cut.hold_c))
    if cut.told:
        stays = "below" if cut.holds else "**not** below"
        return f"In use its place gets up to {use}, {stays} its holding temperature of {most}."
    by = "which is kept here" if cut.holds else "which this place does **not** keep: ask before you buy"
    return (
        "Its maker's sheet tells a holding temperature, at which it stays closed for good: use must stay below it. "
        f"Its place gets up to {use}; by common practice, without a source, {most} is the most, {by}."
    )
