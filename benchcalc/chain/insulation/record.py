"""The record of the insulation's link."""

from ..record import Link
from .bare_tails import bare_tails
from .link import work_insulation
from .verdicts import bare_former, insulation_checks


def _verdicts(build, parts, bands):
    part = parts["insulation"]
    made = list(bare_former(build, ())) if part is None else insulation_checks(build, part, bands, parts["heat"])
    return [*made, *bare_tails(build, parts["coil"], parts["heat"])]


INSULATION = Link(
    "insulation",
    needs=("supply", "wire", "coil", "heat"),
    work=work_insulation,
    verdicts=_verdicts,
    headline=("margin_k", "years"),
    page="04_insulation",
)
