"""The records of the links of wire and coil."""

from ..record import Link
from .coil import work_coil
from .heat_stood import heat_stood_checks
from .link import work_wire
from .verdicts import coil_checks, wire_checks


def _wire_verdicts(build, parts, bands):
    return [*wire_checks(build, parts["wire"], parts["coil"], bands), *heat_stood_checks(build, parts)]


def _coil_verdicts(build, parts, bands):
    return coil_checks(build, parts["supply"], parts["coil"], bands)


WIRE = Link(
    "wire",
    needs=("supply",),
    work=work_wire,
    verdicts=_wire_verdicts,
    headline=("linear_ohm_per_m", "length_m"),
    page="02_wire_sizing",
)
COIL = Link(
    "coil",
    needs=("supply", "wire"),
    work=work_coil,
    verdicts=_coil_verdicts,
    headline=("length_m", "coil_w", "load_a", "surface_load_w_m2"),
    page="02_wire_sizing",
)
