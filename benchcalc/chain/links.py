"""The links of the chain, a line each.  Their order of working comes from what they need, not from this list."""

from .bench.record import BENCH
from .control.record import CONTROL, FORGOTTEN
from .handle.record import HANDLE
from .heat.record import HEAT
from .insulation.record import INSULATION
from .leads.record import LEADS
from .log.record import WARM_UP
from .metals.record import METALS
from .record import in_order
from .supply.record import SUPPLY
from .wire.record import COIL, WIRE

LINKS = in_order(
    (
        SUPPLY,
        WIRE,
        COIL,
        HEAT,
        METALS,
        INSULATION,
        LEADS,
        BENCH,
        HANDLE,
        CONTROL,
        FORGOTTEN,  # after the handle: its verdict closes those on heat; after control: a cut-out may end it
        WARM_UP,
    )
)
