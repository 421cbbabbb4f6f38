"""Steps of the outside: the rings of a part's end that stand out beyond what comes before or behind them."""

import numpy as np

from ..network.curves import STEFAN_BOLTZMANN_W_M2K4
from .surface_curves import Round, in_warm_air, shed
from .tracks import is_work


def shoulders(tool, tracks, node, mesh, paths, room):
    """Heat from the rings that an end shows: a handle's front round the tube, a thick tip's rear, a collar's ends.

    tool: Tool. tracks: list of Track. node: node numbers (tracks, stations). mesh: Mesh. paths: Paths, added to.
    room: node number of the room.
    The air's coefficient is that of the part's side; what a hot tube shines on the ring is left out.
    """
    solid = [
        i for i, t in enumerate(tracks) if t.mass and t.owner not in ("coil", "leads", "face") and not is_work(tool, t)
    ]
    designs = mesh.step_m.shape[0]
    for at in mesh.first_station[1:-1]:
        for here, there in ((at - 1, at), (at, at - 1)):
            beyond = [tracks[i].outer_m for i in range(len(tracks)) if node[i, there] >= 0]
            covered = np.max(beyond, axis=0) if beyond else np.zeros((designs, 1))
            ends = [i for i in solid if node[i, here] >= 0 and node[i, there] < 0]
            for i in ends:
                t = tracks[i]
                area = np.pi * np.maximum(t.outer_m**2 - np.maximum(t.inner_m, covered) ** 2, 0.0)
                if np.any(area > 0):
                    share = tool.place.rear_convection if in_warm_air(tool, mesh, at) else 1.0
                    outer_m = max((tracks[j].outer_m for j in ends if tracks[j].owner == t.owner), key=np.max)
                    shed(tool, paths, node[i, here], area, Round(f"ring of {t.name}", 2 * outer_m, share))
                    paths.ray(node[i, here], room, STEFAN_BOLTZMANN_W_M2K4 * t.emissivity * area)
