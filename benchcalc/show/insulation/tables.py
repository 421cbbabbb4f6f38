"""Tables of the insulation page."""

import numpy as np

from ...basics.fault import fault
from ...basics.names import in_degrees, say, years_words
from ...basics.tables import rows as data
from ...chain.heat.link import work_heat
from ...chain.insulation.link import work_insulation
from ...chain.insulation.organic_place import ages_where
from ...materials import ageing
from ...materials.insulation import coat_gone, insulation_keys, notes, rating, stays_or_leaves
from ..page.lesson import Words
from ..page.open_page import derive
from ..page.table import table
from .chart_numbers import key_or_none, short_name


def stack_table(build, workings):
    """The sheet's stack, layer by layer.

    build: Build. workings: Workings.
    Returns Table.
    """
    part, way = workings.insulation, {"degrees": build.degrees}
    if part is None:
        return table(("layer",), [("This sheet names no layer of insulation with a thickness.",)])
    rows = []
    for y, hot, cold, life in zip(part.layers, part.hot_c, part.cold_c, part.life_s):
        limit = np.nan if y.rating is None else y.rating.limit_c
        hours = build.use.hours_per_year
        lasts = (
            "does not age so"
            if not np.isfinite(life)
            else years_words(life / 3600 / hours)
            if hours
            else hours_words(life)
        )
        rows.append(
            (
                short_name(y.name),
                " and ".join(y.between),
                say("thickness_m", y.thickness_m, units=build.units),
                say("temp_c", hot, **way) + (", the wire" if y.touches and np.isfinite(hot) else ""),
                say("temp_c", cold, **way),
                say("limit_c", limit, **way),
                say("withstand_v", y.withstand_v) + f" ({y.strength})",
                lasts,
            )
        )
    return table(("layer", "between", "thickness", "meets", "other face", "rated", "holds off", "lasts"), rows)


def meanings(*names):
    """What the ratings of some materials mean.  names: materials, one or more.  Returns Table."""
    rows = []
    for name in names:
        r = rating(name)
        ends = f"{r.limit_c:.0f}" if r.boldest_c == r.limit_c else f"{r.limit_c:.0f} to {r.boldest_c:.0f}"
        rows.append((short_name(r.name), ends, r.means or "long service, as its makers print it", r.basis))
    return table(("material", "rated, degC", "what that promises", "basis"), rows)


def first_heat(build, also=()):
    """What the sheet's layers give off on their first heat, and where it begins.

    build: Build. also: further materials.
    Returns Table.
    """
    keys = dict.fromkeys([key_or_none(y.material) for y in build.layer if y.material] + [key_or_none(m) for m in also])
    rows = []
    for key in (k for k in keys if k):
        r, told = rating(key), notes(key)
        rows.append(
            (
                short_name(r.name),
                say("temp_c", r.binder_off_c, degrees=build.degrees) if np.isfinite(r.binder_off_c) else "–",
                in_degrees(told.get("gives_off", "Nothing known; watch it all the same."), build.degrees),
                told.get("mechanical", "–"),
            )
        )
    return table(
        ("layer", "smokes from", "on the first heat", "in the hand"),
        rows or [("no layer on this sheet", "–", "–", "–")],
    )


def never():
    """What has no place in a tool, with what to do on meeting it.  Returns Table."""
    rows = []
    for key in insulation_keys():
        r, told = rating(key), notes(key)
        if r.never:
            rows.append((r.name, told.get("never") or told["gives_off"]))
    return table(("never", "what to do"), rows)


def over_power(build, workings, shares=(1.0, 0.75, 0.5, 0.25)):
    """What less power buys: the hottest wire, the materials that stay, the life of what ages.

    build: Build with hours of use. workings: Workings. shares: of the coil's power.
    Returns Table.
    """
    heat = workings.heat
    if heat is None or heat.model is None or not build.use.hours_per_year:
        return table(("power",), [("This needs a tool with temperatures, and hours_per_year under [use].",)])
    watts = np.array(shares) * workings.coil.coil_w
    many = work_heat(build, workings.wire, workings.coil, watts)
    r, place, met = ages_where(build, many, work_insulation(build, workings.supply, workings.wire, workings.coil, many))
    way, rows = {"degrees": build.degrees}, []
    for i, share in enumerate(shares):
        temp_c = float(np.broadcast_to(met, len(shares))[i])
        stay = sum(word == "stays" for _, word in stays_or_leaves(many.wire_c[i]))
        rows.append(
            (
                f"{share:.0%}, {say('coil_w', watts[i])}",
                say("wire_c", many.wire_c[i], **way),
                f"{stay} of {len(insulation_keys())}",
                say("temp_c", temp_c, **way),
                *_lasting(r, temp_c, build.use.hours_per_year),
            )
        )
    return table(
        (
            "power",
            "hottest wire",
            "materials that stay",
            f"{short_name(r.name)}: {place}",
            "lasts, hot",
            "at your hours a year",
        ),
        rows,
    )


def _lasting(rated, temp_c, hours_per_year):
    """Life in hot hours with its ends, and in years of use."""
    if not temp_c <= ageing.AGES_TO_C:
        return "beyond ageing data", "–"
    life, (low, high) = ageing.life_of(rated.limit_c, temp_c), ageing.life_ends(rated.limit_c, temp_c)
    told = (
        hours_words(life)
        if hours_words(low) == hours_words(high)
        else f"{hours_words(life)} ({hours_words(low)} to {hours_words(high)})"
    )
    return told, years_words(life / 3600 / hours_per_year)


