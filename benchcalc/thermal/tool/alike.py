"""Tools that are nearly alike, settled on a coarser mesh: what they differ by is kept, what the mesh misses is not.

Of samples about a nominal tool the spread is wanted; the nominal is known already, on the fine mesh.  Each node's rise
over the room is that of the coarse mesh times one ratio: of the nominal's rise on the fine mesh to its rise on the
coarse one.  So the nominal itself comes out as it was; every rise stays above zero, and rises keep the order that the
coarse mesh has them in.  This is a control variate, by ratio (Hammersley and Handscomb, Monte Carlo Methods, 1964,
section 5.5, from memory).

Against the same samples on the fine mesh the ends of the 90 % bands of the demos, and of a longer, a hotter and a badly
known tool, move by at most 1.3 % of the band's width in a thousand samples.  In two hundred it is 1 %, up to 3 % for
the tails and the watts they carry, which fall steeply over the first millimetres behind the winding; halving the fine
mesh itself moves those by 3 to 5 %.  Of 209 tools drawn at random, in two hundred: 0.3 % in the middle, 1.5 % for 95 of
100 (the tails 3.4 %), 4.1 % at most (tests/generated/test_spread.py).
Where the coarse mesh misses more than 8 % and half a kelvin of the nominal's own rise anywhere, it is not used at all;
nor where anything is past 1400 degC.  Tails so hot pour their heat into the winding's last cell, whose own rise goes
with its length: one such tool's band moved by 13 %.
"""

from dataclasses import dataclass, field, replace

import numpy as np

from ..network.side_by_side import RISE_POWER
from ..network.steady import steady
from ..surfaces.bare_wire import MOST_C
from .mesh import FINE, Grain, same_order
from .model import axis_places, cut_up, model_of
from .tracks import column

COARSER = 3  # cells of the fine mesh in whose place one stands
LEAST_CELLS = 6  # between two places, where the fine mesh has as many: temperatures fall steeply there
MOST_OFF, MOST_OFF_K = 0.08, 0.5  # of a rise, and K: where it misses more of the nominal the coarse mesh is not trusted
LEAST_K = 1.0  # a smaller rise tells no ratio: it is taken as one
CLOSE_K = 0.3  # told with a hundredfold reserve: no sample of the demos strays by more than 0.02 K
TABLED = 1.7  # times the nominal's rise: what surfaces shed is tabled so far, and to the end where a sample is hotter


@dataclass(frozen=True, eq=False)
class Nominal:
    """A settled tool about which many others lie.

    model: Model of one design. temps_c: degC of its nodes. seen: what it is on coarser meshes, by their cells.
    """

    model: object
    temps_c: np.ndarray
    seen: dict = field(default_factory=dict, repr=False)

    def coarse(self, tool, top_c=FINE.loss_top_c):
        """Many tools that are nearly this one, on the coarser mesh.

        tool: Tool of many designs. top_c: degC, up to which what their surfaces shed is tabled.
        Returns Coarse; None where parts begin and end in another order than the nominal's, or where the coarse mesh
        misses too much of the nominal or that is too hot.  Raises Fault as model_of.
        """
        met = self._like(tool)
        return None if met is None else _coarse(tool, *met, top_c)

    def _like(self, tool):
        """(Many tools on the fine mesh without a network, the nominal on both meshes), or None as `coarse`."""
        if self.temps_c.max() > MOST_C or not _same_order(tool, self.model.tool):
            return None
        try:
            fine = cut_up(tool, Grain(tracks=_names(self.model)))
            like = self._seen(fine.mesh.cells)
        except ValueError:  # it has other tracks
            return None
        return None if like is None or _spans(fine) != _spans(like.fine) else (fine, like)

    def settling(self, tool):
        """The same, settled, in slices.

        tool: as coarse.
        Yields () between slices.  Returns (Model without a network, Steady without names), both as the fine mesh has
        them, or None.  Raises Fault as model_of and steady.
        """
        met = self._like(tool)
        if met is None:
            return None
        yield ()
        skins, room_c = self.model.net.skins.node, _room_c(self.model)
        warm_c = room_c + TABLED * (self.temps_c[skins].max(initial=room_c) - room_c)
        for top_c in (warm_c, FINE.loss_top_c):
            many = _coarse(tool, *met, top_c)
            yield ()
            found = steady(many.model.net, start_c=many.start_c, close_k=CLOSE_K)
            if found.temps_c[:, many.model.net.skins.node].max(initial=room_c) < top_c:
                break
        return many.fine, replace(found, names=(), temps_c=many.on_fine(found.temps_c))

    def _seen(self, cells):
        if cells not in self.seen:
            self.seen[cells] = _seen(self, cells)
        return self.seen[cells]


