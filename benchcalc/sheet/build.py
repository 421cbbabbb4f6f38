"""A build: what the maker has, wants and measured.  Frozen dataclasses, plain SI floats or None.

Every numeric field that has a band, or that was not typed by the maker, has an entry in
`build.known`: its ends, and how it is known.
"""

from dataclasses import dataclass, field
from types import MappingProxyType

from ..heater.rectified import RECTIFIERS
from ..heater.supply import KINDS
from .build_as_built import AsBuilt
from .build_control import Control, Sensor
from .build_heat import Heat
from .build_holes import HeatBreak
from .build_learned import Learned
from .build_supply import Cable, Cooling, Hour, LeadOut, OtherSupply, Soak  # noqa: F401
from .key import key, listed, section


@dataclass(frozen=True)
class Known:
    """How an input is known: ends (SI), how (measured, learned, stated, table, assumed), own text, line.

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

    clip_m: length of wire between the clips, where a piece of wire was the load. load_w, load_ohm: watts and ohms of
    the load, which with each other, or with volts or amps, are a reading too.
    """

    volts_v: float | None = key("volts", "volts read", "v bare measured", 0.01, 1000)
    amps_a: float | None = key("amps", "amps read (0: no load)", "a bare measured", 0, 200)
    load_w: float | None = key("watts", "watts into the load, where a wattmeter read them", "w bare", 0.01, 3000)
    load_ohm: float | None = key("ohms", "ohms of the load, as warm as it was", "ohm bare measured", 0.01, 1e4)
    loaded_s: float | None = key("minutes", "how long it had been loaded", "minutes", 0, 100000)
    instrument: str | None = key("with", "instrument, of data/instruments.csv", "text instrument")
    clip_m: float | None = key("clipped", "wire between the clips, where a piece of wire was the load", "m", 0.01, 100)


@dataclass(frozen=True)
class Supply:
    """The supply: kind, AC or DC, typed line or limit, readings; mains and warming are shares.

    core, core_width_m, core_stack_m: kind of iron core and its middle limb. load_ohm: a load that a page looks at; no
    sheet holds it. usable: share of a battery's charge that is really there. form: what a heater feels over what a
    meter shows, where a capacitor of unknown size smooths.
    """

    kind: str | None = key("kind", "kind of supply", KINDS)
    output: str | None = key("output", "AC or DC", ("AC", "DC"))
    rectifier: str | None = key("rectifier", "what stands between a transformer and the direct volts read", RECTIFIERS)
    open_v: float | None = key("open", "no-load voltage, known beforehand", "v", 0.1, 1000)
    source_ohm: float | None = key("source", "source resistance, known beforehand", "ohm", 0, 1000)
    limit_a: float | None = key("limit", "current at which it limits or trips", "a", 0.01, 200)
    frequency: str | None = key("frequency", "frequency of the mains", ("50 Hz", "60 Hz"))
    charge_a_s: float | None = key("charge", "charge of a battery, as its label says", "a_s", 36, 3.6e6)
    energy_j: float | None = key("energy", "energy of a battery, where its label says that", "j", 36, 3.6e7)
    usable: float | None = None
    source_share: float | None = None
    form: float | None = None
    mains: float = 1.0
    warming: float = 1.0
    reading: tuple = listed(Reading)
    core: str | None = key("core", "kind of iron core", ("stacked", "toroid", "cut core"))
    core_width_m: float | None = key("core_width", "width of the core's middle limb", "m", 0.005, 0.1)
    core_stack_m: float | None = key("core_stack", "height of the core's stack", "m", 0.005, 0.15)
    cable: Cable = section(Cable, Cable())
    load_ohm: float | None = None


