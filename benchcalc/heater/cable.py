"""The flexible cable: how much current a section of it should carry."""

import numpy as np

from ..basics.tables import rows


def cable_limit(section_m2):
    """The most current for a section of one core, as appliance practice asks.

    section_m2: of one core, m2, above 0.
    Returns A; 0 below the smallest section of the table, and the table's last value above its largest.
    Source: data/cable_currents.csv (from memory: check the standard).  Heat from the tool is not in it: see the
    temperature of the cable's end.
    """
    table = sorted((r["section_m2"], r["most_a"]) for r in rows("cable_currents"))
    sections, amps = np.array(table).T
    at = np.searchsorted(sections, np.asarray(section_m2) * (1 + 1e-9), side="right")
    return np.concatenate([[0.0], amps])[at]
