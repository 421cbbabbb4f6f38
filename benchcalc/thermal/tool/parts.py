"""The tool as the heat model sees it: parts on one axis, what lies between them, where heat leaves.

Plain SI values; any number may be an array (designs,), and then all designs are solved side by side.
"""

from dataclasses import dataclass, field

import numpy as np

from ..network.curves import Conductivity
from ..network.stored import SpecificHeat


@dataclass(frozen=True)
class Piece:
    """A solid of revolution on the axis: from, to, inner and outer diameter (m), conduction, heat capacity.

    conductivity_scale: ratio to the nominal curve. heat_j_m3k: density times specific heat, at 20 degC. store: how
    that changes with temperature, None where it stays. emissivity: of its outer surface. along_scale: conductivity
    along the axis over that across it (wood: its grain runs along). rings: number of shells it is cut into across its
    wall (wood: 3). melts: (from_c, to_c, latent J/m3) or None. work: True for what is melted or held, coupled by
    work_w_m2k.
    """

    id: str
    role: str
    from_m: float
    to_m: float
    inner_m: float
    outer_m: float
    conductivity: Conductivity
    heat_j_m3k: float
    emissivity: float = 0.5
    conductivity_scale: float = 1.0
    along_scale: float = 1.0
    rings: int = 1
    melts: tuple | None = None
    work: bool = False
    store: SpecificHeat | None = None


@dataclass(frozen=True)
class Winding:
    """The winding as a sheath: place, inner and outer diameter (m), power in it (W), heat capacity (J/K)."""

    on: str
    from_m: float
    to_m: float
    inner_m: float
    outer_m: float
    power_w: float
    capacity_j_k: float
    emissivity: float = 0.85


@dataclass(frozen=True)
class Between:
    """What lies between two neighbours, from the inside out ("coil" is the winding, "room" the outside).

    layers: tuple of (thickness_m, conductivity_w_mk). layers_j_m3k: what each of them stores, () where it is not told.
    contact_w_m2k: contact conductance where they
    touch, None for a gas gap with radiation. from_m, to_m: place, None for all of the overlap.
    extra_w_k: a set screw's own way.
    """

    inner: str
    outer: str
    layers: tuple = ()
    contact_w_m2k: float | None = None
    from_m: float | None = None
    to_m: float | None = None
    extra_w_k: float = 0.0
    made: str = ""
    layers_j_m3k: tuple = ()


@dataclass(frozen=True)
class Narrow:
    """A stretch of a piece with holes: on, from, to (m), and the extra length of whole piece it is worth (m)."""

    on: str
    from_m: float
    to_m: float
    extra_m: float


@dataclass(frozen=True)
class Leads:
    """Both leads from the coil to the rear: place, k times section of both (W m/K), heat made in them (W).

    end_k_w: what the ends of the winding's own wire hold back of the heat that the leads draw (K/W, end_of_wire).
    over_k_w: how much hotter that wire is than its winding for each watt made in the winding (K/W).
    joint_m: place of their joint to the cable; it is told, and moves nothing.
    """

    from_m: float
    to_m: float
    conduction_w_m_k: float
    power_w: float
    capacity_j_mk: float
    to_tube_w_mk: float
    end_k_w: float = 0.0
    over_k_w: float = 0.0
    joint_m: float = float("nan")


@dataclass(frozen=True)
class Place:
    """The room and what the model assumes of it; see data/defaults.csv for the bands.

    eccentricity: of parts round each other, 0 on one axis, 1 until they touch. loose_gap_m: air between parts that
    touch with no joint named. slack_m: air inside a wrap. layer_emissivity: of a layer's surface.
    """

    ambient_c: float = 20.0
    air_speed_m_s: float = 0.15
    attitude: str = "lying"
    convection: float = 1.0
    rear_convection: float = 1.0
    rear_length_m: float = 0.035
    eccentricity: float = 0.5
    loose_gap_m: float = 7.5e-5
    layer_emissivity: float = 0.85
    slack_m: float = 5e-5
    work_w_m2k: float = 100.0
    grip_w_m2k: float = 0.0
    wood_contact_w_m2k: float = 430.0
    bore_open: float = 1.0


@dataclass(frozen=True)
class Tool:
    """A tool: pieces, winding, what lies between, leads, room, stretches with holes."""

    pieces: tuple
    winding: Winding | None
    between: tuple = ()
    leads: Leads | None = None
    place: Place = field(default_factory=Place)
    narrow: tuple = ()


_PLAIN = frozenset((float, int, str, bool, type(None), Conductivity, SpecificHeat))  # they hold no designs


def designs_of(thing):
    """Number of designs side by side in a tool: 0 when every number is a float.

    thing: Tool, or any dataclass or tuple in it.
    """
    return max((array.shape[0] for array in arrays_in(thing)), default=0)


def arrays_in(thing):
    """All arrays in a tool or a build that hold a number for each design.

    thing: any dataclass or tuple.
    Yields array, of one axis or more.
    """
    waiting = [thing]
    while waiting:
        one = waiting.pop()
        if type(one) in _PLAIN:
            continue
        if isinstance(one, tuple):
            waiting.extend(one)
        elif isinstance(one, np.ndarray):
            if one.ndim:
                yield one
        elif hasattr(one, "__dataclass_fields__"):
            waiting.extend(vars(one).values())
