"""Which leads belong together, in which order the taps lie, and whether two windings help or hinder each other."""

import itertools

import numpy as np

from ..basics.fault import fault


def windings(pairs):
    """Leads sorted into windings, the taps of each in order.

    pairs: dict of (lead, lead) -> ohms between them, or None (or inf) where the meter shows nothing.
    Returns tuple of tuples of leads, each winding from one end to the other; the end whose neighbour is nearest comes
    first.
    Raises Fault: ohms below 0, or readings that no chain of taps can have.
    An open reading between windings is needed, but is no proof of isolation: that takes a test at high voltage, which
    is not for a kitchen table.  Method: on one winding ohms add up along the wire, so the order is that in which the
    outermost pair is the sum of the steps between.
    """
    ohms = {frozenset(pair): np.inf if r is None else float(r) for pair, r in pairs.items()}
    if any(not r >= 0 for r in ohms.values()):
        raise fault("windings", min(ohms.values()), "is no resistance: ohms are 0 or more.")
    leads = sorted({lead for pair in ohms for lead in pair})
    groups = []
    for lead in leads:
        joined = [g for g in groups if any(np.isfinite(ohms.get(frozenset((lead, other)), np.inf)) for other in g)]
        groups = [g for g in groups if g not in joined] + [[lead, *itertools.chain(*joined)]]
    return tuple(sorted(_in_order(sorted(g), ohms) for g in groups))


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


def lamp_on_line(rated_v, rated_w, open_v, source_ohm):
    """Where a filament lamp sits on a supply's line.

    rated_v, rated_w: printed on the lamp. open_v, source_ohm: the supply.
    Returns (load_v, load_a).  Past 1.2 times its rated volts the lamp soon dies.
    Method: the lamp's curve (see lamp_current) meets the line; bisection by scipy.
    """
    from scipy.optimize import brentq

    load_v = float(brentq(lambda u: u + source_ohm * lamp_current(rated_v, rated_w, u) - open_v, 0.0, open_v))
    return load_v, float(lamp_current(rated_v, rated_w, load_v))
