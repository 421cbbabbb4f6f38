"""Every key a sheet may have: its field, its kind and its allowed range.

A row is `section.key | field | kind | low | high`.  Kinds: text, flag, pair (two ids), gauge,
alloy, one of a list (a, b, c), or the SI suffix of a quantity.  A quantity marked `bare` (and minutes and hours) may
be a plain number, since its key names the unit.  Sections in LISTS may stand many times.
"""

from dataclasses import dataclass

from ..basics.names import say
from ..basics.quantity import UNITS

LISTS = ("supply.reading", "soak.cooling", "soak.hour", "wire", "part", "joint", "layer", "heat_break", "marker", "log")

_ROWS = """
sheet.name | name | text
sheet.units | units | one of metric, inch
sheet.degrees | degrees | one of C, F
sheet.invented | invented | flag
supply.kind | kind | one of transformer, switching supply, bench supply, battery
supply.output | output | one of AC, DC
supply.open | open_v | v | 0.1 | 1000
supply.source | source_ohm | ohm | 0 | 1000
supply.limit | limit_a | a | 0.01 | 200
supply.reading.volts | volts_v | v bare | 0.01 | 1000
supply.reading.amps | amps_a | a bare | 0 | 200
supply.reading.minutes | loaded_s | minutes | 0 | 100000
supply.reading.with | instrument | text
supply.reading.clipped | clip_m | m | 0.01 | 100
supply.core | core | one of stacked, toroid, cut core
supply.core_width | core_width_m | m | 0.005 | 0.1
supply.core_stack | core_stack_m | m | 0.005 | 0.15
supply.cable.length | length_m | m | 0.001 | 20
supply.cable.section | area_m2 | m2 | 5e-8 | 1e-5
supply.cable.contacts | contacts_ohm | ohm bare | 0 | 2
soak.cold_ohm | cold_ohm | ohm bare | 0.01 | 1e5
soak.cold_room | cold_room_c | c | 0 | 40
soak.end_room | end_room_c | c | 0 | 40
soak.class | winding_class | count | 105 | 180
soak.metal | metal | one of copper, aluminium
soak.amps | load_a | a bare | 0.01 | 200
soak.cooling.seconds | after_s | s bare | 0 | 1800
soak.cooling.ohm | resistance_ohm | ohm bare | 0.01 | 1e5
soak.hour.hours | loaded_s | hours | 0.01 | 48
soak.hour.ohm | resistance_ohm | ohm bare | 0.01 | 1e5
wire.id | id | text
wire.alloy | alloy | alloy
wire.gauge | gauge | gauge
wire.diameter | diameter_m | m | 1e-5 | 0.006
wire.width | width_m | m | 1e-4 | 0.03
wire.thickness | thickness_m | m | 1e-5 | 0.003
wire.measured_ohm | measured_ohm | ohm bare | 1e-4 | 1e5
wire.leads_ohm | leads_ohm | ohm bare | 0 | 5
wire.measured_length | measured_length_m | m | 0.005 | 1000
wire.used | used | flag
coil.wire | wire | text
coil.on | on | text
coil.length | length_m | m | 0.005 | 100
coil.layers | layers | count | 1 | 20
coil.pitch | pitch_m | m | 2e-5 | 0.1
coil.mounting | mounting | mounting
coil.from | from_m | m | 0 | 2
coil.to | to_m | m | 0 | 2
coil.wire_temperature | wire_temp_c | c | 15 | 1400
coil.anchor_turns | anchor_turns | count | 0 | 20
coil.end_room | end_room_m | m | 0 | 0.1
coil.tails.length | length_m | m | 0 | 3
coil.tails.ohm | resistance_ohm | ohm bare | 0 | 20
coil.tails.strands | strands | count | 1 | 7
coil.tails.material | material | material
coil.tails.sleeve | sleeve | insulation
lead_out.joint_at | joint_at_m | m | 0 | 2
lead_out.joint | joint | one of crimped, clamped, soldered
lead_out.solder | solder | material
lead_out.cable | cable | material
part.id | id | text
part.role | role | text
part.material | material | material
part.from | from_m | m | 0 | 2
part.to | to_m | m | 0 | 2
part.inner | inner_m | m | 0 | 0.5
part.outer | outer_m | m | 1e-4 | 0.5
part.finish | finish | finish
part.exposed | exposed | flag
part.density | density_kg_m3 | kg_m3 | 80 | 1400
part.moisture | moisture | ratio | 0 | 0.25
joint.between | between | pair
joint.made | made | joint
joint.from | from_m | m | 0 | 2
joint.to | to_m | m | 0 | 2
layer.between | between | pair
layer.material | material | material
layer.thickness | thickness_m | m | 1e-6 | 0.05
layer.from | from_m | m | 0 | 2
layer.to | to_m | m | 0 | 2
heat_break.id | id | text
heat_break.on | on | text
heat_break.from | from_m | m | 0 | 2
heat_break.rings | rings | count | 0 | 12
heat_break.holes | holes | count | 0 | 60
heat_break.diameter | hole_m | m | 2e-4 | 0.05
heat_break.spacing | ring_spacing_m | m | 2e-4 | 0.2
heat_break.staggered | staggered | flag
heat_break.slot | slot_m | m | 0 | 0.2
room.ambient | ambient_c | c | -30 | 60
room.air_speed | air_speed_m_s | m_s | 0 | 10
room.attitude | attitude | one of lying, tip down, tip up
use.side_load | side_load_n | n | 0 | 1000
use.hours_per_year | hours_per_year | h_per_year bare | 0 | 8784
want.power | power_w | w | 0.05 | 3000
want.temperature | tip_c | c | 20 | 900
want.job | job | text
marker.material | material | text
marker.at | at_m | m | 0 | 2
marker.time | time_s | s | 0 | 1e6
log.file | file | text
log.at | at_m | m | 0 | 2
log.attached | attached | text
log.channel | channel | text
log.time | time | one of s, min, h, mm:ss, hh:mm
log.reads | reads | one of degC, degF, type K mV, Pt100 ohm
log.power | power_w | w | 0.05 | 3000
as_built.cold_ohm | cold_ohm | ohm bare | 1e-4 | 1e5
as_built.turns | turns | count | 0 | 100000
as_built.winding | winding_m | m | 0 | 2
"""


