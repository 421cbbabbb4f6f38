"""Tables that pages share: numbers of a build with their bands, readings beside their line, inputs."""

import numpy as np

from ..basics.names import NAMES, digits, say
from ..sheet.workings import band_text
from .table import table


def numbers(build, workings, *paths, head="value (likely range)"):
    """Worked-out numbers with their bands.

    build: Build, for its units. workings: Workings. paths: e.g. "coil.coil_w". head: title of the column.
    Returns Table; what is not known yet says so.
    """
    way = {"units": build.units, "degrees": build.degrees}
    rows = []
    for path in paths:
        link, field = path.split(".")
        value = getattr(getattr(workings, link), field, None)
        known = value is not None and not np.isnan(value)
        band = workings.bands.get(path)
        rows.append((NAMES[field].word, band_text(band, field, **way) if known and band else
                     say(field, value, **way) if known else "not known yet"))
    return table(("", head), rows)


def readings(build, workings):
    """The readings of the supply, each with its distance from the fitted line.

    build: Build. workings: Workings.
    Returns Table.
    """
    quality = workings.supply.quality if workings.supply is not None else None
    rows = []
    for i, r in enumerate(build.supply.reading):
        off = "–" if quality is None else f"{1e3 * quality.residual_v[i]:+.0f} mV"
        rows.append((f"{i + 1}", say("load_v", r.volts_v), say("load_a", r.amps_a), off))
    return table(("reading", "volts", "amps", "off the line"), rows or [("none yet", "–", "–", "–")])


def inputs(build):
    """Every input that has a range, with its ends and where they come from.

    build: Build.
    Returns Table.
    """
    rows = []
    for path, k in sorted(build.known.items()):
        field = path.rsplit(".", 1)[-1]
        if k.low < k.high:
            word = NAMES[field].word if field in NAMES else path
            rows.append((word, f"{say(field, k.low)} to {say(field, k.high)}" if field in NAMES
                         else f"{digits(k.low)} to {digits(k.high)}", k.how, k.text or "–"))
    return table(("input with a range", "ends", "how known", "from"), rows or [("none", "–", "–", "–")])


def two_answers(build, workings):
    """The two resistances that take the wanted power, side by side.

    build: Build. workings: Workings.
    Returns Table.
    """
    supply, wire = workings.supply, workings.wire
    rows = []
    for word, ohm in (("higher", wire.higher_ohm), ("lower", wire.lower_ohm)):
        amps = np.sqrt(wire.wanted_w / ohm) if ohm > 0 else np.nan
        lost = amps**2 * (supply.source_in_use_ohm + wire.tails_ohm)
        rows.append((word, *(say(k, x) if np.isfinite(x) else "not known" for k, x in
                             (("load_ohm", ohm), ("load_a", amps), ("source_loss_w", lost)))))
    return table(("resistance", "hot coil", "current", "heat in supply and tails"), rows)


def other_sizes(build, workings, sizes):
    """The wanted power from the same alloy in other sizes, spread over the room there is.

    build: Build. workings: Workings. sizes: tuple of (name, diameter_m).
    Returns Table.
    """
    from ..sheet.change import change
    from ..sheet.workings import links

    if not sizes or workings.wire.diameter_m != workings.wire.diameter_m:
        return table(("wire",), [("The sheet gives no wire size to compare with.",)])
    free = change(change(build, "coil.length_m", None), "coil.pitch_m", None)
    free = change(free, f"wire.{workings.wire.id}.measured_ohm", None)
    _, wire, coil = links(change(free, f"wire.{workings.wire.id}.diameter_m", [d for _, d in sizes]))
    way = {"units": build.units}

    def told(key, values):
        return [say(key, float(x), **way) if np.isfinite(x) else "–" for x in np.broadcast_to(values, len(sizes))]

    gaps = ["–" if np.isnan(g) else say("gap_m", float(g), **way) if g > 0 else "turns overlap"
            for g in np.broadcast_to(coil.gap_m, len(sizes))]
    return table(("wire", "length", "surface load", "turns", "gap between turns"),
                 zip([n for n, _ in sizes], told("length_m", wire.length_m),
                     told("surface_load_w_m2", coil.surface_load_w_m2), told("turns", coil.turns), gaps))
