"""How well typed sizes are known: a diameter or a thickness with no +- is what a caliper reads."""

from dataclasses import replace

import numpy as np

from ..basics.tables import rows

TOOL = "caliper"
ROOM = 0.45  # of the way to the next size, so that what goes into one another still does


def fill_sizes(build, known):
    """Widen what is known of typed diameters and thicknesses by the tool that measures them.

    build: Build. known: dict of path -> Known, changed; only sizes that the sheet states with no spread of their own.
    Equal diameters move together, since one was made to fit the other; different ones never meet.
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


def _widen(known, path, size_m, half_m, group):
    k = known.get(path)
    if k is not None and k.how == "stated" and k.low == k.high and np.isfinite(half_m):
        low, high = size_m - half_m, size_m + half_m
        known[path] = replace(k, low=low, high=high, group=group, share=1.0 if group else 0.0)
