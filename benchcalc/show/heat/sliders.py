"""What the heat page can move, each as far as the geometry of the tool goes."""

import numpy as np

from ...chain.wire.fit_verdicts import bores_around, slack_m
from ...chain.workings import links
from ...materials.bulk import solid_key
from ...sheet.roles import ids_by_role, part_with_role
from ..panel.sliders import Choice, Slider

METALS = ("brass", "copper", "aluminium", "mild-steel", "stainless-304")


def heat_sliders(build):
    """The sliders of the heat page; those that this sheet has no field for are left out by the panel.

    build: Build with a wanted power.
    Returns list of Slider and Choice.
    """
    ids = ids_by_role(build)
    tip, stem, tube = (ids.get(r, "-") for r in ("tip", "stem", "tube"))
    _, wire, coil = links(build)
    most_w = np.inf if wire is None or not np.isfinite(wire.most_in_coil_w) else float(wire.most_in_coil_w)
    top_w = max(10.0, min(2.0 * build.want.power_w, most_w))
    sliders = [
        Slider("want.power_w", 1.0, top_w, 0.5, "power in the coil"),
        Slider("room.air_speed_m_s", 0.0, 1.0, 0.05, "air speed"),
    ]
    bore = next((p for p in build.part if p.id == tube and p.inner_m is not None and p.outer_m is not None), None)
    if bore is not None:
        needs = next((across for part, across in bores_around(build, coil) if part.id == tube), bore.inner_m)
        inside = [p.outer_m for p in build.part if _lies_in(p, bore)]
        low = min(bore.inner_m, max(float(needs), 0.5 * bore.inner_m, *inside))  # what lies in it must go in
        sliders += [
            Slider(f"part.{tube}.inner_m", low, bore.outer_m - 0.4e-3, 0.1e-3, "bore of the tube"),
            Choice(f"part.{tube}.material", _metals(build, tube), "tube of"),
        ]
        if None not in (bore.from_m, bore.to_m):
            sliders.append(Slider(f"part.{tube}.to_m", *tube_ends_m(build, bore), 0.002, "tube ends at"))
    handle = part_with_role(build, "handle", placed=True)
    if handle is not None:
        sliders.append(Slider(f"part.{handle.id}.from_m", *handle_ends_m(build, handle), 0.002, "handle begins at"))
    if stem != "-":
        sliders.append(Choice(f"part.{stem}.material", _metals(build, stem), "core of"))
    if tip != "-":
        front = next(p for p in build.part if p.id == tip)
        sliders.insert(
            1,
            Slider(
                f"part.{tip}.from_m",
                max(front.from_m - 0.03, 0.0),
                front.from_m + 0.4 * (front.to_m - front.from_m),
                0.002,
                "tip begins at",
            ),
        )
        sliders.append(Choice(f"part.{tip}.material", _metals(build, tip), "tip of"))
    for side, word in ((1, "under"), (0, "over")):
        layer = next(
            (i for i, y in enumerate(build.layer) if y.thickness_m and y.between[side : side + 1] == ("coil",)), None
        )
        if layer is not None:
            own_m = build.layer[layer].thickness_m
            thickest = min(max(1.5e-3, 1.5 * own_m), own_m + max(slack_m(build, coil), 0.0) / 2)
            sliders.append(Slider(f"layer.{layer}.thickness_m", 0.1e-3, thickest, 0.05e-3, f"layer {word} the coil"))
    sliders.append(Choice("room.attitude", ("lying", "tip down", "tip up"), "held"))
    return sliders


def _lies_in(part, bore):
    """Whether a part lies in the bore of another, somewhere along the axis."""
    sizes = (part.from_m, part.to_m, part.outer_m, bore.from_m, bore.to_m, bore.inner_m)
    if part.id == bore.id or part.role == "work" or None in sizes or part.outer_m > bore.inner_m + 1e-7:
        return False
    return part.from_m < bore.to_m and bore.from_m < part.to_m


def tube_ends_m(build, tube):
    """Where the tube may end: 10 mm into the handle at least, at its end at most; without one, behind what is wound.

    build: Build (floats). tube: its Part.
    Returns (low, high) in m.
    """
    handle = part_with_role(build, "handle", placed=True)
    on = next((p for p in build.part if build.coil is not None and p.id == build.coil.on), None)
    wound_m = tube.from_m if on is None or on.to_m is None else on.to_m
    if handle is None:
        return float(min(tube.to_m, wound_m + 0.01)), float(tube.to_m + 0.05)
    return float(min(tube.to_m, handle.from_m + 0.01)), float(max(tube.to_m, handle.to_m))


def handle_ends_m(build, handle):
    """Where the handle may begin: behind what is wound, on the tube, with 50 mm left to hold.

    build: Build (floats). handle: its Part.
    Returns (low, high) in m.
    """
    on = next((p for p in build.part if build.coil is not None and p.id == build.coil.on), None)
    wound_m = -np.inf if on is None else (on.to_m if build.coil.to_m is None else build.coil.to_m)
    tubes = [p.to_m for p in build.part if p.role == "tube" and p.to_m is not None]
    high = min([handle.to_m - 0.05, *(to_m - 0.01 for to_m in tubes)])
    return float(min(handle.from_m, max(handle.from_m - 0.03, wound_m + 0.005))), float(max(handle.from_m, high))


def _metals(build, id):
    own = next(p.material for p in build.part if p.id == id)
    key = solid_key(own)[1]
    return ((f"{own}, as on the sheet", own), *((m, m) for m in METALS if m != key))
