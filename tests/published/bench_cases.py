"""Check values for the bench before the coil against the functions of ours that should give them."""

from benchcalc.heater import load_test, protection, soak

INCH_M = 0.0254


def lag(rating_a, times):
    return protection.opening("time-lag", rating_a, rating_a * times)


OURS = {
    ("winding 12.00 to 14.40 ohm", "winding_rise_k"): lambda: soak.winding_rise(12.0, 14.4, 20.0, 22.0),
    ("copper at 20 degC", "coefficient"): lambda: soak.hot_winding(1.0, 20.0, 21.0) - 1,
    ("field coil 108 ohm at 22 degC", "hot_winding_ohm"): lambda: soak.hot_winding(108.0, 22.0, 80.0),
    ("core 50 Hz radio engineers", "rating_va"): lambda: soak.core_rating(1e-4),
    ("core 60 Hz radio engineers", "rating_va"): lambda: soak.core_rating(1e-4, 60.0),
    ("core 1 in2 British", "rating_va"): lambda: soak.core_rating(INCH_M**2),
    ("core 5 cm x 3 cm hobby", "rating_va"): lambda: soak.core_rating(15e-4),
    ("duty 25 %", "gain"): lambda: 1 / soak.steady_equal(1.0, 15.0, 60.0),
    ("duty 50 %", "gain"): lambda: 1 / soak.steady_equal(1.0, 30.0, 60.0),
    ("fuse 2.1 times", "latest_s"): lambda: lag(2.0, 2.1).latest_s,
    ("fuse 2.75 times", "earliest_s"): lambda: lag(2.0, 2.75).earliest_s,
    ("fuse 2.75 times", "latest_s"): lambda: lag(2.0, 2.75).latest_s,
    ("fuse 4 times 2 A", "earliest_s"): lambda: lag(2.0, 4.0).earliest_s,
    ("fuse 4 times 5 A", "earliest_s"): lambda: lag(5.0, 4.0).earliest_s,
    ("fuse 10 times 2 A", "latest_s"): lambda: lag(2.0, 10.0).latest_s,
    ("fuse 5 A at 5 A", "drop_v"): lambda: 5.0 * protection.fuse_ohms(5.0),
    ("four-wire 0.1 ohm", "load_ohm"): lambda: load_test.from_volts_and_amps(0.1, 1.0),
    ("meter 3 ohm by volts and amps", "worst"): lambda: (
        load_test.half_width(3.0, 0.005, 0.03) / 3.0 + load_test.half_width(1.0, 0.01, 0.03) / 1.0
    ),
    ("meter 120 V", "half width"): lambda: load_test.half_width(120.0, 0.01, 0.3),
}
