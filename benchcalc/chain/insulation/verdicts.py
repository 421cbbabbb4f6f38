"""The verdicts on insulation: heat, volts, space, years."""

from dataclasses import replace

import numpy as np

from ...basics.names import in_degrees, say
from ...basics.tables import source_words
from ...materials.bulk import solid_key
from ...materials.insulation import coat_gone, notes
from ...sheet.change import item
from ...sheet.defaults import default
from ..heat.far_from_tip import far_words
from ..verdict import Limit, judge, unknown

OWN_SHEET = "your own sheet"
BREAKDOWN = "breakdown fields of data/insulation.csv, low end; most are assumed: check the maker's sheet"


def insulation_checks(build, part, bands, heat=None):
    """Verdicts on the stack.

    build: Build. part: InsulationPart. bands: path -> Band. heat: HeatPart, or None.
    Returns list of Verdict.
    """
    made = [_heat(build, part, k, bands, heat) for k in range(len(part.layers))]
    made += list(bare_former(build, part.layers))
    for k, pair in enumerate(part.pairs):
        made += _pair(build, part, k, pair)
    made += [_sleeve(build, part, bands)] + list(_years(build, part, bands))
    return [v for v in made if v is not None]


def place_words(between):
    """A layer's place in words, e.g. "between coil and tube".  between: pair of ids."""
    return f"between {between[0]} and {between[1]}"


def _heat(build, part, k, bands, heat):
    layer, hot = part.layers[k], part.hot_c[k]
    what = f"{layer.name.split(' (')[0]}, {layer.between[0]} to {layer.between[1]}"
    r = layer.rating
    if r is None or not np.isfinite(r.limit_c):
        return unknown(what, "hottest_c", why="It has no rating in data/insulation.csv: it counts as no insulation.")
    band = bands.get("heat.wire_c") if layer.touches else bands.get(f"insulation.hot_c.{k}")
    told = "It lies against the wire and meets the wire's own heat." if layer.touches else "Its hotter face counts."
    if r.never:
        told = f"{in_degrees(notes(r.key)['gives_off'], build.degrees)} {told}"
    elif not np.ndim(hot) and coat_gone(r, hot):
        told += f" {coat_gone(r, hot, build.degrees)}"
    elif not np.ndim(hot) and hot > r.limit_c and hot <= r.boldest_c:
        most = say("limit_c", r.boldest_c, degrees=build.degrees)
        told += f" Some print as much as {most} for it: the cautious figure holds here."
    if layer.touches and not np.ndim(hot) and hot > r.limit_c:
        told = f"{told} {far_words(build, heat)}".rstrip()
    if r.basis == "memory":
        told += " The rating is from memory: check the maker's sheet."
    return judge(
        what,
        "hottest_c",
        hot,
        Limit(r.limit_c, "at most", source_words(r.source_id)),
        why=f"{told} What the rating means: {in_degrees(r.means, build.degrees)}" if r.means else told,
        band=band,
    )


def bare_former(build, layers):
    """A bare coil on a metal part needs something between them, even where the sheet names no layer at all.

    build: Build. layers: of InsulationPart, or none.
    Yields Verdict.
    """
    coil = build.coil
    if coil is None or coil.on is None:
        return
    former = item(build.part, coil.on)
    if former.material is None or solid_key(former.material)[0] != "metals":
        return
    row = default("insulation.least_m")
    under = (coil.on, "coil")
    stack = sum(y.thickness_m for y in layers if y.between == under and y.rating is not None)
    yield judge(
        f"insulation under the coil, on the {coil.on}",
        "stack_m",
        stack,
        Limit(row["value"], "at least", source_words(row["source_id"])),
        why="A bare wire wound straight on metal is shorted turn by turn; a sheet thinner than this is soon pierced.",
    )


def _pair(build, part, k, pair):
    volts, stack, space = part.pair_v[k], part.stack_m[k], part.space_m[k]
    what = f"volts {place_words(pair)}"
    words = {y.strength for y in part.layers if y.between == pair}
    if pair[1] != "room":
        if np.any(np.isnan(volts)):
            yield unknown(what, "withstand_v", why="No breakdown field is known for a layer here.")
        else:
            found = _holds_off(part, what, np.asarray(volts, float), words)
            yield _past_its_heat(part, pair, found, build.degrees)
    if not np.all(np.isnan(space)):
        yield judge(
            f"thickness of layers {place_words(pair)}",
            "stack_m",
            stack,
            Limit(space, "at most", "geometry; " + OWN_SHEET),
            why="All layers one over the other against the space for them; squeezed braid and paper split.",
        )


