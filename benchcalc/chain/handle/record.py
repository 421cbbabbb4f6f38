"""The record of the handle's link."""

from ..heat.still_air import still_air_of
from ..record import Link
from .link import work_handle
from .verdicts import handle_checks


def _verdicts(build, parts, bands):
    able = bands and parts["handle"] is not None  # without bands nothing is judged by its ends
    still = still_air_of(build, parts["wire"], parts["coil"], parts["heat"]) if able else None
    return handle_checks(build, parts["heat"], parts["handle"], bands, still)


HANDLE = Link(
    "handle",
    needs=("heat",),
    work=work_handle,
    verdicts=_verdicts,
    headline=("entry_c", "grip_c", "finger_c"),
    page="07_handle_and_heat_break",
)
