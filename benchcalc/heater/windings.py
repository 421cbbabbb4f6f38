"""Which leads belong together, in which order the taps lie, and whether two windings help or hinder each other."""

import itertools

import numpy as np

from ..basics.fault import closest, fault


def windings(pairs, *, mains=(), low=()):
    """Leads sorted into windings, the taps of each in order.

    pairs: dict of (lead, lead) -> ohms between them, or None (or inf) where the meter shows nothing. mains, low: leads
    that go to the plug, and leads that are to feed the tool.
    Returns tuple of tuples of leads, each winding from one end to the other; the end whose neighbour is nearest comes
    first.
    Raises Fault: ohms below 0, readings that no chain of taps can have; before all else, any reading at all, megohms
    too, between a lead of the mains and one of the low side.
    An open reading between windings is needed, but is no proof of isolation: that takes a test at high voltage, which
    is not for a kitchen table.  Method: on one winding ohms add up along the wire, so the order is that in which the
    outermost pair is the sum of the steps between.
    """
    ohms = {frozenset(pair): np.inf if r is None else float(r) for pair, r in pairs.items()}
    if any(not r >= 0 for r in ohms.values()):
        raise fault("windings", min(ohms.values()), "is no resistance: ohms are 0 or more.")
    leads = sorted({lead for pair in ohms for lead in pair})
    for name in (*mains, *low):
        if name not in leads:
            raise fault("windings", name, "is in none of the readings.", closest(name, leads))
    groups = []
    for lead in leads:
        joined = [g for g in groups if any(np.isfinite(ohms.get(frozenset((lead, other)), np.inf)) for other in g)]
        groups = [g for g in groups if g not in joined] + [[lead, *itertools.chain(*joined)]]
    for g in groups:
        _refuse_bridge([x for x in sorted(g) if x in mains], [x for x in sorted(g) if x in low])
    return tuple(sorted(_in_order(sorted(g), ohms) for g in groups))


def _refuse_bridge(mains, low):
    """Cry out where a lead of the mains and one of the low side hang together."""
    if mains and low:
        raise fault(
            "DANGER, windings",
            f"{', '.join(mains)} (mains) and {', '.join(low)} (low side)",
            "are not apart: the low side would be live at mains voltage, and a touch of it can kill.",
            "One winding serves both sides, the insulation has failed, or a lead is misnamed.",
            "Do not plug it in. Read again with your hands off the leads; if anything at all still shows, scrap it and "
            "cut its cord off.",
        )


def _in_order(group, ohms):
    if len(group) < 3:
        return tuple(group)
    known = {p: ohms[p] for p in map(frozenset, itertools.combinations(group, 2)) if np.isfinite(ohms.get(p, np.inf))}
    if len(known) < len(group) * (len(group) - 1) // 2:
        raise fault(
            "windings",
            ", ".join(group),
            "hang together, but not every pair of them was read.",
            do="Read each pair of these leads.",
        )
    far = max(known, key=known.get)
    order = sorted(group, key=lambda lead: 0.0 if lead == min(far) else known[frozenset((lead, min(far)))])
    steps = sum(known[frozenset(p)] for p in itertools.pairwise(order))
    if abs(steps - known[far]) > 0.15 * known[far] + 0.3:
        raise fault(
            "windings",
            ", ".join(order),
            f"add up to {steps:.3g} ohm step by step, but read {known[far]:.3g} ohm end to end.",
            "A reading is wrong, or the meter's leads were not taken off.",
        )
    first, last = known[frozenset(order[:2])], known[frozenset(order[-2:])]
    return tuple(order if first <= last else order[::-1])


def series_line(first_v, first_ohm, second_v, second_ohm):
    """Two windings end to end, adding: volts add, and ohms too.

    first_v, second_v: no-load volts of each. first_ohm, second_ohm: source resistance of each.
    Returns (open_v, source_ohm).  Equation: Kirchhoff's voltage law.
    Limits: windings of one core share its iron: both lines must have been read with the other one loaded alike.
    """
    return first_v + second_v, first_ohm + second_ohm


