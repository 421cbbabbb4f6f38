"""The record of the handle's link."""

from ..record import Link
from .link import work_handle
from .verdicts import handle_checks


def _verdicts(build, parts, bands):
    return handle_checks(build, parts["heat"], parts["handle"], bands)


HANDLE = Link(
    "handle",
    needs=("heat",),
    work=work_handle,
    verdicts=_verdicts,
    headline=("entry_c", "grip_c", "finger_c"),
    page="07_handle_and_heat_break",
)
