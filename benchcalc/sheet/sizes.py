"""How well typed sizes are known: a size with no +- is what a caliper reads; places that coincide are one place."""

from dataclasses import replace

import numpy as np

from ..basics.tables import rows

TOOL = "caliper"
ROOM = 0.45  # of the way to the next size, so that what goes into one another still does


def fill_sizes(build, known):
    """Widen what is known of typed diameters and thicknesses by the tool that measures them.

    build: Build. known: dict of path -> Known, changed; sizes that the sheet states with no spread of their own.
    Equal diameters move together by the widest of their doubts, since one was made to fit the other.
    """
    half_m = next(r["floor"] for r in rows("instruments") if r["key"] == TOOL and r["quantity"] == "m")
    sizes = {
        f"part.{p.id}.{field}": getattr(p, field)
        for p in build.part
        for field in ("inner_m", "outer_m")
        if isinstance(getattr(p, field), float)
    }
    for path, size_m in sizes.items():
        others = [abs(size_m - s) for s in (0.0, *sizes.values()) if abs(size_m - s) > 1e-9]
        _widen(known, path, size_m, min(half_m, ROOM * min(others)), f"diameter {size_m:.9g}")
    for i, layer in enumerate(build.layer):
        if isinstance(layer.thickness_m, float):
            _widen(known, f"layer.{i}.thickness_m", layer.thickness_m, min(half_m, ROOM * layer.thickness_m), "")
    _join(sizes, known, "diameter")


SAME_M = 1e-6  # places nearer than this are one place


def join_places(build, known):
    """Places along the axis that coincide on the sheet are one place, and move together by the widest of their doubts.

    build: Build. known: dict of path -> Known, changed.  Where one part ends the next begins, and a joint with them: a
    doubt typed at one of them is that of the seam.
    """
    places = {}
    for section, things in (("part", build.part), ("joint", build.joint), ("heat_break", build.heat_break)):
        for i, thing in enumerate(things):
            for field in ("from_m", "to_m"):
                places[f"{section}.{getattr(thing, 'id', '') or i}.{field}"] = getattr(thing, field, None)
    if build.coil is not None:
        places |= {"coil.from_m": build.coil.from_m, "coil.to_m": build.coil.to_m}
    places["lead_out.joint_at_m"] = build.lead_out.joint_at_m
    _join({path: at for path, at in places.items() if isinstance(at, float)}, known, "place")


def _join(sizes, known, word):
    """Equal sizes drawn together.  sizes: path -> m. known: dict of path -> Known, changed. word: of their group."""
    while sizes:
        at = next(iter(sizes.values()))
        seam = [path for path, other in sizes.items() if abs(other - at) <= SAME_M]
        sizes = {path: other for path, other in sizes.items() if path not in seam}
        typed = [known[path] for path in seam if path in known and known[path].low < known[path].high]
        if len(seam) < 2 or not typed:
            continue
        wide = max(typed, key=lambda k: k.high - k.low)
        for path in seam:
            own = known.get(path, wide)
            known[path] = replace(
                own, low=wide.low, high=wide.high, spread=wide.spread, group=f"{word} {at:.9g}", share=1.0
            )


def fitted(build, drawn):
    """Samples in which what goes into one another on the sheet still does: it was put together, whatever its sizes.

    build: Build. drawn: Build of its samples.
    Returns Build; where an inner part was drawn thicker than the bore around it, both are as thick as in the middle.
    """
    inner = {
        p.id: p for p in build.part if isinstance(p.outer_m, float) and p.from_m is not None and p.to_m is not None
    }
    for a in inner.values():
        for c in inner.values():
            apart = c.inner_m is None or a.outer_m > c.inner_m + SAME_M or a.to_m <= c.from_m or a.from_m >= c.to_m
            if a is not c and not apart:
                drawn = _pushed(drawn, a.id, c.id)
    return drawn


def _pushed(drawn, inner_id, outer_id):
    by = {p.id: p for p in drawn.part}
    thick, bore = np.asarray(by[inner_id].outer_m), np.asarray(by[outer_id].inner_m)
    over = thick > bore
    if not np.any(over):
        return drawn
    middle = (thick + bore) / 2
    by[inner_id] = replace(by[inner_id], outer_m=np.where(over, middle, thick))
    by[outer_id] = replace(by[outer_id], inner_m=np.where(over, middle, bore))
    return replace(drawn, part=tuple(by[p.id] for p in drawn.part))


def _widen(known, path, size_m, half_m, group):
    k = known.get(path)
    if k is not None and k.how == "stated" and k.low == k.high and np.isfinite(half_m):
        low, high = size_m - half_m, size_m + half_m
        known[path] = replace(k, low=low, high=high, group=group, share=1.0 if group else 0.0)
