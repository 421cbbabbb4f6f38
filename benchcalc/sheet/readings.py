"""Readings typed as watts and ohms, volts and ohms, or watts and volts: the volts and amps that they stand for."""

from dataclasses import replace

import numpy as np

from .build import Known

FIELDS = ("volts_v", "amps_a", "load_w", "load_ohm")
WATTS_SHARE = 0.03  # a wattmeter that names no error, or watts worked out on paper (common practice, no source)
DERIVED = "from the other two"
# what is typed -> volts and amps.  Equations: Ohm's law and Joule's law.
_WAYS = {
    ("volts_v", "load_ohm"): lambda volts, ohm: (volts, volts / ohm),
    ("volts_v", "load_w"): lambda volts, w: (volts, w / volts),
    ("amps_a", "load_ohm"): lambda amps, ohm: (amps * ohm, amps),
    ("amps_a", "load_w"): lambda amps, w: (w / amps, amps),
    ("load_w", "load_ohm"): lambda w, ohm: (np.sqrt(w * ohm), np.sqrt(w / ohm)),
}
# by how much of their relative errors volts and amps are off, in the same order
_POWERS = {
    ("load_w", "load_ohm"): ((0.5, 0.5), (0.5, 0.5)),
    ("volts_v", "load_ohm"): (None, (1, 1)),
    ("volts_v", "load_w"): (None, (1, 1)),
    ("amps_a", "load_ohm"): ((1, 1), None),
    ("amps_a", "load_w"): ((1, 1), None),
}


def whole_reading(reading, known, path):
    """A reading with the volts and amps that its watts and ohms stand for.

    reading: Reading, floats or arrays. known: dict of paths; what follows is noted in it. path: of the reading.
    Returns Reading; as it was where volts and amps are typed, or where two of the four are not there, or not above 0.
    The ohms are those of the load, as warm as it was.  Errors add as for independent readings.
    """
    for field in ("volts_v", "amps_a"):
        told = known.get(f"{path}.{field}")
        if told is not None and told.text == DERIVED:
            del known[f"{path}.{field}"]
            reading = replace(reading, **{field: None})
    if reading.volts_v is not None and reading.amps_a is not None:
        return reading
    pair = next((p for p in _WAYS if all(_above_0(getattr(reading, f)) for f in p)), None)
    if pair is None:
        return reading
    typed = [getattr(reading, f) for f in pair]
    errors = [_share(known.get(f"{path}.{f}"), f, x) for f, x in zip(pair, typed)]
    for field, value, powers in zip(("volts_v", "amps_a"), _WAYS[pair](*typed), _POWERS[pair]):
        if powers is None:
            continue
        half = float(np.hypot(*(p * e for p, e in zip(powers, errors)))) * value
        value = value if np.ndim(value) else float(value)
        reading = replace(reading, **{field: value})
        low, high = (np.min(value - half), np.max(value + half))
        known[f"{path}.{field}"] = Known(float(low), float(high), "measured", DERIVED)
    return reading


def contradiction(reading):
    """What volts and amps make of a reading that types watts or ohms as well, or "" where it agrees within a tenth.

    reading: Reading of floats, volts and amps above 0.
    """
    volts, amps = reading.volts_v, reading.amps_a
    for field, here, unit in (("load_w", volts * amps, "W"), ("load_ohm", volts / amps, "ohm")):
        typed = getattr(reading, field)
        if typed is not None and not 0.9 < typed / here < 1.1:
            return f"{typed:g} {unit}, but volts and amps make {here:.3g} {unit}"
    return ""


def _above_0(value):
    return value is not None and np.all(np.asarray(value) > 0)


def _share(told, field, value):
    """Half the band of what was typed, as a share of it."""
    if np.ndim(value) or told is None:
        return 0.0
    return max((told.high - told.low) / 2 / value, WATTS_SHARE if field == "load_w" and told.low == told.high else 0.0)