@dataclass(frozen=True)
class Wire:
    """A reel or a piece of wire; `factor_place` is -1..1, where in its band the hot factor lies.

    hot_factor: assumed for a wire of unknown alloy, else None.
    """

    id: str = key("id", "name of the reel or piece", "text", default="")
    alloy: str | None = key("alloy", "alloy, of data/alloys.csv", "alloy")
    gauge: str | None = key("gauge", "AWG or SWG number", "gauge")
    diameter_m: float | None = key("diameter", "diameter of round wire", "m", 1e-5, 0.006)
    width_m: float | None = key("width", "width of ribbon", "m", 1e-4, 0.03)
    thickness_m: float | None = key("thickness", "thickness of ribbon", "m", 1e-5, 0.003)
    measured_ohm: float | None = key("measured_ohm", "ohms of a measured piece", "ohm bare measured", 1e-4, 1e5)
    leads_ohm: float = key("leads_ohm", "ohms of the meter's leads", "ohm bare", 0, 5, default=0.0)
    measured_length_m: float | None = key("measured_length", "length of the measured piece", "m", 0.005, 1000)
    there_m: float | None = key("have", "all that you have of it", "m", 0.005, 1000)
    used: bool = key("used", "has been hot before", "flag", default=False)
    magnetic: str | None = key("magnetic", "whether a small magnet clings to it, cold", ("yes", "weakly", "no"))
    resistivity_ohm_m: float | None = None
    factor_place: float = 0.0
    hot_factor: float | None = None


@dataclass(frozen=True)
class Tails:
    """Both tails of the coil: length of one, resistance of both, strands twisted together, what sleeves them.

    section_m2: of one tail of another metal than the coil's wire.
    """

    length_m: float | None = key("length", "length of one tail", "m", 0, 3)
    resistance_ohm: float | None = key("ohm", "ohms of both tails", "ohm bare", 0, 20)
    strands: int = key("strands", "strands twisted together", "count whole", 1, 7, default=1)
    material: str | None = key("material", "material of the tails", "material")
    section_m2: float | None = key("section", "section of one tail of that material", "m2", 1e-8, 1e-5)
    sleeve: str | None = key("sleeve", "insulation that sleeves them", "insulation")


@dataclass(frozen=True)
class Coil:
    """The coil: which wire on which part, heated length, layers, pitch, mounting, place."""

    wire: str | None = key("wire", "which wire is wound (its id)", "text wire")
    on: str | None = key("on", "which part it lies on (its id)", "text part")
    length_m: float | None = key("length", "wire length in the coil", "m", 0.005, 100)
    layers: int = key("layers", "layers of the winding", "count whole", 1, 20, default=1)
    pitch_m: float | None = key("pitch", "pitch of the turns", "m", 2e-5, 0.1)
    mounting: str | None = key("mounting", "mounting, of data/surface_load.csv", "mounting")
    from_m: float | None = key("from", "winding begins, from the tip", "m", 0, 2)
    to_m: float | None = key("to", "winding ends, from the tip", "m", 0, 2)
    wire_temp_c: float | None = key("wire_temperature", "temperature of the wire in use", "c", 15, 1400)
    anchor_turns: float | None = key("anchor_turns", "anchor turns at each end", "count", 0, 20)
    end_room_m: float | None = key("end_room", "room kept free at each end", "m", 0, 0.1)
    tails: Tails = section(Tails, Tails())


@dataclass(frozen=True)
class Part:
    """A solid part on the tool's axis, measured from the tip; density and moisture of wood that was weighed."""

    id: str = key("id", "name of the part", "text", default="")
    role: str | None = key("role", "what it does (tip, tube, handle, ...)", "text role")
    material: str | None = key("material", "material", "material")
    from_m: float | None = key("from", "begins, from the tip", "m", 0, 2)
    to_m: float | None = key("to", "ends, from the tip", "m", 0, 2)
    inner_m: float | None = key("inner", "inner diameter", "m", 0, 0.5)
    outer_m: float | None = key("outer", "outer diameter", "m", 1e-4, 0.5)
    finish: str | None = key("finish", "finish of its surface", "finish")
    emissivity: float | None = None
    density_kg_m3: float | None = key("density", "density of wood that was weighed", "kg_m3", 80, 1400)
    moisture: float | None = key("moisture", "moisture of that wood, share of its dry mass", "ratio", 0, 0.25)
    conductivity_place: float = 0.0


@dataclass(frozen=True)
class Joint:
    """Where two parts touch, and how the joint is made."""

    between: tuple = key("between", "the two parts that touch", "pair", default=())
    made: str | None = key("made", "how the joint is made", "joint")
    from_m: float | None = key("from", "begins, from the tip", "m", 0, 2)
    to_m: float | None = key("to", "ends, from the tip", "m", 0, 2)
    contact_scale: float = 1.0


@dataclass(frozen=True)
class Layer:
    """A layer of insulation between two parts or a part and the coil, from the inside out."""

    between: tuple = key("between", "part and part, coil or room around it", "pair", default=())
    material: str | None = key("material", "material", "material")
    thickness_m: float | None = key("thickness", "thickness", "m", 1e-6, 0.05)
    conductivity_scale: float = 1.0


