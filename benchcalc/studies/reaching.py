"""What brings a set point within reach that full power does not reach: another sensor, another switch, more watts."""

import numpy as np

from ..chain.control.link import line_of
from ..heater.ways_down import way_down
from ..sheet.build_control import FIXED

EMBEDDED, RELAY = FIXED[1], "relay"
IN_HAND = 0.08  # of the rise, so that low mains reach it with a little to spare (own judgement)
SHARES, SHARE_STEP, MOST_TIMES = (1.15, 1.3), 0.05, 3.0


def reaching(build, workings, other_watts):
    """Changes that bring a set point within reach, the least effort first.

    build: Build (floats) with a controller. workings: Workings of it. other_watts(build, coil, share) -> moves to a
    coil that takes a share of today's watts, {} where there is none.
    Returns list of (words, moves, effort).
    """
    control, supply, wire, coil = (workings.parts.get(n) for n in ("control", "supply", "wire", "coil"))
    if control is None or control.standing is None or not control.set_c > control.low_c:
        return []
    nearer = []
    if build.sensor.fixed != EMBEDDED:
        nearer.append((f"the sensor {EMBEDDED}", {"sensor.attached": EMBEDDED}))
    relay = way_down(line_of(supply, wire, coil), RELAY, 1.0)
    if not relay.why_not and relay.on_w > 1.01 * control.on_w:
        nearer.append((f"a {RELAY} as its switch", {"control.way": RELAY}))
    made = [(words, moves, 1) for words, moves in nearer]
    told, both = ", ".join(words for words, _ in nearer), {k: x for _, moves in nearer for k, x in moves.items()}
    made += [(told, both, 2)] if len(nearer) > 1 else []
    for share in SHARES if nearer else ():
        if watts := other_watts(build, coil, share):
            made.append((f"{told}, {share:.0%} of the watts", both | watts, 3))
    share = _watts_share(build, control)
    if np.isfinite(share) and (watts := other_watts(build, coil, share)):
        made.append((f"{share:.0%} of the watts, by less wire in the coil", watts, 4))
    return made


def _watts_share(build, control):
    """Watts as a share of today's that reach the dial with low mains too; nan past three times today's."""
    room = build.room.ambient_c
    above = (control.full_c - room) / max(control.low_c - room, 1.0) * (1 + IN_HAND)
    share = control.standing.share_for(room + above * (control.set_c - room))
    share = float(np.ceil(share / SHARE_STEP) * SHARE_STEP) if np.isfinite(share) else share
    return share if 1 < share <= MOST_TIMES else float("nan")