@dataclass(frozen=True)
class Key:
    """A key of the sheet: section, key, field of the dataclass, kind, range in SI or None."""

    section: str
    key: str
    field: str
    kind: str
    low: float | None
    high: float | None

    @property
    def choices(self):
        """The allowed words of a `one of` key, else an empty tuple."""
        return tuple(w.strip() for w in self.kind[7:].split(",")) if self.kind.startswith("one of ") else ()


def _read():
    keys = {}
    for row in _ROWS.strip().splitlines():
        place, field, kind, *ends = (cell.strip() for cell in row.split("|"))
        section, key = place.rsplit(".", 1)
        low, high = (float(e) for e in ends) if ends else (None, None)
        keys.setdefault(section, {})[key] = Key(section, key, field, kind, low, high)
    return keys


KEYS = _read()
SECTIONS = tuple(KEYS)


def key_of(path):
    """The sheet's key behind a field path such as "coil.length_m" or "wire.reel.gauge".

    path: field path.  Returns Key, or None where the field is not typed in sheets.
    """
    names = path.split(".")
    section = ".".join(names[:-1]) or "sheet"
    for listed in LISTS:
        if section.startswith(listed + "."):
            section = listed
    return next((k for k in KEYS.get(section, {}).values() if k.field == names[-1]), None)


def keys_table():
    """Every key of a sheet as a Markdown table, for the guide: key, kind or choices, range.

    Returns text.
    """
    lines = ["| key | unit or choices | range |", "|---|---|---|"]
    for section, keys in KEYS.items():
        opened = f"[[{section}]]" if section in LISTS else f"[{section}]"
        lines += [f"| `{opened}` `{key.key}` | {_unit_of(key)} | {_range_of(key)} |" for key in keys.values()]
    return "\n".join(lines)


def _unit_of(key):
    if key.choices:
        return ", ".join(key.choices)
    kind, _, bare = key.kind.partition(" ")
    if key.low is None:
        return {"flag": "true or false", "pair": "two ids", "text": "text"}.get(kind, f"name of a {kind}")
    unit = kind if kind in ("minutes", "hours") else next(iter(UNITS[kind])) or "number"
    return f"{unit} (a plain number will do)" if bare or kind in ("minutes", "hours") else unit


def _range_of(key):
    if key.low is None:
        return "-"
    kind = key.kind.partition(" ")[0]
    name = f"x_{kind}"
    if kind in ("minutes", "hours"):
        return f"{key.low:g} to {key.high:g}"
    return f"{say(name, key.low)} to {say(name, key.high)}"
