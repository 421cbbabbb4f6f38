"""The records of the heat link, and of what it comes to when the tool is left on and forgotten."""

from ..record import Link
from .joint_gaps import gap_checks
from .lacking import heat_lacks
from .left_on import forgotten
from .link import work_heat
from .solid_verdicts import part_bands
from .verdicts import heat_checks


def _verdicts(build, parts, bands):
    return gap_checks(build) + heat_checks(build, parts["heat"], bands, heat_lacks(build, parts))


def _forgotten(build, parts, bands):
    heat = parts["heat"]
    if heat is None or heat.model is None:
        return []
    return [forgotten(build, bands)[0]]


HEAT = Link(
    "heat",
    needs=("wire", "coil"),
    work=work_heat,
    verdicts=_verdicts,
    headline=("tip_c", "wire_c", "entry_c", "grip_c", "work_c"),
    page="05_heat_along_the_tool",
    bands=part_bands,
)
FORGOTTEN = Link(
    "forgotten",
    needs=("supply", "wire", "coil", "heat"),
    verdicts=_forgotten,
    page="06_warm_up",
    counts_to="heat",
    arrays=False,
)
