"""The numbers behind the picture of the stack: rings from the axis outwards with their temperatures and ratings."""

from dataclasses import dataclass

import numpy as np

from ...basics.names import say
from ...sheet.change import item

TOPS_C = (600.0, 900.0, 1200.0)
STEP_M = 0.5e-3  # of the scale along the radius


@dataclass(frozen=True)
class Ring:
    """One ring to draw: words, kind (part, winding, layer, air), radii (m), temperatures, rating (nan: none), state
    word.
    """

    word: str
    kind: str
    inner_m: float
    outer_m: float
    inner_c: float
    outer_c: float
    limit_c: float
    state: str


@dataclass(frozen=True)
class StackNumbers:
    """rings from the inside out; wire: (radius, temperature) of the hottest wire; frame: what still parts depend on."""

    frame: tuple
    rings: tuple
    wire: tuple | None
    units: str
    degrees: str
    said: str


def stack_numbers(build, at):
    """What the picture of the stack shows.

    build: Build. at: AtWinding.
    Returns StackNumbers.
    """
    way = build.units, build.degrees
    if not at.shells:
        return StackNumbers(("nothing",), (), None, *way, at.said)
    layers = (
        {}
        if at.insulation is None
        else {
            (y.between, sum(x.between == y.between for x in at.insulation.layers[:k])): (y, at.insulation.hot_c[k])
            for k, y in enumerate(at.insulation.layers)
        }
    )
    rings = []
    for s in at.shells:
        word, limit, state = _told(build, s, layers)
        rings.append(Ring(word, s.kind, s.inner_m, s.outer_m, s.inner_c, s.outer_c, limit, state))
    coil = next(r for r in rings if r.kind == "winding")
    first = max(0.0, rings[0].inner_m)
    outer = float(np.ceil(rings[-1].outer_m / STEP_M - 1e-6) * STEP_M)  # keeps still while a layer grows a little
    solid = rings[0].outer_m - first  # a thick core tells nothing: begin near its skin
    near = max(first, rings[0].outer_m - max(0.5 * (outer - rings[0].outer_m), 1e-3)) if solid > 0 else first
    top = next(
        (t for t in TOPS_C if at.wire_c < 0.9 * t), TOPS_C[-1]
    )  # three scales only: the picture keeps still while a slider moves
    return StackNumbers(
        ("stack", round(near, 6), round(outer, 6), top, *way),
        tuple(rings),
        ((coil.inner_m + coil.outer_m) / 2, at.wire_c),
        *way,
        "",
    )


def _told(build, shell, layers):
    if shell.kind == "layer":
        part, hot = layers[shell.owner, shell.order]
        short = part.name.split(" (")[0]
        if part.rating is None or not np.isfinite(part.rating.limit_c):
            return short, np.nan, "no rating"
        return (
            short,
            part.rating.limit_c,
            "never" if part.rating.never else "over" if hot > part.rating.limit_c else "holds",
        )
    if shell.kind == "part":
        return item(build.part, shell.owner).id, np.nan, ""
    return ("winding" if shell.kind == "winding" else "air"), np.nan, ""


def stack_caption(n):
    """The picture in words.  n: StackNumbers."""
    if n.said:
        return n.said
    way = {"degrees": n.degrees}
    told = []
    for r in n.rings:
        if r.kind == "layer":
            rated = (
                f", rated {say('limit_c', r.limit_c, **way)}: {r.state}"
                if np.isfinite(r.limit_c)
                else ", no rating known"
            )
            told.append(
                f"{r.word} {say('thickness_m', r.outer_m - r.inner_m, units=n.units)}, "
                f"{say('temp_c', r.inner_c, **way)} to {say('temp_c', r.outer_c, **way)}{rated}"
            )
        elif r.kind != "air":
            told.append(f"{r.word} {say('temp_c', r.inner_c, **way)}")
    return (
        f"The tool cut across where its winding is hottest, to scale, from the core outwards: {'; '.join(told)}. "
        f"Below, mean temperature along the radius; the ring marks the wire itself, {say('wire_c', n.wire[1], **way)}."
    )
