"""The chain of a sheet at a glance, and the sheets there are to choose from."""

from ...basics.names import say
from ...chain.as_told import is_untold
from ...chain.supply.link import extrapolated
from ...chain.workings import band_text, work_out
from ...materials.alloys import alloy_name
from ...sheet.choose import demos, my_sheets
from ..page.lesson import at_a_glance
from ..page.shared_tables import EXTRAPOLATED
from ..page.table import as_html, headline

HEADLINE = (
    ("no-load voltage", "supply.open_v"),
    ("source resistance", "supply.source_ohm"),
    ("length for the wanted power", "wire.length_m"),
    ("power in the coil", "coil.coil_w"),
    ("current", "coil.load_a"),
    ("reading at the tails, cold", "coil.meter_ohm"),
)


def sheets_listed():
    """Every sheet as (words, name): demos, marked as invented, then one's own."""
    return [(f"{n} (invented demo)", n) for n in demos()] + [(f"{n} (my own)", n) for n in my_sheets()]


def glance(build, more_links=(), workings=None):
    """Headline numbers and the state of every link, as HTML.

    build: Build. more_links: Links of one's own beside those of the chain. workings: of the build, if there.
    """
    workings = workings or work_out(build, more_links=more_links)
    told = [
        (word, band_text(workings.bands[path], path.split(".")[1], units=build.units, degrees=build.degrees))
        for word, path in HEADLINE
        if path in workings.bands and not is_untold(workings, *path.split("."))
    ]
    if extrapolated(build):
        told = [(word + EXTRAPOLATED if word == HEADLINE[0][0] else word, text) for word, text in told]
    if workings.wire is not None:
        of = alloy_name(workings.wire.alloy) if workings.wire.alloy else "unknown alloy"
        told.insert(
            2, ("wire", f"{workings.wire.id}: {of}, {say('diameter_m', workings.wire.diameter_m, units=build.units)}")
        )
    return f"{as_html(headline(told))}\n{as_html(at_a_glance(build, workings))}"
