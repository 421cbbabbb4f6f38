"""A temperature that somebody asks for: a number with or without its unit, or the name of a melting marker."""

from dataclasses import dataclass

from ..basics.fault import Fault, closest, fault
from ..basics.quantity import parse
from ..basics.tables import rows
from .calibrate.probe import marker_row

COLDEST_C, HOTTEST_C = 0.0, 1400.0


@dataclass(frozen=True)
class Asked:
    """What is asked for.  temp_c: degC. marker: name in data/markers.csv, "" for a plain temperature. error_k: what the
    eye may be wrong by at a marker, K. safe: of the marker, "yes", "take care" or "no". note: of the marker, or ""."""

    temp_c: float
    marker: str = ""
    error_k: float = 0.0
    safe: str = "yes"
    note: str = ""


def asked_temperature(words: str | float, *, degrees: str = "C") -> Asked:
    """The temperature behind what was typed.

    words: a number, with or without degC or degF, or a marker of data/markers.csv (metals, solders, plastics, waxes).
    degrees: "C" or "F", of a bare number.
    Returns Asked: a marker turns from the low end of its melting range.
    Raises Fault: neither, with the closest names; below 0 degC or above 1400 degC.
    """
    text = str(words).strip()
    try:
        marker = marker_row(text)
    except Fault:
        marker = None
    if marker is not None:
        return Asked(
            float(marker["low_c"]),
            marker["marker"],
            float(marker["bench_error_k"]),
            marker["safe"],
            marker["note"] or "",
        )
    if not any(sign.isdigit() for sign in text[:2]):
        raise fault(
            "temperature or marker",
            text[:60],
            "is neither a temperature nor a melting marker.",
            closest(text[:60], [r["marker"] for r in rows("markers")]),
            "Write degC, or a marker such as those in data/markers.csv.",
        )
    bare = all(sign.isdigit() or sign in ".,+ " for sign in text)
    temp_c = parse(f"{text} deg{degrees}" if bare else text, "c", where="temperature or marker").nominal
    if not COLDEST_C <= temp_c <= HOTTEST_C:
        raise fault("temperature or marker", text[:60], f"must lie between {COLDEST_C:g} and {HOTTEST_C:g} degC.")
    return Asked(float(temp_c))
