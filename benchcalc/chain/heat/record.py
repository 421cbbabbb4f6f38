"""The record of the heat link."""

from ..record import Link
from .joint_gaps import gap_checks
from .lacking import heat_lacks
from .link import work_heat
from .solid_verdicts import part_bands
from .verdicts import heat_checks


def _verdicts(build, parts, bands):
    return gap_checks(build) + heat_checks(build, parts["heat"], bands, heat_lacks(build, parts))


HEAT = Link(
    "heat",
    needs=("wire", "coil"),
    work=work_heat,
    verdicts=_verdicts,
    headline=("tip_c", "wire_c", "entry_c", "grip_c", "work_c"),
    page="05_heat_along_the_tool",
    bands=part_bands,
)
