"""The record of the warm-up log's link."""

from ..record import Link
from .link import work_warm_up
from .verdicts import log_checks


def _work(build, coil, heat):
    return work_warm_up(build, coil)[0]


def _verdicts(build, parts, bands):
    if not build.log:
        return []
    part, at, troubles = work_warm_up(build, parts["coil"])
    return log_checks(build, part, at, troubles, parts["heat"])


WARM_UP = Link(
    "warm_up",
    needs=("coil", "heat"),
    work=_work,
    verdicts=_verdicts,
    headline=("end_c", "slow_s"),
    page="06_warm_up",
    arrays=False,
)
