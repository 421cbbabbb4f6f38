"""Check values for metals against the functions of ours that should give them."""

from benchcalc.materials.metals import metal_at
from benchcalc.thermal.surfaces import by_hand as c
from benchcalc.thermal.surfaces.press_fit import hot_gap


def two_bars():
    area = c.rod_section(0.030)
    for_one_watt = 2 * c.stem_drop(1.0, 0.100, 16.3, area) + c.joint_drop(1.0, 1 / 5.28e-4, area)
    return 100.0 / for_one_watt, c.joint_drop(100.0 / for_one_watt, 1 / 5.28e-4, area)


def transistor():
    joint = c.joint_drop(1.0, 42000.0, 8e-4)
    for_one_watt = joint + c.stem_drop(1.0, 0.01, 386.0, 0.01) + c.joint_drop(1.0, 25.0, 0.01)
    return 50.0 / for_one_watt, 50.0 / for_one_watt * joint


def chip():
    back = c.joint_drop(1.0, 1 / 0.9e-4, 1.0) + c.stem_drop(1.0, 0.008, 239.0, 1.0) + c.joint_drop(1.0, 100.0, 1.0)
    return 25.0 + 1e4 / (100.0 + 1 / back)


def hub():
    """The rise at which the hub's bore is as much larger than the shaft as it must be to go on."""
    return 0.0762e-3 / float(hot_gap(0.0, 25.4e-3, 23.0e-6, 1.0, 0.0, 0.0))


OURS = {
    ("two 304 bars", "through_w"): lambda: two_bars()[0],
    ("two 304 bars", "drop_k"): lambda: two_bars()[1],
    ("two aluminium plates", "same_as_m"): lambda: c.joint_length(237.0, 11000.0) * 100,
    ("transistor on copper", "through_w"): lambda: transistor()[0],
    ("transistor on copper", "drop_k"): lambda: transistor()[1],
    ("chip on epoxy", "chip_c"): chip,
    ("hub over its shaft", "rise_k"): hub,
    ("tin warmed", "energy_j_per_kg"): lambda: c.heat_up_time(
        1.0, metal_at("tin", "specific_heat_j_kgk", 27.0).value, 1.0, 1.0
    ),
}