def parallel_line(first_v, first_ohm, second_v, second_ohm):
    """Two windings side by side, like ends joined: the line of both, and the current that goes round between them.

    first_v, second_v: no-load volts of each, within 2 % of each other. first_ohm, second_ohm: source resistance of
    each, above 0.
    Returns (open_v, source_ohm, circulating_a); what goes round flows with no load at all and only warms them.
    Raises Fault: volts more than 2 % apart.
    Equation: Millman's theorem, from Kirchhoff's current law.
    """
    if np.any(np.abs(first_v - second_v) > 0.02 * np.maximum(first_v, second_v) * (1 + 1e-9)):
        raise fault(
            "windings in parallel",
            f"{first_v:.3g} V and {second_v:.3g} V",
            "are more than 2 % apart: a current would go round between them with no load at all.",
            do="Use one of them, or both in series.",
        )
    both_ohm = first_ohm + second_ohm
    open_v = (first_v * second_ohm + second_v * first_ohm) / both_ohm
    return open_v, first_ohm * second_ohm / both_ohm, np.abs(first_v - second_v) / both_ohm


def joined(first_v, second_v, across_v, *, error=0.1):
    """What two windings do when one end of each is joined, from the volts over the free ends.

    first_v, second_v: no-load volts of each alone, above 0. across_v: volts over the two free ends. error: share by
    which the sum may be missed.
    Returns "adding", "opposing" or "neither".  Adding ends may feed a load in series; for parallel use join the ends
    that oppose, and only where both windings give the same volts within 2 %.  Done on the low side, with a fuse in the
    lead.
    Equation: voltages of one core are in phase or in opposition.
    """
    if not (first_v > 0 and second_v > 0 and across_v >= 0):
        raise fault("phase test", f"{first_v}, {second_v}, {across_v} V", "needs volts above 0 of both windings.")
    near = error * (first_v + second_v) / 2
    if abs(across_v - (first_v + second_v)) <= near:
        return "adding"
    return "opposing" if abs(across_v - abs(first_v - second_v)) <= near else "neither"


def lamp_current(rated_v, rated_w, load_v):
    """The current of a filament lamp used as a load.

    rated_v, rated_w: printed on it. load_v: volts across it, 0.3-1.2 of rated_v.
    Returns lamp_a.  Cold, it has a tenth of its hot ohms: a fuse or a bench supply feels that for a moment, the
    readings are taken once it glows steadily.  Good to 10 % (exponent 0.55 from memory).
    Equation: I/I_rated = (U/U_rated)^0.55, the lamp engineers' rule.
    """
    lamp_a = rated_w / rated_v * (load_v / rated_v) ** 0.55
    return lamp_a


COLD_LAMP = 0.1  # of the ohms that a filament has when it glows (from memory: a tenth to a fifteenth)


def lamp_at_first(rated_v, rated_w, open_v, source_ohm):
    """The current that a cold filament asks for at the moment of switching on.

    rated_v, rated_w: printed on it, above 0. open_v, source_ohm: the supply's line.
    Returns A; within a tenth of a second it has fallen to that of lamp_on_line, unless the supply trips first.
    Equation: Ohm's law with a tenth of the ohms that it has when it glows.
    """
    return open_v / (source_ohm + COLD_LAMP * rated_v**2 / rated_w)


def lamp_on_line(rated_v, rated_w, open_v, source_ohm):
    """Where a filament lamp sits on a supply's line.

    rated_v, rated_w: printed on the lamp. open_v, source_ohm: the supply.
    Returns (load_v, load_a).  Past 1.2 times its rated volts the lamp soon dies.
    Method: the lamp's curve (see lamp_current) meets the line; bisection by scipy.
    """
    from scipy.optimize import brentq

    load_v = float(brentq(lambda u: u + source_ohm * lamp_current(rated_v, rated_w, u) - open_v, 0.0, open_v))
    return load_v, float(lamp_current(rated_v, rated_w, load_v))
