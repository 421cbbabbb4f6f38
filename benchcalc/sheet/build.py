"""A build: what the maker has, wants and measured.  Frozen dataclasses, plain SI floats or None.

Every numeric field that has a band, or that was not typed by the maker, has an entry in
`build.known`: its ends, and how it is known.
"""

from dataclasses import dataclass, field
from types import MappingProxyType

from .build_holes import HeatBreak  # noqa: F401
from .build_supply import Cable, Cooling, Hour, LeadOut, Soak  # noqa: F401


@dataclass(frozen=True)
class Known:
    """How an input is known: ends (SI), how (measured, stated, table, assumed), own text, line.

    spread: "uniform" or "log". group, share: part of the half width that moves together with all
    other readings of the same group (the gain error of one instrument).

    >>> Known(11.9, 12.1, "measured", "12 V").how
    'measured'
    """

    low: float
    high: float
    how: str
    text: str = ""
    line: int | None = None
    spread: str = "uniform"
    group: str = ""
    share: float = 0.0


@dataclass(frozen=True)
class Reading:
    """One reading at the supply: volts, amps (0: no load), how long it had been loaded.

    clip_m: length of wire between the clips, where a piece of wire was the load.
    """

    volts_v: float | None = None
    amps_a: float | None = None
    loaded_s: float | None = None
    instrument: str | None = None
    clip_m: float | None = None


@dataclass(frozen=True)
class Supply:
    """The supply: kind, AC or DC, typed line or limit, readings; mains and warming are shares.

    core, core_width_m, core_stack_m: kind of iron core and its middle limb. load_ohm: a load that a page
    looks at; no sheet holds it.
    """

    kind: str | None = None
    output: str | None = None
    open_v: float | None = None
    source_ohm: float | None = None
    limit_a: float | None = None
    source_share: float | None = None
    mains: float = 1.0
    warming: float = 1.0
    reading: tuple = ()
    core: str | None = None
    core_width_m: float | None = None
    core_stack_m: float | None = None
    cable: Cable = Cable()
    load_ohm: float | None = None


@dataclass(frozen=True)
class Wire:
    """A reel or a piece of wire; `factor_place` is -1..1, where in its band the hot factor lies.

    hot_factor: assumed for a wire of unknown alloy, else None.
    """

    id: str = ""
    alloy: str | None = None
    gauge: str | None = None
    diameter_m: float | None = None
    width_m: float | None = None
    thickness_m: float | None = None
    measured_ohm: float | None = None
    leads_ohm: float = 0.0
    measured_length_m: float | None = None
    used: bool = False
    resistivity_ohm_m: float | None = None
    factor_place: float = 0.0
    hot_factor: float | None = None


@dataclass(frozen=True)
class Tails:
    """Both tails of the coil: length of one, resistance of both, strands twisted together, what sleeves them."""

    length_m: float | None = None
    resistance_ohm: float | None = None
    strands: int = 1
    material: str | None = None
    sleeve: str | None = None


@dataclass(frozen=True)
class Coil:
    """The coil: which wire on which part, heated length, layers, pitch, mounting, place."""

    wire: str | None = None
    on: str | None = None
    length_m: float | None = None
    layers: int = 1
    pitch_m: float | None = None
    mounting: str | None = None
    from_m: float | None = None
    to_m: float | None = None
    wire_temp_c: float | None = None
    anchor_turns: float | None = None
    end_room_m: float | None = None
    tails: Tails = Tails()


@dataclass(frozen=True)
class Part:
    """A solid part on the tool's axis, measured from the tip; density and moisture of wood that was weighed."""

    id: str = ""
    role: str | None = None
    material: str | None = None
    from_m: float | None = None
    to_m: float | None = None
    inner_m: float | None = None
    outer_m: float | None = None
    finish: str | None = None
    exposed: bool | None = None
    emissivity: float | None = None
    density_kg_m3: float | None = None
    moisture: float | None = None
    conductivity_place: float = 0.0


@dataclass(frozen=True)
class Joint:
    """Where two parts touch, and how the joint is made."""

    between: tuple = ()
    made: str | None = None
    from_m: float | None = None
    to_m: float | None = None
    contact_scale: float = 1.0


@dataclass(frozen=True)
class Layer:
    """A layer of insulation between two parts or a part and the coil, from the inside out."""

    between: tuple = ()
    material: str | None = None
    thickness_m: float | None = None
    from_m: float | None = None
    to_m: float | None = None
    conductivity_scale: float = 1.0


@dataclass(frozen=True)
class Heat:
    """What the heat model assumes where no key of a sheet says it; see data/defaults.csv."""

    gap_off_centre: float | None = None
    slack_m: float | None = None
    screw_point_w_k: float | None = None
    convection: float | None = None
    rear_convection: float | None = None
    rear_length_m: float | None = None
    leads_to_tube_w_mk: float | None = None
    work_w_m2k: float | None = None
    shine_place: float = 0.0
    grip_w_m2k: float = 0.0


@dataclass(frozen=True)
class Room:
    """Where the tool is used."""

    ambient_c: float | None = None
    air_speed_m_s: float | None = None
    attitude: str | None = None


@dataclass(frozen=True)
class Use:
    """How much it is used; halving_k: kelvin that halve the life of what is organic; side_load_n: push at the tip."""

    hours_per_year: float | None = None
    halving_k: float | None = None
    side_load_n: float | None = None


@dataclass(frozen=True)
class Want:
    """What the maker wants: power in the coil, a temperature at the tip, or a job."""

    power_w: float | None = None
    tip_c: float | None = None
    job: str | None = None


@dataclass(frozen=True)
class Marker:
    """A melting marker that was seen to melt: material, place, time from switching on."""

    material: str | None = None
    at_m: float | None = None
    time_s: float | None = None


@dataclass(frozen=True)
class Log:
    """A warm-up log: file, place of the probe, how it was attached, which column, how its times and readings are written, power
    measured at the coil."""

    file: str | None = None
    at_m: float | None = None
    attached: str | None = None
    channel: str | None = None
    time: str | None = None
    reads: str | None = None
    power_w: float | None = None


@dataclass(frozen=True)
class AsBuilt:
    """What was measured on the finished coil: cold ohms at the tails' ends, turns, winding length."""

    cold_ohm: float | None = None
    turns: float | None = None
    winding_m: float | None = None


@dataclass(frozen=True)
class Build:
    """A whole build sheet in SI.  `known` maps a path such as "coil.length_m" to Known.

    at_s: time since switching on that a page looks at, None for the settled tool; at_c: winding temperature that a page looks
    at, None for the one it settles at; heater_c: hot end of a stem that a page looks at; no sheet holds them.

    >>> Build(name="empty").supply.reading
    ()
    """

    name: str = ""
    units: str = "metric"
    degrees: str = "C"
    invented: bool = False
    supply: Supply = Supply()
    soak: Soak = Soak()
    wire: tuple = ()
    coil: Coil | None = None
    lead_out: LeadOut = LeadOut()
    part: tuple = ()
    joint: tuple = ()
    layer: tuple = ()
    heat_break: tuple = ()
    room: Room = Room()
    heat: Heat = Heat()
    use: Use = Use()
    want: Want = Want()
    marker: tuple = ()
    log: tuple = ()
    as_built: AsBuilt = AsBuilt()
    at_s: float | None = None
    at_c: float | None = None
    heater_c: float | None = None
    known: MappingProxyType = field(default_factory=lambda: MappingProxyType({}))
    file: str = ""
