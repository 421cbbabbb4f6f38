"""The open bore behind the coil: what shines and what air carries along it, from the core's end and from ring to ring.

Rings of a round bore see each other the less the further they lie apart.  That kernel, whose exact form comes from the
factors of coaxial discs, is taken as an exponential of the same reach (its second moment, 4/3 of the radius squared).
What falls onto the wall is then a field of its own, one point without mass at each station:

    wall to field     emissivity 2 pi r dx
    along the field   8/3 pi r^3 / dx
    a disc to it      1 / ((1 - emissivity)/(emissivity A) + 1/(1.7 A))

times sigma and the fourth powers.  In a long bore this is exact (Clausing, Annalen der Physik 404 (1932) 961: a long
tube passes 8 r/(3 L) of what enters); exponential kernels: Usiskin and Siegel, J. Heat Transfer 82 (1960) 369.  Against
rings and discs reckoned pair by pair the heat past the core's end comes out 0 to 18 % high within four radii (the safe
side), and lower where a tenth of it is left.  Leads in the bore are taken to hide nothing.
"""

import numpy as np

from ..network.curves import STEFAN_BOLTZMANN_W_M2K4
from .along import skin_track
from .tracks import column

SLIP = 1.7  # 2 in a theory of small steps; this meets pair by pair reckoning at the disc within 4 %


def bore_tracks(tool, mesh, designs):
    """One track without mass for each open bore.

    tool: Tool. mesh: Mesh. designs: 1 or more.
    Returns list of Track; none where all is plugged, or in a vessel.
    """
    solid = [p for p in tool.pieces if not p.work]
    if (
        len(solid) < len(tool.pieces)
        or any(p.role == "cup" for p in solid)
        or np.all(np.equal(tool.place.bore_open, 0))
    ):
        return []
    hollow = np.zeros(mesh.step_m.shape[1], bool)
    for p in sorted(solid, key=lambda p: -float(np.ravel(p.inner_m)[0])):  # the innermost part at a station has it
        hollow[mesh.span(p.from_m, p.to_m)] = np.all(np.asarray(p.inner_m) > 0)
    ends = np.flatnonzero(np.diff(np.concatenate([[0], hollow.astype(int), [0]])))
    zero = np.zeros((designs, 1))
    return [skin_track(f"bore {k + 1}", "bore", zero, slice(a, b), 0.0) for k, (a, b) in enumerate(ends.reshape(-1, 2))]


def bores(tool, tracks, node, mesh, paths, gas, room):
    """Heat along all open bores, by radiation and by still air.

    tool: Tool. tracks: list of Track. node: node numbers (tracks, stations). mesh: Mesh. paths: Paths, added to.
    gas: Conductivity of air. room: node number of the room.
    Where the tool has a handle its rear is taken as closed (cable and wood fill it), else as open to the room.
    Air stands still in so narrow a bore (its Rayleigh number by radius and gradient stays below about 68 to 216: Hales
    1937, Taylor 1954), and counts as being as warm as the wall around it.
    """
    for i, t in enumerate(tracks):
        if t.owner == "bore":
            _one_bore(tool, tracks, node, mesh, (paths, gas, room), i)


def _one_bore(tool, tracks, node, mesh, given, i):
    paths, gas, room = given
    t, designs = tracks[i], mesh.step_m.shape[0]
    field, step = node[i, t.first : t.last], mesh.step_m[:, t.first : t.last]
    within = np.arange(t.first, t.last)
    walls = _innermost(tracks, node, within)
    wall = node[walls, within]
    own, of = np.unique(walls, return_inverse=True)
    radius = np.concatenate([tracks[w].inner_m for w in own], axis=1)[:, of]
    shine = np.concatenate([np.broadcast_to(tracks[w].emissivity, (designs, 1)) for w in own], axis=1)[:, of]
    share = column(tool.place.bore_open, designs)
    half = step / 2 / (8 / 3 * np.pi * radius**3)  # from a point to the edge of its cell
    paths.ray(field, wall, STEFAN_BOLTZMANN_W_M2K4 * shine * 2 * np.pi * radius * step)
    if len(field) > 1:
        paths.ray(field[:-1], field[1:], STEFAN_BOLTZMANN_W_M2K4 * share / (half[:, :-1] + half[:, 1:]))
        apart = step / 2 / (np.pi * radius**2)
        paths.bar(wall[:-1], wall[1:], share / (apart[:, :-1] + apart[:, 1:]), gas)
    for at, beyond in ((0, t.first - 1), (-1, t.last)):
        disc = int(_innermost(tracks, node, [beyond])[0]) if 0 <= beyond < mesh.step_m.shape[1] else -1
        last = half[:, at : at + 1 or None]
        wide = radius[:, at : at + 1 or None]
        if disc >= 0:
            area = np.pi * np.minimum(tracks[disc].outer_m, wide) ** 2
            dull = (1 - tracks[disc].emissivity) / (tracks[disc].emissivity * area)
            paths.ray(
                node[disc, beyond], field[at], STEFAN_BOLTZMANN_W_M2K4 * share / (dull + 1 / (SLIP * area) + last)
            )
            paths.bar(node[disc, beyond], wall[at], share * 2 * area / wide, gas)
        elif at == 0 or not any(p.role == "handle" for p in tool.pieces):
            opening = SLIP * np.pi * wide**2
            paths.ray(field[at], room, STEFAN_BOLTZMANN_W_M2K4 * share / (1 / opening + last))


def _innermost(tracks, node, stations):
    """Numbers of the innermost shells of parts at some stations, -1 where no part reaches."""
    shells = [i for i, t in enumerate(tracks) if t.mass and t.owner not in ("coil", "leads")]
    shells.sort(key=lambda i: float(tracks[i].inner_m[0, 0]))
    there = node[np.ix_(shells, stations)] >= 0
    return np.where(there.any(axis=0), np.array(shells)[np.argmax(there, axis=0)], -1)