def _holds_off(part, what, volts, words):
    """Volts against what the layers hold off; below the least breakdown of air no whole gap breaks down at all."""
    air = default("insulation.air_least_v")
    limit = np.where(volts > 0, np.maximum(volts, air["low"]), volts)  # a layer of metal holds off nothing
    told = "Peak of the no-load volts against what the layers hold off, " + (
        "at heat." if words == {"hot"} else "cold in part: hot figures are missing, so keep ten times in hand."
    )
    by_air = bool(np.any((volts > 0) & (volts < air["low"])))
    if by_air:
        told = (
            f"By its breakdown field the layer promises {np.min(volts):.0f} V, but over no gap does air break down "
            f"below about {air['value']:.0f} V: what counts is that the layer is whole, dry, and keeps metal apart."
        )
    source = source_words(air["source_id"]) + "; " + BREAKDOWN if by_air else BREAKDOWN
    return judge(
        what, "withstand_v", part.peak_v, Limit(limit if limit.ndim else float(limit), "at most", source), why=told
    )


def _past_its_heat(part, pair, verdict, degrees="C"):
    """The same verdict on volts, told beside layers of the pair that are past their own heat.

    Where none is left that is not, nobody has read what the pair holds off: not known, whatever a table promises.
    """
    here = [(y, part.hot_c[k]) for k, y in enumerate(part.layers) if y.between == pair and y.rating is not None]
    if here and any(np.ndim(x) for x in (verdict.margin, *(c for _, c in here))):
        return _each_past_its_heat(here, verdict)
    hot = [(y, c - y.rating.limit_c) for y, c in here if not np.ndim(c) and c > y.rating.limit_c]
    if not hot or np.ndim(verdict.value):
        return verdict
    worst, over_k = max(hot, key=lambda one: one[1])
    over = say("over_k", over_k, figures=2, degrees=degrees).replace(" (difference)", "")
    told = (
        f"The {worst.name.split(' (')[0]} here is {over} past its own heat: what it holds off so hot stands in "
        "no table, and it keeps metal apart only while it is whole."
    )
    if len(hot) == len(here):
        return unknown(verdict.what, verdict.key, why=f"{told} Mend its heat first.", source=verdict.source)
    return replace(verdict, why=f"{verdict.why} {told}")


def _each_past_its_heat(here, verdict):
    """The same of many designs.  here: (layer, its hottest place in degC) of the pair."""
    gone = np.all(np.broadcast_arrays(*(c > y.rating.limit_c for y, c in here)), axis=0)
    margin, state, gone = np.broadcast_arrays(verdict.margin, verdict.state, gone)
    return replace(verdict, state=np.where(gone & ~(margin < 0), "not known", state))


def _sleeve(build, part, bands):
    """The sleeve of the tails where they leave the coil."""
    r = part.sleeve
    if r is None:
        return None
    told = f"{in_degrees(notes(r.key)['gives_off'], build.degrees)} " if r.never else ""
    if not np.ndim(part.holds_from_m) and not np.ndim(part.tails_c) and part.tails_c > r.limit_c:
        where = "It is too hot all the way to the rear."
        if np.isfinite(part.holds_from_m):
            begin = say("length_m", float(part.holds_from_m), figures=2, units=build.units)
            where = f"It may begin {begin} from the tip; nearer the coil take ceramic beads or a sleeve rated higher."
        told += f"Behind the coil it is too hot for it. {where}"
    return judge(
        f"{r.name} on the tails",
        "hottest_c",
        part.tails_c,
        Limit(r.limit_c, "at most", source_words(r.source_id)),
        why=(told or "Where the tails leave the coil it is hottest.").strip(),
        band=bands.get("insulation.tails_c"),
    )


def _years(build, part, bands):
    organic = [y.rating.organic for y in part.layers if y.rating is not None] + [
        part.sleeve is not None and part.sleeve.organic
    ]
    if not any(organic):
        return
    what = "years of the insulation that ages first"
    if build.use.hours_per_year is None:
        yield unknown(what, "years", why="Write hours_per_year = ... under [use].", advice=True)
        return
    row = default("insulation.years")
    yield judge(
        what,
        "years",
        part.years,
        Limit(
            row["value"],
            "at least",
            source_words("IEC60216-8;MONTSINGER-1930") + "; " + source_words(row["source_id"]),
            advice=True,
        ),
        why=(
            "Organic insulation lives half as long for every few kelvin more; its rating is taken as the index of 20 "
            "000 h."
        ),
        band=bands.get("insulation.years"),
    )
