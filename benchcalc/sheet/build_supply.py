"""Sections of a sheet around supply and leads: cable, soak test, lead-out."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Cable:
    """The two-core cable from the supply to the handle: length, section of one core, all contacts together."""

    length_m: float | None = None
    area_m2: float | None = None
    contacts_ohm: float | None = None


@dataclass(frozen=True)
class Cooling:
    """A winding read while it cools: seconds after switch-off, ohms."""

    after_s: float | None = None
    resistance_ohm: float | None = None


@dataclass(frozen=True)
class Hour:
    """A winding read during a soak: hours under load (held as seconds), ohms."""

    loaded_s: float | None = None
    resistance_ohm: float | None = None


@dataclass(frozen=True)
class Soak:
    """A soak test: cold ohms of the primary, rooms at both ends, readings while cooling and over the hours.

    winding_class: thermal class by number. metal: of the winding. load_a: current that loaded the supply.
    """

    cold_ohm: float | None = None
    cold_room_c: float | None = None
    end_room_c: float | None = None
    winding_class: float | None = None
    metal: str | None = None
    load_a: float | None = None
    cooling: tuple = ()
    hour: tuple = ()


@dataclass(frozen=True)
class LeadOut:
    """The way out: place and kind of the joint to the cable, its solder, the cable's insulation."""

    joint_at_m: float | None = None
    joint: str | None = None
    solder: str | None = None
    cable: str | None = None