@dataclass(frozen=True)
class Room:
    """Where the tool is used."""

    ambient_c: float | None = key("ambient", "room temperature", "c", -30, 60)
    air_speed_m_s: float | None = key("air_speed", "speed of the air", "m_s", 0, 10)
    attitude: str | None = key("attitude", "how the tool lies", ("lying", "tip down", "tip up"))


@dataclass(frozen=True)
class Use:
    """How much it is used; halving_k: kelvin that halve the life of what is organic; side_load_n: push at the tip."""

    side_load_n: float | None = key("side_load", "push from the side at the tip", "n", 0, 1000)
    hours_per_year: float | None = key("hours_per_year", "hours of use in a year", "h_per_year bare", 0, 8784)
    halving_k: float | None = None


@dataclass(frozen=True)
class Want:
    """What the maker wants: power in the coil, a temperature at the tip, or a job."""

    power_w: float | None = key("power", "wanted power", "w", 0.05, 3000)
    tip_c: float | None = key("temperature", "wanted tip temperature", "c", 20, 900)
    job: str | None = key("job", "the job, of data/work.csv", "text job")


@dataclass(frozen=True)
class Marker:
    """A melting marker that was seen to melt: material, place, time from switching on."""

    material: str | None = key("material", "melting marker, of data/markers.csv", "marker")
    at_m: float | None = key("at", "place of the marker, from the tip", "m", 0, 2)
    time_s: float | None = key("time", "when it melted, from switching on", "s", 0, 1e6)


@dataclass(frozen=True)
class Log:
    """A warm-up log: file, place of the probe, how it was attached, which column, how its times and readings are
    written, power measured at the coil."""

    file: str | None = key("file", "file of the warm-up log, beside the sheet", "text")
    at_m: float | None = key("at", "place of the probe, from the tip", "m", 0, 2)
    attached: str | None = key("attached", "how the probe was attached", "text attached")
    channel: str | None = key("channel", "column that was the probe", "text")
    time: str | None = key("time", "how times are written", ("s", "min", "h", "mm:ss", "hh:mm"))
    reads: str | None = key("reads", "how readings are written", ("degC", "degF", "type K mV", "Pt100 ohm"))
    power_w: float | None = key("power", "power in the coil meanwhile", "w", 0.05, 3000)


@dataclass(frozen=True)
class Build:
    """A whole build sheet in SI.  `known` maps a path such as "coil.length_m" to Known.

    at_s: time since switching on that a page looks at, None for the settled tool; at_c: winding temperature that a page
    looks at, None for the one it settles at; heater_c: hot end of a stem that a page looks at; lent: the demo that a
    page goes on with, in place of a sheet that lacks something; no sheet holds them.

    >>> Build(name="empty").supply.reading
    ()
    """

    name: str = key("name", "name of the tool", "text", default="")
    units: str = key("units", "units that pages show", ("metric", "inch"), default="metric")
    degrees: str = key("degrees", "degrees that pages show", ("C", "F"), default="C")
    invented: bool = key("invented", "invented for showing, not a real tool", "flag", default=False)
    begun_from: str | None = key("begun_from", "demo it was begun from: evidence like its is borrowed", "text")
    supply: Supply = section(Supply, Supply())
    other_supply: tuple = listed(OtherSupply)
    soak: Soak = section(Soak, Soak())
    wire: tuple = listed(Wire)
    coil: Coil | None = section(Coil)
    lead_out: LeadOut = section(LeadOut, LeadOut())
    part: tuple = listed(Part)
    joint: tuple = listed(Joint)
    layer: tuple = listed(Layer)
    heat_break: tuple = listed(HeatBreak)
    room: Room = section(Room, Room())
    heat: Heat = Heat()
    use: Use = section(Use, Use())
    want: Want = section(Want, Want())
    marker: tuple = listed(Marker)
    log: tuple = listed(Log)
    learned: tuple = listed(Learned)
    as_built: AsBuilt = section(AsBuilt, AsBuilt())
    control: Control | None = section(Control)
    sensor: Sensor = section(Sensor, Sensor())
    at_s: float | None = None
    at_c: float | None = None
    heater_c: float | None = None
    lent: str = ""
    known: MappingProxyType = field(default_factory=lambda: MappingProxyType({}))
    file: str = ""
