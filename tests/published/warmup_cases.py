"""Check values for sensors and warm-up logs against the functions of ours that should give them."""

from functools import cache

from benchcalc.basics.tables import data_folder
from benchcalc.materials.sensors import pt100_ohms, tolerance, type_k_voltage
from benchcalc.thermal.log.reading import read_log
from benchcalc.thermal.warmup.curve import Data
from benchcalc.thermal.warmup.fit import fit
from benchcalc.thermal.warmup.formulas import Shape, time_to_share, time_to_temp


@cache
def heater(form):
    log = read_log(data_folder() / "measured" / "heater_step.csv")
    return fit(Data(log.time_s, log.temp_c, resolution_k=log.resolution_k), form)


def rms(form):
    return (heater(form).residual_k ** 2).mean() ** 0.5


def pt(temp_c):
    return lambda: pt100_ohms(temp_c)


OURS = (
    {(f"Pt100 at {t} degC", "sensor_ohm"): pt(t) for t in (-200, -100, 0, 100, 200, 300, 400, 500, 600)}
    | {(f"type K at {t} degC", "sensor_v"): (lambda t=t: 1e6 * type_k_voltage(t)) for t in (-200, -150)}
    | {
        ("type K at 400 degC class 2", "tolerance"): lambda: tolerance("type K", 2, 400).half_k,
        ("type K at 200 degC class 1", "tolerance"): lambda: tolerance("type K", 1, 200).half_k,
        ("Pt100 at 100 degC class B", "tolerance"): lambda: tolerance("Pt100", "B", 100).half_k,
        ("Pt100 at 400 degC class B", "tolerance"): lambda: tolerance("Pt100", "B", 400).half_k,
        ("bead of 0.706 mm in gas", "time to 199 degC"): lambda: time_to_temp(Shape("one", 25.0, 175.0, 1.0), 199.0),
        ("bead of 1 mm in gas", "time to 99 %"): lambda: time_to_share(
            Shape("one", 0.0, 1.0, 8500 * 320 * 1e-3 / 6 / 210), 0.99
        ),
        ("small resistor cooling", "time to 95 %"): lambda: time_to_share(Shape("one", 72.3, -37.3, 58.1), 0.95),
        ("heater step response two constants", "rms_k"): lambda: rms("two"),
        ("heater step response two constants", "slow_s"): lambda: heater("two").shape.slow_s,
        ("heater step response two constants", "fast_s"): lambda: heater("two").shape.fast_s,
        ("heater step response one constant and dead time", "rms_k"): lambda: rms("one with dead time"),
    }
)
