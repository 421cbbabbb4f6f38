"""The flexible cable: how much current a section of it should carry."""

import numpy as np

from ..basics.tables import one, rows


def cable_overload():
    """Times the current that a cable carries, at which its fuse must open.

    Returns ratio.  Source: data/limits.csv (IEC 60364-4-43, clause 433.1, from memory: check the standard).
    """
    return one("limits", "key", "cable_overload")["value"]


def cable_limit(section_m2, cable_length_m=None):
    """The most current for a section of one core, as appliance practice asks.

    section_m2: of one core, m2, above 0. cable_length_m: m, above 0; None where it is not known: then rows that hold
    for short cords alone are left out.
    Returns A; 0 below the smallest section of the table that may be used, and the table's last value above its largest.
    Source: data/cable_currents.csv (a reprint of the standard's table: check the standard).  Heat from the tool is not
    in it: see the temperature of the cable's end.
    """
    length_m = np.asarray(np.inf if cable_length_m is None else cable_length_m, float)
    most_a = np.zeros(np.broadcast_shapes(np.shape(section_m2), np.shape(length_m)))
    for row in rows("cable_currents"):
        longest_m = np.inf if row["longest_m"] is None else row["longest_m"]
        serves = (np.asarray(section_m2) * (1 + 1e-9) >= row["section_m2"]) & (length_m <= longest_m)
        most_a = np.where(serves, np.maximum(most_a, row["most_a"]), most_a)
    return most_a[()]


def thinnest_behind(opens_a):
    """The thinnest section of any length that bears a fuse's current until it is sure to open.

    opens_a: current from which the fuse is sure to open, A, above 0.
    Returns m2; nan where the table ends first.
    Source: `cable_limit`, `cable_overload`.
    """
    sections_m2 = sorted(row["section_m2"] for row in rows("cable_currents") if row["longest_m"] is None)
    bears = [area_m2 for area_m2 in sections_m2 if cable_overload() * cable_limit(area_m2) >= opens_a]
    return min(bears, default=np.nan)
