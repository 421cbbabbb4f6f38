"""The record of the lead-out's link."""

from ..record import Link
from .link import work_leads
from .verdicts import leads_checks


def _verdicts(build, parts, bands):
    return leads_checks(build, parts["leads"], bands)


LEADS = Link(
    "leads",
    needs=("wire", "coil", "heat"),
    work=work_leads,
    verdicts=_verdicts,
    headline=("tails_c", "joint_c", "carried_w"),
    page="07_handle_and_heat_break",
)