def life_or_why(build, rated, temp_c, halving_k, index_life_s):
    """The life of an organic material by the halving rule, derived; or why none can be told for it.

    build: Build, for its units. rated: Rating. temp_c: degC. halving_k: K. index_life_s: s.
    Returns Derivation, or Words.
    """
    if temp_c > ageing.AGES_TO_C:
        top = say("temp_c", ageing.AGES_TO_C, degrees=build.degrees)
        met = say("temp_c", temp_c, degrees=build.degrees)
        gone = coat_gone(rated, temp_c, build.degrees) or "Nothing organic is left at such heat."
        return Words(f"*No life is told at {met}: data on ageing end at {top}. {gone}*")
    return derive(
        ageing.life_by_halving,
        on=build,
        temp_c=temp_c,
        index_c=rated.limit_c,
        halving_k=halving_k,
        index_life_s=index_life_s,
    )


def lives(build, rated, temp_c, life):
    """The life by hand beside that by the library, with the ends that the printed halving intervals allow.

    build: Build. rated: Rating. temp_c: degC. life: as life_or_why gives it.
    Returns Words.
    """
    if isinstance(life, Words):
        return Words("Where no life was worked out by hand, the library tells none either.")
    by_function = ageing.life_of(rated.limit_c, temp_c)
    if abs(by_function / life.value - 1) > 1e-9:
        raise fault("life", f"{life.value:g} s", "by hand is not that of the library.")
    low, high = ageing.life_ends(rated.limit_c, temp_c)
    _, short_k, long_k, _ = ageing.rule("halving_k")
    return Words(
        f"By hand {hours_words(life.value)}, by function {hours_words(by_function)}. Halved by "
        f"{say('halving_k', short_k, degrees=build.degrees)} or by {say('halving_k', long_k, degrees=build.degrees)}: "
        f"{hours_words(low)} to {hours_words(high)}."
    )


def hours_words(life_s):
    """A life in hours, to two figures, that does not pretend: "23000 h", "over a million h".

    life_s: s.
    """
    hours = life_s / 3600
    if hours < 1:
        return "under a minute" if life_s < 60 else f"{life_s / 60:.0f} min"
    return "over a million h" if hours > 1e6 else f"{float(f'{hours:.2g}'):.0f} h"


def points_and_lines(series, printed_intercept, printed_slope_k):
    """Ageing points beside the line fitted to them, and beside a line printed with them.

    series: of data/ageing.csv. printed_intercept: of ln(life in h). printed_slope_k: K.
    Returns Table.
    """
    temps, lives = ageing.ageing_points(series)
    line = ageing.fit_line(temps, lives)
    rows = []
    for t, life in zip(temps, lives):
        own = ageing.life_by_line(t, line.intercept, line.slope_k)
        printed = ageing.life_by_line(t, printed_intercept + np.log(3600), printed_slope_k)
        rows.append(
            (
                say("temp_c", t),
                say("hot_life_s", life, figures=4),
                say("hot_life_s", own, figures=4),
                say("hot_life_s", printed),
                f"{life / printed:.1f} times too short",
            )
        )
    return table(
        ("tested at", "life in the test", "line through the points", "line printed beside them", "the printed one is"),
        rows,
    )


def ladder():
    """The thermal classes, each with the enamelled wires and organic materials that just reach it.  Returns Table."""
    found = []
    for r in sorted(data("thermal_classes"), key=lambda r: r["class_c"]):
        wires = ", ".join(w["designation"].split(",")[0] for w in data("winding_wire") if w["index_c"] == r["class_c"])
        others = "; ".join(
            short_name(rating(k).name)
            for k in insulation_keys()
            if rating(k).organic and not rating(k).never and _class_below(rating(k).limit_c) == r["class_c"]
        )
        found.append((f"{r['class_c']:.0f}", r["letter"], wires or "–", others or "–"))
    return table(("class, degC", "letter", "enamelled wire", "reaches it"), found)


def _class_below(temp_c):
    return max((r["class_c"] for r in data("thermal_classes") if r["class_c"] <= temp_c), default=None)


def instead(build, workings, n=6):
    """What could take the place of a layer that meets the wire: the lowest ratings that still hold there.

    build: Build. workings: Workings. n: how many.
    Returns Table.
    """
    wire_c = np.nan if workings.heat is None else workings.heat.wire_c
    if not np.isfinite(wire_c):
        return table(("instead",), [("No wire temperature is known for this sheet yet.",)])
    band = workings.bands.get("heat.wire_c")
    high = band.high if band is not None else wire_c
    found = [r for r, word in stays_or_leaves(wire_c) if word == "stays" and not r.organic][::-1][:n]
    rows = [
        (
            short_name(r.name),
            say("limit_c", r.limit_c, degrees=build.degrees),
            say("margin_k", r.limit_c - wire_c, degrees=build.degrees).replace(" (difference)", ""),
            "holds over the whole range" if r.limit_c >= high else "tight: the range of the wire passes it",
        )
        for r in found
    ]
    return table(
        ("instead", "rated", "margin at the wire", "and with the likely range of the wire"),
        rows or [("none of the table", "–", "–", "–")],
    )
