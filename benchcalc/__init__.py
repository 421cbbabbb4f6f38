"""benchcalc: from the scrap box to a heated hand tool that is safe to hold.

The one road: load a sheet, change a field, work it out.

>>> import benchcalc as bc
>>> build = bc.load_chosen("insert_press")
>>> workings = bc.work_out(build)
"""

from .basics.fault import Fault
from .basics.names import say
from .basics.quantity import parse
from .basics.tables import frame, rows
from .chain.supply.link import work_supply
from .chain.wire.coil import work_coil
from .chain.wire.link import work_wire
from .chain.workings import band_text, links, settled, work_out
from .materials.alloys import alloy_name, alloy_value, rank_alloys
from .materials.gauges import diameter_of, sizes
from .sheet.change import change, get, sample
from .sheet.choose import choose, chosen, copy_to_mine, demos, load_chosen, my_sheets
from .sheet.load import by_instrument, load, read
from .sheet.save import keep

__version__ = "0.1.0"
__all__ = [
    "Fault",
    "alloy_name",
    "alloy_value",
    "band_text",
    "by_instrument",
    "change",
    "choose",
    "chosen",
    "copy_to_mine",
    "demos",
    "diameter_of",
    "frame",
    "get",
    "keep",
    "links",
    "load",
    "load_chosen",
    "my_sheets",
    "parse",
    "rank_alloys",
    "read",
    "rows",
    "sample",
    "say",
    "settled",
    "sizes",
    "work_coil",
    "work_out",
    "work_supply",
    "work_wire",
]
