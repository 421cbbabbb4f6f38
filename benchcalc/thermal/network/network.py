"""A thermal network: nodes that hold heat, links that pass it on, surfaces that lose it, held temperatures.

Three nodes and two links in three lines:

>>> tool = network(node("coil", 5.0, power_w=10.0), node("tip", 20.0), held("room", 20.0),
...                link("coil", "tip", 0.4), link("tip", "room", 0.05))

`steady` and `warm_up` take such a network; `flows` tells where the watts go.  The same Network may be
filled with arrays directly (a tool with hundreds of nodes), and then with a leading axis for many designs
at once.
"""

from dataclasses import dataclass, field

import numpy as np

from ...basics.fault import Complaint, Fault, closest, fault
from .curves import STEFAN_BOLTZMANN_W_M2K4, Conductivity, HeatContent, Loss
from .refusals import refuse_nonsense


def _none():
    return np.zeros(0)


def _no_nodes():
    return np.zeros(0, dtype=int)


@dataclass(frozen=True, eq=False)
class Links:
    """Fixed conductances: heat = conductance_w_k * (T1 - T2).  Node numbers (m,), values (..., m)."""

    first: np.ndarray = field(default_factory=_no_nodes)
    second: np.ndarray = field(default_factory=_no_nodes)
    conductance_w_k: np.ndarray = field(default_factory=_none)


@dataclass(frozen=True, eq=False)
class Bars:
    """Conduction in one material: heat = shape_m * (K(T1) - K(T2)), shape = area / length; gas gaps too.

    material: number of the material in Network.materials, (m,).
    """

    first: np.ndarray = field(default_factory=_no_nodes)
    second: np.ndarray = field(default_factory=_no_nodes)
    shape_m: np.ndarray = field(default_factory=_none)
    material: np.ndarray = field(default_factory=_no_nodes)


@dataclass(frozen=True, eq=False)
class Rays:
    """Radiation: heat = exchange_w_k4 * (T1^4 - T2^4) in kelvin; exchange = sigma * area * factor."""

    first: np.ndarray = field(default_factory=_no_nodes)
    second: np.ndarray = field(default_factory=_no_nodes)
    exchange_w_k4: np.ndarray = field(default_factory=_none)


@dataclass(frozen=True, eq=False)
class Skins:
    """Surfaces: heat = area_m2 * loss curve at the node's temperature.

    curve: number of the curve in Network.curves, (m,).  A node may have several skins.
    """

    node: np.ndarray = field(default_factory=_no_nodes)
    area_m2: np.ndarray = field(default_factory=_none)
    curve: np.ndarray = field(default_factory=_no_nodes)


@dataclass(frozen=True, eq=False)
class Network:
    """A network, described by arrays over its nodes; value arrays may have a leading axis of designs.

    names: name of each node (n,). capacity_j_k: J/K near 20 degC (..., n), zero for a point without mass.
    power_w: W put in (..., n). held_c: degC where the temperature is held, nan elsewhere (..., n).
    materials, curves: what Bars and Skins point to. contents: {node number: HeatContent} of nodes that melt.
    stores, stored_by: how capacity_j_k, which is that at 20 degC, changes with temperature: of SpecificHeat, and the
    number of each node's own, -1 where it stays (n,); empty where all stay.
    station_by_station: True keeps the order of the nodes for the solver (links stay near the diagonal);
    False lets it renumber them.
    """

    names: tuple
    capacity_j_k: np.ndarray
    power_w: np.ndarray
    held_c: np.ndarray
    links: Links = field(default_factory=Links)
    bars: Bars = field(default_factory=Bars)
    rays: Rays = field(default_factory=Rays)
    skins: Skins = field(default_factory=Skins)
    materials: tuple = ()
    curves: tuple = ()
    contents: dict = field(default_factory=dict)
    station_by_station: bool = False
    stores: tuple = ()
    stored_by: np.ndarray = field(default_factory=_no_nodes)


@dataclass(frozen=True)
class Node:
    """One node, made by node() or held()."""

    name: str
    capacity_j_k: float = 0.0
    power_w: float = 0.0
    held_c: float = float("nan")
    content: HeatContent | None = None


@dataclass(frozen=True)
class Way:
    """One way for heat, made by link(), bar(), ray() or skin(); `of` is its material or loss curve."""

    kind: str
    first: str
    second: str
    value: float
    of: Conductivity | Loss | None = None


def node(name, capacity_j_k=0.0, *, power_w=0.0, content=None):
    """A node: one temperature, some heat capacity, perhaps a power put in.

    name: your word for it. capacity_j_k: mass * specific heat in J/K, >= 0 (0: a point without mass).
    power_w: W put in, >= 0. content: HeatContent from melting(), or None.
    Returns Node.
    """
    return Node(name, capacity_j_k, power_w, content=content)


def held(name, temp_c):
    """A node whose temperature is held, such as the room.

    name: your word for it. temp_c: degC.
    Returns Node.
    """
    return Node(name, held_c=temp_c)


