"""Parts where they cannot be: two at one place, joined and yet apart, a cup without a bottom; no widgets."""

from dataclasses import dataclass
from itertools import combinations

from ...basics.names import say

TOUCH_M = 1e-4  # nearer than this two surfaces are drawn, and told, as touching; a press fit overlaps by less


@dataclass(frozen=True)
class DrawnRing:
    """A ring or rod on the axis, metres: name, role, ends along the axis, inner and outer diameter.

    kind: "part", "layer", "winding" or "frame".
    """

    name: str
    role: str
    from_m: float
    to_m: float
    inner_m: float
    outer_m: float
    kind: str = "part"


@dataclass(frozen=True)
class Wrong:
    """Something wrong with where things are: a sentence, and the stretch of the axis it is about (m)."""

    said: str
    from_m: float
    to_m: float


def overlaps(parts, units) -> list:
    """Two parts that claim the same metal: the model would count both.

    parts: of DrawnRing. units: metric or inch.
    Returns list of Wrong.
    """
    found = []
    for one, two in combinations(parts, 2):
        near, far = max(one.from_m, two.from_m), min(one.to_m, two.to_m)
        inner, outer = max(one.inner_m, two.inner_m), min(one.outer_m, two.outer_m)
        if far - near > TOUCH_M and outer - inner > 2 * TOUCH_M:
            stretch = f"{say('length_m', near, units=units)} to {say('length_m', far, units=units)}"
            do = _way_out(*sorted((one, two), key=lambda s: s.inner_m), units)
            found.append(
                Wrong(f"{one.name} and {two.name} are at the same place from {stretch}. {do}".strip(), near, far)
            )
    return found


def _way_out(inside, outside, units):
    """What would part two that overlap.  inside, outside: DrawnRing, the second with the wider bore."""
    size = lambda x: say("diameter_m", x, units=units)  # noqa: E731
    if outside.inner_m > inside.inner_m:  # one was meant to stand in the bore of the other
        return (
            f"{inside.name} is {size(inside.outer_m)} thick, the bore of {outside.name} {size(outside.inner_m)}: to "
            f"stand in it, it may have {size(outside.inner_m)} at most; or the two lie one behind the other."
        )
    small, big = sorted((inside, outside), key=lambda s: s.outer_m)
    if big.inner_m >= small.outer_m or big.outer_m == small.outer_m:
        return ""
    return (
        f"If {small.name} sits in a bore of {big.name}, split {big.name} there: one part up to the bore, one along it "
        f"with an inner diameter of {size(small.outer_m)}."
    )


def no_bottom(parts, units) -> list:
    """A cup that holds something and has nothing that closes it: what is in it would run out.

    parts, units: as overlaps.
    Returns list of Wrong.
    """
    cups = [p for p in parts if p.role == "cup" and p.inner_m > 0]
    if not any(p.role == "work" for p in parts):
        return []
    found = []
    for cup in cups:
        wide, ends = cup.inner_m - 2 * TOUCH_M, (cup.from_m, cup.to_m)
        others = (p for p in parts if p is not cup and p.role != "work" and p.outer_m > wide and p.inner_m <= TOUCH_M)
        if not any(p.from_m - TOUCH_M <= end <= p.to_m + TOUCH_M for p in others for end in ends):
            size = say("diameter_m", cup.outer_m, units=units)
            said = f"{cup.name} has no bottom: add a disc of diameter {size}, and let {cup.name} begin where it ends."
            found.append(Wrong(said, cup.from_m, cup.from_m))
    return found


def not_touching(parts, joints, units) -> list:
    """Parts that a joint says touch, and that do not; parts that nothing touches.

    parts, units: as overlaps. joints: rows of the sheet.
    Returns list of Wrong.
    """
    found, by = [], {p.name: p for p in parts}
    for joint in joints:
        pair = joint.get("between")
        if isinstance(pair, list) and len(pair) == 2 and all(str(n) in by for n in pair):
            one, two = sorted((by[str(n)] for n in pair), key=lambda s: s.from_m)
            gap_m = two.from_m - one.to_m
            if gap_m > TOUCH_M:
                said = say("length_m", gap_m, units=units)
                found.append(Wrong(f"{one.name} and {two.name} are joined, yet {said} apart.", one.to_m, two.from_m))
    for part in parts:
        if len(parts) > 1 and not any(_near(part, other) for other in parts if other is not part):
            found.append(Wrong(f"{part.name} touches no other part.", part.from_m, part.to_m))
    return found


def _near(one, two):
    """Whether two parts are end to end, or one around the other."""
    along = min(one.to_m, two.to_m) - max(one.from_m, two.from_m)
    return along > -TOUCH_M
