"""Tracks: each shell of each part (and the winding, the leads, thin skins) with its radii and its stations."""

from dataclasses import dataclass

import numpy as np

from ..network.curves import conductivity_at

THIN_W_MK = 2.0  # below this the drop across a shell's own wall counts
REFERENCE_C = 150.0


@dataclass(frozen=True, eq=False)
class Track:
    """A shell: name, the piece it belongs to, radii (designs, 1), stations, resistance from its node outwards.

    in_mk_w, out_mk_w: resistance of its own wall per length, from its inner surface to its node and
    from its node to its outer surface, m K/W (zero for metals). mass: False for a point without mass.
    """

    name: str
    owner: str
    inner_m: np.ndarray
    outer_m: np.ndarray
    first: int
    last: int
    in_mk_w: np.ndarray
    out_mk_w: np.ndarray
    mass: bool = True
    emissivity: np.ndarray | float = 0.85


def column(value, designs):
    """A number or array (designs,) as (designs, 1).

    value: float or array. designs: 1 or more.
    """
    value = np.asarray(value, dtype=float)
    return value.reshape(designs, 1) if value.size == designs else np.full((designs, 1), value.item())


def tracks_of_piece(piece, span, designs):
    """The shells of one piece, from the inside out.

    piece: Piece. span: its stations (slice). designs: 1 or more.
    Returns list of Track.
    """
    inner, outer = column(piece.inner_m, designs) / 2, column(piece.outer_m, designs) / 2
    k = conductivity_at(piece.conductivity, REFERENCE_C) * column(piece.conductivity_scale, designs)
    thin, found = k < THIN_W_MK, []
    for ring in range(piece.rings):
        a = inner + (outer - inner) * ring / piece.rings
        b = inner + (outer - inner) * (ring + 1) / piece.rings
        inside = outside = np.zeros((designs, 1))
        if thin.any():
            middle = np.sqrt((a**2 + b**2) / 2)
            with np.errstate(divide="ignore"):
                inside = np.where(thin & (a > 0), np.log(middle / np.where(a > 0, a, middle)) / (2 * np.pi * k), 0.0)
            outside = np.where(thin, np.log(b / middle) / (2 * np.pi * k), 0.0)
        name = piece.id if piece.rings == 1 else f"{piece.id} shell {ring + 1}"
        found.append(
            Track(
                name,
                piece.id,
                a,
                b,
                span.start,
                span.stop,
                inside,
                outside,
                emissivity=column(piece.emissivity, designs),
            )
        )
    return found


def shell_area(track):
    """Section of a shell across the axis, m2 (designs, 1).

    track: Track.
    """
    return np.pi * (track.outer_m**2 - track.inner_m**2)


def number_cells(tracks, stations):
    """Node numbers, station by station and within each from the inside out.

    tracks: list of Track, inner ones first. stations: number of stations.
    Returns array (tracks, stations), -1 where a track is absent.
    """
    active = np.zeros((len(tracks), stations), bool)
    for i, t in enumerate(tracks):
        active[i, t.first : t.last] = True
    flat = active.T.ravel()
    numbers = np.where(flat, np.cumsum(flat) - 1, -1)
    return numbers.reshape(stations, len(tracks)).T


def innermost(nodes):
    """The first of several tracks that is there, station by station.

    nodes: numbers (tracks, stations), -1 where a track is absent.
    Returns node numbers (stations,), -1 where none is there.
    """
    if not len(nodes):
        return np.full(nodes.shape[1], -1)
    return nodes[np.argmax(nodes >= 0, axis=0), np.arange(nodes.shape[1])]


def is_work(tool, t):
    """Whether a track is what the tool melts or holds.

    tool: Tool. t: Track.
    """
    return any(p.work and p.id == t.owner for p in tool.pieces)
