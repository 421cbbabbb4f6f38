"""The record of the supply's link."""

from ..record import Link
from .link import work_supply
from .verdicts import supply_checks


def _verdicts(build, parts, bands):
    return supply_checks(build, parts["supply"], parts["wire"], bands)


SUPPLY = Link(
    "supply", work=work_supply, verdicts=_verdicts, headline=("open_v", "source_ohm", "most_power_w"), page="01_supply"
)
