"""What air takes from the outside of a tool, as curves for the solver: which height, which air, which draught."""

import numpy as np

from ..network.curves import Loss, loss_curve
from ..surfaces.surface_loss import convection_of, flat_convection
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


def curve_of(tool, name, diameter_m, designs, free_share=1.0, height_m=None, flat=False):
    """Convection of a round surface against its temperature, tabulated for the solver.

    tool: Tool. name: for messages. diameter_m: (designs, 1). designs: 1 or more. free_share: on free convection alone,
    below 1 in air that the tool has warmed. height_m: over which the air along a standing tool has risen, (designs, 1);
    None: all of its length.  A tip that points down meets fresh air, and its own short height counts: the thin layer at
    the leading edge sheds about a third more there than the mean of the whole length.
    flat: a round face looking up instead of a cylinder, of what is melted or held.
    Returns Loss.
    """
    place = tool.place
    ambient, speed = column(place.ambient_c, designs), column(place.air_speed_m_s, designs)
    share, factor = column(free_share, designs), column(place.convection, designs)
    if height_m is None:
        height_m = np.max([column(p.to_m, designs) for p in tool.pieces], axis=0)

    def loss(temps):
        if flat:
            return flat_convection(temps[None, :], ambient, diameter_m, speed)
        return factor * convection_of(temps[None, :], ambient, diameter_m, speed, place.attitude, height_m, share)

    curve = loss_curve(name, loss, float(ambient[0, 0]), low_c=-40.0, high_c=1400.0, step_k=10.0)
    return curve if designs > 1 else Loss(curve.name, curve.ambient_c, curve.start_c, curve.step_k, curve.pieces[:, 0])
