"""Order of the nodes for the solver, and the check that every node's heat can leave."""

from functools import lru_cache

import numpy as np

from ...basics.fault import Complaint, Fault


def numbering(net):
    """Order of the free nodes, and the half width of the band in that order.

    net: Network (one design).
    Returns array of node numbers and the largest distance of two linked ones (at least 1).
    Given station by station the order is kept; else reverse Cuthill-McKee.
    Equation: Cuthill and McKee 1969, as in scipy.sparse.csgraph.
    """
    free = np.flatnonzero(np.isnan(net.held_c))
    first, second = free_pairs(net, free)
    if not net.station_by_station and free.size > 2:
        from scipy.sparse import coo_array
        from scipy.sparse.csgraph import reverse_cuthill_mckee

        pattern = coo_array((np.ones(first.size), (first, second)), shape=(free.size,) * 2).tocsr()
        order = reverse_cuthill_mckee(pattern + pattern.T, symmetric_mode=True)
        free = free[order]
        first, second = free_pairs(net, free)
    half = int(np.abs(first - second).max()) if first.size else 1
    return free, max(half, 1)


def free_pairs(net, free):
    """All links between free nodes, as places in `free`.

    net: Network. free: node numbers in the solver's order.
    Returns two arrays of places.
    """
    place = np.full(len(net.names), -1)
    place[free] = np.arange(free.size)
    first = place[np.concatenate([net.links.first, net.bars.first, net.rays.first])]
    second = place[np.concatenate([net.links.second, net.bars.second, net.rays.second])]
    both = (first >= 0) & (second >= 0)
    return first[both], second[both]


def refuse_islands(net, *, also_without_loss=False):
    """Refuse a network part of which has no way to lose heat.

    net: Network (with a designs axis, a way counts only where it is open in every design).
    also_without_loss: True lets an island keep its heat if all its nodes have capacity (warming up).
    Raises Fault that names the nodes that are cut off.
    """

    def is_open(values):
        return (values if values.ndim == 1 else values.min(axis=0)) > 0

    keep = np.concatenate([is_open(v) for v in (net.links.conductance_w_k, net.bars.shape_m, net.rays.exchange_w_k4)])
    count, island = islands(net, keep)
    held, open_skins = ~np.isnan(net.held_c).reshape(-1, len(net.names)).all(axis=0), is_open(net.skins.area_m2)
    if count == 1 and (held.any() or open_skins.any()):
        return  # all hang together and have a way out
    ways_out = np.concatenate([np.flatnonzero(held), net.skins.node[open_skins]])
    fine = np.zeros(count, dtype=bool)
    fine[island[ways_out]] = True
    if also_without_loss:
        massless = (np.atleast_2d(net.capacity_j_k) == 0).any(axis=0)
        bad_island = np.zeros(count, dtype=bool)
        bad_island[island[massless]] = True
        fine |= ~bad_island
    wrong = []
    for k in np.flatnonzero(~fine)[:5]:
        cut_off = [net.names[n] for n in np.flatnonzero(island == k)]
        shown = ", ".join(cut_off[:6]) + (", ..." if len(cut_off) > 6 else "")
        powered = np.atleast_2d(net.power_w)[:, island == k].sum() > 0
        wrong.append(
            Complaint(
                "network",
                shown,
                "has no way for heat to a held temperature or a surface.",
                "It would heat without end." if powered else "Its temperature cannot be told.",
                "Link it to the room, hold a temperature, or give it a skin.",
            )
        )
    if wrong:
        raise Fault(*wrong)


def islands(net, keep=None):
    """How many parts of a network hang together.

    net: Network. keep: which of its links, bars and rays count, in a row; None: all.
    Returns number of parts, and that of each node's own (n,).
    """
    ways = (net.links, net.bars, net.rays)
    first, second = (np.concatenate([getattr(w, end) for w in ways]) for end in ("first", "second"))
    if keep is not None and not keep.all():
        first, second = first[keep], second[keep]
    return _islands(len(net.names), *(np.asarray(x, dtype=np.int64).tobytes() for x in (first, second)))


@lru_cache(maxsize=32)
def _islands(nodes, first, second):
    """How many parts hang together, and the number of each node's; remembered, since structures come again and again.

    nodes: how many. first, second: ends of the ways that are open, as bytes of integers.
    """
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import connected_components

    first, second = np.frombuffer(first, dtype=np.int64), np.frombuffer(second, dtype=np.int64)
    starts = np.concatenate([[0], np.cumsum(np.bincount(first, minlength=nodes))])
    graph = csr_array((np.ones(first.size), second[np.argsort(first, kind="stable")], starts), shape=(nodes,) * 2)
    return connected_components(graph, directed=False)
