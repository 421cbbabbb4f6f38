"""The record of the control link."""

from ..record import Link
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
