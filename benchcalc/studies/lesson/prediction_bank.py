"""All predictions by their key: the four confusions, statements to judge, and those of the pages."""

from functools import cache

from ...basics.fault import closest, fault
from . import confusions, on_bench_pages, on_heat_pages, on_holding_pages, printed_errors
from .prediction import Prediction

PLACES = (confusions, on_bench_pages, on_heat_pages, on_holding_pages, printed_errors)


@cache
def every_prediction() -> dict[str, Prediction]:
    """Every prediction by its key."""
    return {p.key: p for place in PLACES for p in place.PREDICTIONS}


def prediction_named(key: str) -> Prediction:
    """A prediction by its key.  key: e.g. "longer-wire".  Raises Fault with the closest for an unknown one."""
    if key not in every_prediction():
        raise fault("prediction", key, "is not in the bank.", closest(key, every_prediction()))
    return every_prediction()[key]
