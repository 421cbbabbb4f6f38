"""Check values for ways of turning down against the functions of ours that should give them."""

import numpy as np

from benchcalc.heater.power import mean_share, on_cycles, passed_share, phase_share, relay_life

SIZE = {"": 1, "share": 1, "V": 1, "h": 3600}


def fired(degrees):
    return lambda: phase_share(np.radians(degrees))


OURS = {(f"firing at {a} deg", "power_share"): fired(a) for a in (30, 60, 90, 135)} | {
    ("half wave without a drop", "coil_w"): lambda: passed_share(10.0, 0.0) / 2,
    ("half wave without a drop", "direct_a"): lambda: mean_share(10.0, 0.0) / 2,
    ("half wave of 5 V peak", "load_v"): lambda: 5 / np.sqrt(2) * np.sqrt(passed_share(5 / np.sqrt(2), 0.7) / 2),
    ("diode at 6 V", "power_share"): lambda: passed_share(6.0, 0.7) / 2,
    ("burst of 40 of 100", "duty"): lambda: np.divide(*on_cycles(0.4, 2.0)),
    ("relay at 10 s", "contact_life_s"): lambda: relay_life(1e5, 10.0),
}
