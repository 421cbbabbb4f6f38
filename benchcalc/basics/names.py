"""The glossary: one word, one symbol, one unit for each quantity, and how it is shown.

Every numeric name in the project ends in its SI unit (length_m, power_w, temp_c).  The entry
adds the trade's word, the symbol used in derivations, and the units a page shows it in.
"""

from dataclasses import dataclass

from .fault import closest, fault

# SI suffix -> {system: (display unit, SI value of one display unit)}; longest suffix wins.
SUFFIXES = {
    "ohm_per_m": {"metric": ("ohm/m", 1.0), "inch": ("ohm/ft", 1 / 0.3048)},
    "ohm_m": {"metric": ("uohm m", 1e-6)},
    "w_m": {"metric": ("W/m", 1.0), "inch": ("W/ft", 1 / 0.3048)},
    "w_m2": {"metric": ("W/cm2", 1e4), "inch": ("W/in2", 1 / 0.0254**2)},
    "w_mk": {"metric": ("W/(m K)", 1.0)},
    "w_m2k": {"metric": ("W/(m2 K)", 1.0)},
    "j_kgk": {"metric": ("J/(kg K)", 1.0)},
    "kg_m3": {"metric": ("kg/m3", 1.0)},
    "per_k": {"metric": ("1/K", 1.0)},
    "m_s": {"metric": ("m/s", 1.0), "inch": ("ft/min", 0.3048 / 60)},
    "m2": {"metric": ("mm2", 1e-6), "inch": ("in2", 0.0254**2)},
    "ohm": {"metric": ("ohm", 1.0)},
    "m": {"metric": ("mm", 1e-3), "inch": ("in", 0.0254)},
    "kg": {"metric": ("g", 1e-3), "inch": ("oz", 0.028349523125)},
    "v": {"metric": ("V", 1.0)},
    "a": {"metric": ("A", 1.0)},
    "w": {"metric": ("W", 1.0)},
    "s": {"metric": ("s", 1.0)},
    "c": {"C": ("degC", 1.0), "F": ("degF", 5 / 9)},
    "k": {"C": ("K", 1.0), "F": ("degF (difference)", 5 / 9)},
}


@dataclass(frozen=True)
class Name:
    """A glossary entry: key (name with its SI suffix, "" suffix for a ratio), word, LaTeX symbol."""

    key: str
    word: str
    symbol: str

    @property
    def suffix(self):
        """The SI suffix of the key, or "" for a ratio or a count."""
        return suffix_of(self.key)


def suffix_of(key):
    """The unit suffix of a name: "surface_load_w_m2" -> "w_m2"; "" for a ratio or count.

    key: a field, argument or column name.
    """
    for suffix in sorted(SUFFIXES, key=len, reverse=True):
        if key.endswith("_" + suffix):
            return suffix
    return ""


_LIST = """
open_v | open-circuit voltage | U_0
source_ohm | source resistance | R_s
load_ohm | load resistance | R
load_v | voltage at the load | U
load_a | current | I
load_w | power in the load | P
source_loss_w | power lost inside the supply | P_s
total_ohm | resistance of the whole circuit | R_{tot}
most_power_w | most power the supply can give | P_{max}
wanted_w | wanted power | P^*
half_sum_ohm | half of the sum of the two resistances | m
root_ohm | half of their difference | r
higher_ohm | higher of the two resistances | R_{hi}
lower_ohm | lower of the two resistances | R_{lo}
regulation | regulation (drop from no load, as a share of the loaded voltage) | \\varrho
first_v | voltage of the first reading | U_1
first_a | current of the first reading | I_1
second_v | voltage of the second reading | U_2
second_a | current of the second reading | I_2
drop_v | voltage drop between two readings | \\Delta U
step_a | step in current between two readings | \\Delta I
diameter_m | wire diameter | d
width_m | ribbon width | b
thickness_m | ribbon thickness | s
area_m2 | cross-section of the wire | A
edge_m | circumference of the section | u
resistivity_ohm_m | resistivity at 20 degC | \\rho
linear_ohm_per_m | cold resistance per length | r_{20}
length_m | length of wire that heats | \\ell
cold_ohm | cold resistance | R_{20}
hot_factor | hot factor: hot resistance over cold | f
hot_ohm | hot resistance | R_{hot}
tails_ohm | resistance of both tails | R_t
coil_w | power in the coil | P
tails_w | power in the tails | P_t
surface_m2 | surface of the wire | S
surface_load_w_m2 | surface load | p
former_m | outside diameter of the former with its insulation | D
mean_diameter_m | mean diameter of a turn | D_m
pitch_m | pitch | p_w
turn_m | length of one turn (helix) | \\ell_1
turns | number of turns | N
layers | layers of the winding | k
between_m | insulation between layers | t
winding_m | length of the winding along the former | L_w
room_m | room for the winding on the former | L_r
gap_m | gap between neighbouring turns | g
spare_m | room left over | L_r - L_w
ends_m | room kept free at each end | e
former_length_m | length of the former | L_f
anchor_turns | anchor turns at each end | n_a
anchor_m | wire in the anchor turns | \\ell_a
tail_m | length of one tail | \\ell_t
cut_m | wire to cut | \\ell_c
one_turn_ohm | resistance of one turn | R_1
smallest_former_m | smallest sensible former | D_{min}
bend_ratio | former over wire diameter, at least | b_{min}
temp_c | temperature | T
wire_temp_c | wire temperature | T_w
ambient_c | room temperature | T_a
air_speed_m_s | air speed | w
mains | mains voltage, as a share of today's | m_{\\sim}
warming | warm over cold source resistance | f_s
measured_ohm | measured resistance | R_m
measured_length_m | length that was measured | \\ell_m
leads_ohm | resistance of the meter's leads | R_\\ell
open_in_use_v | open-circuit voltage in use, mains swing included | U_{0,u}
source_in_use_ohm | source resistance in use, copper warm | R_{s,u}
best_load_ohm | load that takes the most power | R_{best}
limit_a | current at which the supply limits or trips | I_{lim}
table_ohm_per_m | cold resistance per length from the table | r_{tab}
most_in_coil_w | most power that can go into any coil here | P_{max,c}
short_length_m | length for the lower resistance | \\ell_{lo}
wire_w_m | heat made in each metre of wire | q'
layer_w_mk | conductivity of the layer | k_s
gas_w_mk | conductivity of the air | k_a
share | share that depends on the layer | c_1
crowding | crowding of the heat at the wire | c_2
excess_k | wire over the mean of the winding | \\Delta T_w
tip_c | tip temperature | T_{tip}
wire_c | hottest wire | T_{wire}
sheath_c | winding, hottest place of its mean | T_{wind}
entry_c | tube where the handle begins | T_{entry}
grip_c | handle's surface, hottest place | T_{grip}
bore_c | handle's wood at the tube, hottest place | T_{bore}
work_c | what is melted or held | T_{work}
hottest_c | hottest place of the part | T_{max}
conductivity_w_mk | thermal conductivity | k
section_m2 | cross-section of the metal | A_q
loss_w_m2k | heat shed by each area and kelvin | h
outer_m | outer diameter | D_o
inner_m | inner diameter | D_i
reach_m | reach of heat along the part | \\lambda
near_rise_k | rise over the room at the hot end | \\theta_0
far_rise_k | rise over the room at the far end | \\theta_L
reaches | length in reaches | x
part_length_m | length of the part | L
critical_m | critical radius of insulation | r_{cr}
meter_ohm | what a meter should read over the finished coil, cold | R_{read}
misfit | departure from the table, as a share | \\epsilon
full_rise_k | rise over the room of a long wire | \\theta_{long}
middle_rise_k | rise over the room in the middle | \\theta_m
cooled_m | length cooled by each clamp | x_c
"""
NAMES = {}
for _row in _LIST.strip().splitlines():
    _key, _word, _symbol = (part.strip() for part in _row.split(" | "))
    NAMES[_key] = Name(_key, _word, _symbol)