@dataclass(frozen=True, eq=False)
class BothMeshes:
    """The nominal on a coarser mesh.  grain: Grain of it. fine, coarse: Model of one design, the fine one without a
    network. rise_k: settled, of the coarse nodes. before, behind: coarse nodes either side of each fine node. share: of
    the one behind. ratio: of the fine rise to that between the two, settled."""

    grain: Grain
    fine: object
    coarse: object
    rise_k: np.ndarray
    before: np.ndarray
    behind: np.ndarray
    share: np.ndarray
    ratio: np.ndarray

    def between(self, rises):
        """Rises (..., coarse nodes) at the fine nodes: on straight lines between neighbours of a track, never beyond
        its outermost cells."""
        return rises[..., self.before] * (1 - self.share) + rises[..., self.behind] * self.share

    def on_fine(self, temps_c, room_c=None):
        """Temperatures of the coarse nodes as the fine mesh has them.

        temps_c: degC (..., nodes). room_c: of each, to be broadcast; None: the nominal's.
        """
        room_c = _room_c(self.coarse) if room_c is None else room_c
        return room_c + self.ratio * self.between(temps_c - room_c)


@dataclass(frozen=True, eq=False)
class Coarse:
    """Many tools on the coarser mesh.  model: Model of them. fine: Model without a network, as the fine mesh has them.
    like: BothMeshes, of the nominal."""

    model: object
    fine: object
    like: BothMeshes

    @property
    def start_c(self):
        """Temperatures to start from, degC (designs, nodes): the nominal's rise, brought to the power of each."""
        power_w = self.like.coarse.net.power_w.sum()
        more = self.model.net.power_w.sum(axis=-1, keepdims=True) / power_w if power_w > 0 else 1.0
        return self._room_c + more**RISE_POWER * self.like.rise_k

    @property
    def _room_c(self):
        return column(self.model.tool.place.ambient_c, self.model.designs)

    def on_fine(self, temps_c):
        """Temperatures (..., designs, nodes), degC, as the fine mesh has them."""
        return self.like.on_fine(temps_c, self._room_c)


def _coarse(tool, fine, like, top_c):
    grain = replace(like.grain, loss_top_c=min(top_c, like.grain.loss_top_c))
    return Coarse(model_of(tool, grain), fine, like)


def _seen(nominal, cells):
    """The nominal on a mesh coarser than one of given cells; None where that is too coarse."""
    model, names, room_c = nominal.model, _names(nominal.model), _room_c(nominal.model)
    grain = Grain(tuple(max(-(-n // COARSER), min(n, LEAST_CELLS)) for n in cells), names, loss_slope=False)
    fine, coarse = cut_up(model.tool, Grain(cells, names)), model_of(model.tool, grain)
    rise_k = steady(coarse.net).temps_c - room_c
    before, behind, share = _neighbours(coarse, fine)
    seen = BothMeshes(grain, fine, coarse, rise_k, before, behind, np.clip(share, 0.0, 1.0), np.ones(1))
    met_k, known_k = seen.between(rise_k), _along_tracks(model, fine, nominal.temps_c - room_c)
    trusted = np.abs(met_k - known_k) <= MOST_OFF * np.abs(known_k) + MOST_OFF_K
    ratio = 1 + (known_k - met_k) / np.maximum(met_k, LEAST_K)
    return replace(seen, ratio=ratio) if trusted.all() else None


def _room_c(model):
    return float(np.ravel(model.tool.place.ambient_c)[0])


def _along_tracks(model, other, rises):
    """Rises at the nodes of a model, read at those of another of the same tool; carried on beyond a track's outermost
    cells, where that leaves them above zero."""
    before, behind, share = _neighbours(model, other)
    straight, held = (rises[before] * (1 - s) + rises[behind] * s for s in (share, np.clip(share, 0.0, 1.0)))
    return np.where(straight > 0, straight, held)


def _neighbours(model, other):
    """Nodes of a model either side of each node of another of the same tool, and the share of the one behind, below 0
    or above 1 beyond the outermost cells of a track."""
    size = int(other.node.max()) + 2  # the room is the last of them
    before, behind, share = np.zeros(size, int), np.zeros(size, int), np.zeros(size)
    before[-1] = behind[-1] = int(model.node.max()) + 1
    for mine, theirs in zip(model.node, other.node):
        at, x = model.mesh.middle_m[0, mine >= 0], other.mesh.middle_m[0, theirs >= 0]
        k = np.clip(np.searchsorted(at, x) - 1, 0, max(at.size - 2, 0))
        then, nodes = np.minimum(k + 1, at.size - 1), theirs[theirs >= 0]
        before[nodes], behind[nodes] = mine[mine >= 0][k], mine[mine >= 0][then]
        share[nodes] = np.where(then > k, (x - at[k]) / np.where(then > k, at[then] - at[k], 1.0), 0.0)
    return before, behind, share


def _same_order(tool, nominal):
    """Whether places lie along the first of many tools as they do along the nominal one."""
    both = axis_places(tool), axis_places(nominal)
    if len(both[0]) != len(both[1]):
        return False
    return bool(np.ptp(same_order([np.array([np.ravel(x)[0] for x in pair]) for pair in zip(*both)], 2)) == 0)


def _names(model):
    return tuple(t.name for t in model.tracks)


def _spans(model):
    return [(t.first, t.last) for t in model.tracks]
