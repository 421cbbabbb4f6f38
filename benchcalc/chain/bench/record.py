"""The record of the bench's link."""

from ..record import Link
from .link import work_bench
from .verdicts import bench_checks


def _verdicts(build, parts, bands):
    return bench_checks(build, parts["supply"], parts["bench"], bands)


BENCH = Link(
    "bench",
    needs=("supply", "coil"),
    work=work_bench,
    verdicts=_verdicts,
    headline=("load_va", "core_va", "winding_c", "run_s", "fuse_a"),
    page="01_supply",
)