def name(key):
    """The glossary entry of a name.

    key: e.g. "length_m".  Raises Fault with the closest entries when it is not in the glossary.
    """
    if key not in NAMES:
        raise fault("glossary", key, "is not an entry.", closest(key, NAMES))
    return NAMES[key]


def display(key, *, units="metric", degrees="C"):
    """Unit text and its SI size for showing a quantity.

    key: a name with SI suffix. units: "metric" or "inch". degrees: "C" or "F".
    Returns (unit text, SI value of one unit); ("", 1.0) for ratios and counts.
    """
    suffix = suffix_of(key)
    if not suffix:
        return "", 1.0
    ways = SUFFIXES[suffix]
    if suffix in ("c", "k"):
        return ways[degrees]
    return ways.get(units, ways["metric"])


def shown(key, value, *, units="metric", degrees="C"):
    """An SI value in its display unit, as a number.

    key: a name with SI suffix. value: float or array, SI. units, degrees: as `display`.
    """
    _, size = display(key, units=units, degrees=degrees)
    if suffix_of(key) == "c" and degrees == "F":
        return value / size + 32
    return value / size


def digits(number, figures=3):
    """A number in at least `figures` significant figures, never in powers of ten for bench sizes.

    number: float. figures: 1-9.
    Returns text: 733.2 -> "733", 0.27999 -> "0.280", 12.98 -> "13.0".
    """
    if number != number:
        return "not known"
    if number in (float("inf"), float("-inf")):
        return "no end" if number > 0 else "no end (negative)"
    if number == 0:
        return "0"
    size = abs(number)
    if size >= 1e6 or size < 1e-4:
        return f"{number:.{figures - 1}e}"
    whole = len(str(int(round(size)))) if size >= 1 else 0
    if size >= 1:
        return f"{number:.{max(0, figures - whole)}f}"
    zeros = len(f"{size:.12f}".split(".")[1]) - len(f"{size:.12f}".split(".")[1].lstrip("0"))
    return f"{number:.{zeros + figures}f}"


def say(key, value, *, figures=3, units="metric", degrees="C"):
    """A value with its unit, in words for a page: say("length_m", 0.733) -> "733 mm".

    key: name with SI suffix. value: SI float. figures: significant figures.
    units, degrees: as `display`.
    """
    unit, _ = display(key, units=units, degrees=degrees)
    number = said_number(key, value, figures=figures, units=units, degrees=degrees)
    return f"{number} {unit}".strip() if number not in ("not known",) else number


def said_number(key, value, *, figures=3, units="metric", degrees="C"):
    """A value in its display unit, without the unit: temperatures in whole degrees, others in significant figures.

    key, value, figures, units, degrees: as `say`.
    """
    number = float(shown(key, value, units=units, degrees=degrees))
    if suffix_of(key) == "c" and figures <= 3 and abs(number) >= 10 and number < float("inf"):
        return f"{number:.0f}"
    return digits(number, figures)
