"""The records of the control link, and of what it comes to when the tool is left on and forgotten."""

from ..record import Link
from .guarded import forgotten_checks
from .link import work_control
from .verdicts import control_checks


def _verdicts(build, parts, bands):
    return control_checks(build, parts["control"], parts["heat"], bands)


CONTROL = Link(
    "control",
    needs=("supply", "wire", "coil", "heat"),
    work=work_control,
    verdicts=_verdicts,
    headline=("set_c", "held_c", "hold_w", "stuck_c"),
    page="08_power_control",
    arrays=False,
)
FORGOTTEN = Link(
    "forgotten",
    needs=("supply", "wire", "coil", "heat", "control"),
    verdicts=forgotten_checks,
    page="06_warm_up",
    counts_to="heat",
    arrays=False,
)
