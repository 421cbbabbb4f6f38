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


AT_ONCE = 512  # designs whose air is looked up together; more would cost memory


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
    place, designs, flat = tool.place, paths.designs, surface.flat
    height_m = surface.height_m
    if height_m is None:
        height_m = np.max([column(p.to_m, designs) for p in tool.pieces], axis=0)
    values = (place.ambient_c, place.air_speed_m_s, surface.free_share, place.convection, surface.diameter_m, height_m)
    each = [column(v, designs) for v in values]

    def of_some(temps, which):
        ambient, speed, share, factor, diameter_m, height_m = (v[which] for v in each)
        air = paths.air_beside if designs <= AT_ONCE else None
        if air is None:
            air = air_beside(temps[None, :], ambient[:1] if np.ptp(ambient) == 0 else ambient)
        if designs <= AT_ONCE:  # every curve of a tool is looked up at the same temperatures
            paths.air_beside = air
        if flat:
            return np.broadcast_to(flat_in(air, diameter_m, speed), (len(ambient), temps.size))
        return factor * convection_in(air, diameter_m, speed, place.attitude, height_m, free_share=share)

    def loss(temps):
        slices = [slice(a, a + AT_ONCE) for a in range(0, designs, AT_ONCE)]
        return np.concatenate([of_some(temps, which) for which in slices])

    grain = paths.grain
    grid = {"step_k": grain.loss_step_k, "own_slope": grain.loss_slope, "high_c": grain.loss_top_c}
    curve = loss_curve(surface.name, loss, float(each[0][0, 0]), low_c=-40.0, **grid)
    return curve if designs > 1 else Loss(curve.name, curve.ambient_c, curve.start_c, curve.step_k, curve.pieces[:, 0])
