"""Wire sizes by name: "32 AWG", "30 SWG", "0.28 mm" -> diameter in metres."""

import contextlib
import re

from ..basics.fault import fault
from ..basics.quantity import parse
from ..basics.tables import rows

SYSTEMS = ("AWG", "SWG")
_GAUGE = re.compile(r"\s*(?:(AWG|SWG)\s*(\d+)|(\d+)\s*(AWG|SWG))\s*$", re.IGNORECASE)


def awg_diameter(number):
    """Diameter of an American wire gauge number.

    number: gauge number, -3 (0000) to 56 (int or array).
    Returns diameter_m.
    Equation: d = 0.127 mm x 92^((36 - n)/39), ASTM B258, Standard Specification for Standard
    Nominal Diameters and Cross-Sectional Areas of AWG Sizes.  Table values rounded to 0.1 mil
    differ by up to 1.5 % of diameter at AWG 40.
    """
    return 0.127e-3 * 92.0 ** ((36 - number) / 39)


def swg_diameter(number):
    """Diameter of a British standard wire gauge number (not the American steel wire gauge).

    number: gauge number as in data/gauges.csv (int).
    Returns diameter_m.  Raises Fault outside the table: the gauge has no formula.
    Source: BS 3737:1964 (withdrawn), table.
    """
    table = {int(r["number"]): r["diameter_m"] for r in rows("gauges") if r["system"] == "SWG"}
    if number not in table:
        raise fault(
            "gauge",
            f"{number} SWG",
            f"is outside the table, which runs from {min(table)} to {max(table)} SWG.",
            do="Measure the wire and give its diameter.",
        )
    return table[number]


def diameter_of(text: str, *, where: str = "gauge") -> float:
    """Diameter from a gauge name or a plain diameter.

    text: "32 AWG", "AWG 32", "30 SWG", or a length such as "0.28 mm".
    where: name of the field, for messages.
    Returns diameter_m.  Raises Fault: a bare number (two systems, two diameters), an unknown
    system, a number outside the gauge.

    >>> round(diameter_of("32 AWG"), 7)
    0.0002019
    """
    text = str(text).strip()
    found = _GAUGE.match(text)
    if found:
        system = (found[1] or found[4]).upper()
        digits = found[2] or found[3]
        number = int(digits) if digits.strip("0") or digits == "0" else 1 - len(digits)  # 00 is -1, 000 is -2
        if system == "SWG":
            return swg_diameter(number)
        if number < -3:
            raise fault(where, text, "is thicker than AWG 0000, where the gauge ends.")
        if number > 56:
            raise fault(where, text, "is finer than AWG 56, where the gauge ends.")
        return awg_diameter(number)
    if re.fullmatch(r"\d+", text):
        number = int(text)
        both = f"AWG {text} is {awg_diameter(number) * 1e3:.3f} mm"
        with contextlib.suppress(ValueError):
            both += f", SWG {text} is {swg_diameter(number) * 1e3:.3f} mm"
        raise fault(where, text, f"has no gauge system: {both}.", do=f'Write "{text} AWG" or "{text} SWG".')
    if re.search(r"[A-Za-z]*WG|gauge", text, re.IGNORECASE):
        raise fault(
            where,
            text,
            "is a gauge that is not known here. Known: AWG, SWG (British), or a diameter.",
            do="Measure the wire and give its diameter in mm or inches.",
        )
    diameter_m = parse(text, "m", where=where).nominal
    if diameter_m <= 0:
        raise fault(where, text, "is no diameter: it must be above zero.")
    return diameter_m


def sizes(system: str) -> tuple:
    """All sizes of one system, thickest first.

    system: "AWG", "SWG" or "metric".
    Returns tuple of (name as a sheet takes it, diameter_m).

    >>> sizes("SWG")[0]
    ('12 SWG', 0.0026416)
    """
    table = [r for r in rows("gauges") if r["system"] == system]
    if not table:
        raise fault("gauge", system, "is no system in data/gauges.csv. Known: AWG, SWG, metric.")
    table.sort(key=lambda r: -r["diameter_m"])
    if system == "metric":
        return tuple((f"{r['diameter_m'] * 1e3:g} mm", r["diameter_m"]) for r in table)
    return tuple((f"{int(r['number'])} {system}", r["diameter_m"]) for r in table)
