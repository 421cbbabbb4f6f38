"""Sections of a sheet around supply and leads: other supplies of the box, cable, soak test, lead-out."""

from dataclasses import dataclass

from ..heater.rectified import RECTIFIERS
from ..heater.supply import KINDS
from .key import key, listed


@dataclass(frozen=True)
class OtherSupply:
    """Another supply of the box, to be tried for the same job: what its label or one reading with a load says."""

    id: str = key("id", "name of a supply of the box", "text", default="")
    kind: str | None = key("kind", "kind of that supply", KINDS)
    output: str | None = key("output", "AC or DC", ("AC", "DC"))
    rectifier: str | None = key("rectifier", "what stands between a transformer and the direct volts read", RECTIFIERS)
    open_v: float | None = key("open", "its no-load voltage", "v", 0.1, 1000)
    source_ohm: float | None = key("source", "its source resistance", "ohm", 0, 1000)
    limit_a: float | None = key("limit", "current at which it limits or trips", "a", 0.01, 200)
    charge_a_s: float | None = key("charge", "its charge, if it is a battery", "a_s", 36, 3.6e6)
    energy_j: float | None = key("energy", "its energy, if its label says that", "j", 36, 3.6e7)
    volts_v: float | None = key("volts", "volts read with a load", "v bare measured", 0.01, 1000)
    amps_a: float | None = key("amps", "amps read with that load", "a bare measured", 0.001, 200)


@dataclass(frozen=True)
class Cable:
    """The two-core cable from the supply to the handle: length, section of one core, all contacts together."""

    length_m: float | None = key("length", "length of the cable", "m", 0.001, 20)
    area_m2: float | None = key("section", "section of one core", "m2", 5e-8, 1e-5)
    contacts_ohm: float | None = key("contacts", "all contacts together", "ohm bare", 0, 2)


@dataclass(frozen=True)
class Cooling:
    """A winding read while it cools: seconds after switch-off, ohms."""

    after_s: float | None = key("seconds", "time since switching off", "s bare", 0, 1800)
    resistance_ohm: float | None = key("ohm", "primary while it cools", "ohm bare measured", 0.01, 1e5)


@dataclass(frozen=True)
class Hour:
    """A winding read during a soak: hours under load (held as seconds), ohms."""

    loaded_s: float | None = key("hours", "time under load", "hours", 36, 172_800)
    resistance_ohm: float | None = key("ohm", "primary during the soak", "ohm bare measured", 0.01, 1e5)


@dataclass(frozen=True)
class Soak:
    """A soak test: cold ohms of the primary, rooms at both ends, readings while cooling and over the hours.

    winding_class: thermal class by number. metal: of the winding. load_a: current that loaded the supply.
    place_c: outside of the transformer, at the very place where a cut-out would sit, read just before the end.
    """

    cold_ohm: float | None = key("cold_ohm", "primary, cold", "ohm bare measured", 0.01, 1e5)
    cold_room_c: float | None = key("cold_room", "room at the cold reading", "c", 0, 40)
    end_room_c: float | None = key("end_room", "room at the end", "c", 0, 40)
    winding_class: float | None = key("class", "thermal class, by its number", "count", 105, 180)
    metal: str | None = key("metal", "metal of the winding", ("copper", "aluminium"))
    load_a: float | None = key("amps", "current that loaded the supply", "a bare", 0.01, 200)
    place_c: float | None = key("place", "where a cut-out would sit, read at the soak's end", "c", 0, 200)
    cooling: tuple = listed(Cooling)
    hour: tuple = listed(Hour)


@dataclass(frozen=True)
class LeadOut:
    """The way out: place and kind of the joint to the cable, its solder, the cable's insulation."""

    joint_at_m: float | None = key("joint_at", "joint to the cable, from the tip", "m", 0, 2)
    joint: str | None = key("joint", "kind of that joint", ("crimped", "clamped", "soldered"))
    solder: str | None = key("solder", "solder of that joint", "material")
    cable: str | None = key("cable", "insulation of the cable", "material")