def link(first, second, conductance_w_k):
    """A fixed conductance between two nodes: heat = conductance * temperature difference.

    first, second: names of nodes. conductance_w_k: W/K, >= 0 (area * coefficient, or k * area / length).
    Returns Way.
    """
    return Way("link", first, second, conductance_w_k)


def bar(first, second, shape_m, material):
    """Conduction in one material whose conductivity varies with temperature; a gas gap likewise.

    first, second: names of nodes. shape_m: area / length in m, >= 0 (for a round gap of length L
    2 pi L / ln(outer / inner)). material: Conductivity.
    Returns Way.
    """
    return Way("bar", first, second, shape_m, material)


def ray(first, second, area_m2, factor):
    """Radiation between two nodes.

    first, second: names of nodes. area_m2: area that radiates, >= 0. factor: emissivity, or the
    exchange factor of both surfaces, 0..1.
    Returns Way: heat = sigma * area * factor * (T1^4 - T2^4), in kelvin.
    """
    return Way("ray", first, second, STEFAN_BOLTZMANN_W_M2K4 * area_m2 * factor)


def skin(name, area_m2, curve):
    """A surface that loses heat to its surroundings by a curve.

    name: the node. area_m2: m2, >= 0. curve: Loss from loss_curve().
    Returns Way.
    """
    return Way("skin", name, name, area_m2, curve)


def face(first, second, shape_m, materials, *, contact_w_k=None):
    """Two materials that meet, each half way from its node's centre, with or without a contact between.

    first, second: names of nodes. shape_m: two shapes (area / length) in m, one for each side.
    materials: the two Conductivity. contact_w_k: W/K of the contact; None for a perfect one.
    Returns list of Node and Way: points without mass on the face, so that the heat is exact.
    """
    here, there = f"{first} at {second}", f"{second} at {first}"
    if contact_w_k is None:
        return [Node(here), bar(first, here, shape_m[0], materials[0]), bar(here, second, shape_m[1], materials[1])]
    return [
        Node(here),
        Node(there),
        bar(first, here, shape_m[0], materials[0]),
        link(here, there, contact_w_k),
        bar(there, second, shape_m[1], materials[1]),
    ]


def network(*pieces, station_by_station=False):
    """Put nodes and ways together.

    pieces: what node(), held(), link(), bar(), ray(), skin(), face() return, in any order.
    station_by_station: True when the nodes are given in order along the tool, so that links stay short.
    Returns Network.  Raises Fault that lists all that is wrong: names used twice, names that are no
    node, a link from a node to itself; and, once these are right, numbers that are negative or not known.
    """
    flat = [q for p in pieces for q in (p if isinstance(p, list | tuple) else [p])]
    nodes = [p for p in flat if isinstance(p, Node)]
    ways = [p for p in flat if isinstance(p, Way)]
    number = {n.name: k for k, n in enumerate(nodes)}
    wrong = [
        Complaint("network", str(p), "is neither a node nor a link.") for p in flat if not isinstance(p, Node | Way)
    ]
    wrong += [
        Complaint("network", n.name, "is the name of two nodes.", do="Give each node a name of its own.")
        for k, n in enumerate(nodes)
        if number[n.name] != k
    ]
    for way in ways:
        wrong += [
            Complaint(f"{way.kind} {way.first} - {way.second}", name, "is no node.", closest(name, number))
            for name in dict.fromkeys((way.first, way.second))
            if name not in number
        ]
        if way.first == way.second and way.kind != "skin":
            wrong.append(Complaint(f"{way.kind} {way.first} - {way.second}", "", "joins a node to itself."))
    if not nodes:
        wrong.append(Complaint("network", "", "has no nodes."))
    if wrong:
        raise Fault(*wrong)

    def ends(kind):
        chosen = [w for w in ways if w.kind == kind]
        numbers = [np.array([number[getattr(w, e)] for w in chosen], dtype=int) for e in ("first", "second")]
        things = list({id(w.of): w.of for w in chosen}.values())
        which = np.array([next(k for k, t in enumerate(things) if t is w.of) for w in chosen], dtype=int)
        return *numbers, np.array([w.value for w in chosen], dtype=float), which, tuple(things)

    bars, skins = ends("bar"), ends("skin")
    net = Network(
        tuple(number),
        *(np.array([getattr(n, f) for n in nodes], dtype=float) for f in ("capacity_j_k", "power_w", "held_c")),
        links=Links(*ends("link")[:3]),
        bars=Bars(*bars[:4]),
        rays=Rays(*ends("ray")[:3]),
        skins=Skins(skins[0], skins[2], skins[3]),
        materials=bars[4],
        curves=skins[4],
        contents={k: n.content for k, n in enumerate(nodes) if n.content is not None},
        station_by_station=station_by_station,
    )
    refuse_nonsense(net)
    return net


def node_number(net, name):
    """Number of a node from its name, or from its number.

    net: Network. name: a name, or an integer that is returned as it is.
    Raises Fault with the closest names when there is no such node.
    """
    if isinstance(name, int | np.integer):
        return int(name)
    if name not in net.names:
        raise fault("network", name, "is no node.", closest(name, net.names))
    return net.names.index(name)
