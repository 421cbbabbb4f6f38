"""Tables that pages share: numbers of a build with their bands, readings beside their line, inputs."""

import numpy as np

from ...basics.escape import plain_text
from ...basics.names import NAMES, say
from ...chain.as_told import is_untold
from ...chain.heat.melting_wire import told_band, told_c, wire_melts_c
from ...chain.supply.link import extrapolated, nothing_sized
from ...sheet.field_words import PLACE, field_words
from ...sheet.readings_first import left_out
from ...studies.that_day import that_day_words
from .inputs import sheet_name
from .lent import tells_lent
from .still_words import still_beside
from .table import captioned, table
from .words import Words

OPEN, EXTRAPOLATED = ("open_v", "open_in_use_v"), " (extrapolated: nobody read it)"


def whose(build, thing):
    """A table or words with the name of the sheet that they are of.

    build: Build. thing: Table or Words; anything else stays as it is.
    """
    name = f"Sheet {sheet_name(build)}, as this page last ran:"
    return Words(f"{plain_text(name)} {thing.text}") if isinstance(thing, Words) else captioned(name, thing)


@tells_lent
def numbers(build, workings, *paths, head="value (likely range)"):
    """Worked-out numbers with their bands.

    build: Build, for its units. workings: Workings. paths: e.g. "coil.coil_w". head: title of the column.
    Returns Table; what is not known yet says so.  Beside what the handle comes to in air that nobody read stands what
    it is in still air.
    """
    way = {"units": build.units, "degrees": build.degrees}
    rows, melts_c = [], wire_melts_c(build)
    still = still_beside(build, workings.heat, [p.removeprefix("heat.") for p in paths if p.startswith("heat.")])
    for path in paths:
        link, field = path.split(".")
        part = getattr(workings, link)
        value = getattr(part, field, None)
        known = value is not None and not np.isnan(value) and not is_untold(workings, link, field)
        known = known and not (link == "coil" and workings.supply is not None and nothing_sized(workings.supply))
        band = workings.bands.get(path)
        told = "not known yet"
        if known:
            told = told_band(band, field, melts_c, **way) if band else told_c(field, value, melts_c, **way)
            told += still.get(field, "") if link == "heat" else ""
        rows.append((NAMES[field].word + (EXTRAPOLATED if field in OPEN and extrapolated(build) else ""), told))
    days = that_day_words(build, workings) if "heat.tip_c" in paths else ""
    return captioned(days, table(("", head), rows))


def readings(build, workings):
    """The readings of the supply, each with its distance from the fitted line.

    build: Build. workings: Workings.
    Returns Table.
    """
    quality = workings.supply.quality if workings.supply is not None else None
    rows, limited = [], left_out(build.supply)
    for i, r in enumerate(build.supply.reading):
        off = (
            "at the supply's limit: not on the line"
            if i in limited
            else "–"
            if quality is None
            else f"{1e3 * quality.residual_v[i]:+.0f} mV"
        )
        rows.append((f"{i + 1}", say("load_v", r.volts_v), say("load_a", r.amps_a), off))
    return table(("reading", "volts", "amps", "off the line"), rows or [("none yet", "–", "–", "–")])


def inputs(build):
    """Every input that has a range, with its ends and where they come from.

    build: Build.
    Returns Table.
    """
    rows = []
    for path, k in sorted(build.known.items()):
        if k.low < k.high:
            word = field_words(build, path)
            said_already = (k.text or "").startswith(word)
            origin = k.text.removeprefix(word).lstrip(" :;,") if said_already else k.text
            rows.append((word, _ends(build, path, k), k.how, origin or "–"))
    return table(("input with a range", "ends", "how known", "from"), rows or [("none", "–", "–", "–")])


def _ends(build, path, known):
    """The ends of an input with their unit, in so many figures that they differ; of a place in a band, in words."""
    field, way = path.rsplit(".", 1)[-1], {"units": build.units, "degrees": build.degrees}
    if field.endswith(PLACE) and (known.low, known.high) == (-1.0, 1.0):
        return "low to high end of its band"
    for figures in (3, 4, 5):
        low, high = (say(field, x, figures=figures, **way) for x in (known.low, known.high))
        if low != high:
            break
    return f"{low} to {high}"
