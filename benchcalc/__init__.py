"""benchcalc: from the scrap box to a heated hand tool that is safe to hold.

The one road: load a sheet, change a field, work it out.

>>> import benchcalc as bc
>>> build = bc.load_chosen("insert_press")
>>> workings = bc.work_out(build)
>>> longer = bc.work_out(bc.change(build, "coil.length_m", 1.1 * workings.coil.length_m))
>>> longer.coil.coil_w < workings.coil.coil_w
True
"""

from .basics.band import Band
from .basics.fault import Complaint, Fault
from .basics.names import say
from .basics.quantity import Quantity, parse
from .basics.tables import frame, rows
from .chain.supply.link import work_supply
from .chain.verdict import Verdict
from .chain.wire.coil import work_coil
from .chain.wire.link import work_wire
from .chain.workings import Workings, band_text, links, settled, work_out
from .materials.alloys import alloy_name, alloy_value, rank_alloys
from .materials.gauges import diameter_of, sizes
from .sheet.build import Build, Known
from .sheet.change import change, get, sample
from .sheet.choose import choose, chosen, copy_to_mine, demos, load_chosen, my_sheets
from .sheet.load import by_instrument, load, read
from .sheet.save import keep

__version__ = "0.1.0"
__all__ = [
    "Band",
    "Build",
    "Complaint",
    "Fault",
    "Known",
    "Quantity",
    "Verdict",
    "Workings",
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
