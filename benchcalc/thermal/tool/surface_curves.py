"""What air takes from the outside of a tool, as curves for the solver: which height, which air, which draught."""

from dataclasses import dataclass

import numpy as np

from ..network.curves import Loss, loss_curve
from ..surfaces.surface_loss import air_beside, convection_in, flat_in
from .tracks import column


def in_warm_air(tool, mesh, station):
    """Whether a station lies in the air that the tool itself has warmed: the handle, and the tube just before it.

    tool: Tool. mesh: Mesh. station: its number.
    """
    handle = next((p for p in tool.pieces if p.role == "handle"), None)
    return (
        handle is not None and mesh.edges_m[0, station] >= np.ravel(handle.from_m - tool.place.rear_length_m)[0] - 1e-6
    )


def tip_of(tool):
    """The id of a tip that is the tool's front end, or None.

    tool: Tool.
    """
    first = min(tool.pieces, key=lambda p: float(np.ravel(p.from_m)[0]))
    return first.id if first.role == "tip" else None


@dataclass(frozen=True, eq=False)
class Round:
    """A round surface in air: name for messages, diameter_m (designs, 1), what its air is like.

    free_share: on free convection alone, below 1 in air that the tool has warmed. height_m: over which the air along a
    standing tool has risen, (designs, 1); None: all of its length.  A tip that points down meets fresh air, and its own
    short height counts: the thin layer at the leading edge sheds about a third more there than the mean of the whole
    length. flat: a round face looking up instead of a cylinder, of what is melted or held.
    """

    name: str
    diameter_m: np.ndarray
    free_share: float | np.ndarray = 1.0
    height_m: np.ndarray | None = None
    flat: bool = False


def shed(tool, paths, nodes, area_m2, surface):
    """Heat that a surface gives to the air; surfaces alike share one curve.

    tool: Tool. paths: Paths, added to. nodes: node numbers. area_m2: of each, (designs, nodes) or one. surface: Round.
    """
    parts = (surface.diameter_m, surface.free_share, surface.height_m)
    key = (surface.flat, *(None if x is None else np.asarray(x, float).tobytes() for x in parts))
    if key not in paths.alike:
        paths.alike[key] = _curve(tool, surface, paths)
    paths.skin(nodes, area_m2, paths.alike[key])


def _curve(tool, surface, paths):
    """Convection of a round surface against its temperature, tabulated for the solver: Loss."""
    place, diameter_m, height_m, designs = tool.place, surface.diameter_m, surface.height_m, paths.designs
    ambient, speed = column(place.ambient_c, designs), column(place.air_speed_m_s, designs)
    share, factor = column(surface.free_share, designs), column(place.convection, designs)
    if height_m is None:
        height_m = np.max([column(p.to_m, designs) for p in tool.pieces], axis=0)

    def loss(temps):
        if paths.air_beside is None:  # every curve of a tool is looked up at the same temperatures
            paths.air_beside = air_beside(temps[None, :], ambient[:1] if np.ptp(ambient) == 0 else ambient)
        if surface.flat:
            return flat_in(paths.air_beside, diameter_m, speed)
        in_air = convection_in(paths.air_beside, diameter_m, speed, place.attitude, height_m, free_share=share)
        return factor * in_air

    curve = loss_curve(surface.name, loss, float(ambient[0, 0]), low_c=-40.0, high_c=1400.0, step_k=10.0)
    return curve if designs > 1 else Loss(curve.name, curve.ambient_c, curve.start_c, curve.step_k, curve.pieces[:, 0])
