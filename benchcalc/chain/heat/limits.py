"""What must not get too hot on a whole tool: every place with its limit, and those of which nobody knows."""

from dataclasses import dataclass

import numpy as np

from ...basics.band import Band, band_of
from ...basics.tables import one
from ...materials.alloys import alloy_value
from ...materials.bulk import solid, solid_key
from ...materials.metals import metal_value
from ...sheet.roles import part_with_role
from ..insulation.link import work_insulation
from ..leads.limits import SOLDERED, USUAL_SOLDER, lead_limit
from ..parts import NAN
from .solid_verdicts import HOTTEST, solid_limit, solid_parts
from .verdicts import job_row

AT_MAINS = "heat.at_mains."  # path of a band with the doubt of the mains taken off, the place behind
ITSELF = "heat.itself."  # the same with that of the room and its draught taken off too
PART = "part "  # before the id of a part whose hottest place counts, which may be called like a watched place
INERT = ("mica", "fibre", "cement", "ceramic")  # families that do not burn, though a coat on them may
INSIDE = ": wire, insulation, metal"  # behind the words of a verdict on places that short, melt or burn out
PLACES = ("wire_c", "entry_c", "tip_c", "work_c", "tails_c", "joint_c", "grip_c")


@dataclass(frozen=True)
class WeakPlace:
    """A place with a limit.  word: in words. name: of the watched place whose curve it follows, or of a part, behind
    PART. key: of its band, behind AT_MAINS or ITSELF. value_c, limit_c: degC. source_id: of the limit. burns: whether
    it can catch fire, or is what gives off fumes."""

    word: str
    name: str
    key: str
    value_c: float
    limit_c: float
    source_id: str
    burns: bool = False

    def doubt(self, bands, room_c, before=AT_MAINS):
        """Band of it.  bands: path -> Band. room_c: degC there. before: AT_MAINS or ITSELF.

        Returns Band, None where no samples were drawn: the own doubt of the tool at the coil's watts, grown with the
        rise, never shrunk; its ends are nan where too many samples could not be worked out.
        """
        own = bands.get(before + self.key)
        if own is None:
            return None
        rise = own.nominal - room_c
        grown = max(1.0, (self.value_c - room_c) / rise) if rise > 1.0 else 1.0
        ends = (self.value_c + grown * (end - own.nominal) for end in (own.low, own.high))
        return Band(self.value_c, *ends)


def places_of(build, wire, coil, heat, tip=True):
    """The places of a tool that have a limit, and those whose limit or temperature is not known.

    build: Build (floats). wire, coil: of the chain. heat: HeatPart (floats) of the state that is looked at. tip: if
    the tip counts where nothing is melted.
    Returns (tuple of WeakPlace, tuple of words for what is not known).
    """
    found = [*_wire(build, wire, heat), *_wood(build, heat), *_job(build, heat, tip), *_metals(build, heat)]
    found += [*_solids(build, heat), *_insulation(build, wire, coil, heat), *_joint(build, heat)]
    known = tuple(p for p in found if p.limit_c is not None and np.isfinite([p.value_c, p.limit_c]).all())
    return known, tuple(dict.fromkeys(_untold(p, wire.alloy) for p in found if p not in known))


def _untold(place, alloy):
    """A place that nobody knows, and what is missing of it."""
    if np.isfinite(place.value_c):
        of_what = ", since its alloy is not on the sheet" if place.word == "the wire" and not alloy else ""
        return f"{place.word} (its limit{of_what})"
    return f"{place.word} (its temperature)" if place.limit_c is not None else f"{place.word} (material or place)"


def kinds_of(what, places, untold):
    """The verdicts on many places, one for each kind of harm: no place hides one that can burn.

    what: words of the verdict. places: of WeakPlace. untold: words of places that nobody knows.
    Returns list of (words, burns, untold of that kind): what can burn, then the rest; burns is None where all that is
    known is of one kind.  An insulation that nobody knows may be of either.
    """
    if len({p.burns for p in places}) < 2:
        return [(what, None, tuple(untold))]
    metal = [w for w in untold if w.startswith(("the wire", "the tails")) or ", melting" in w]
    inside = [w for w in untold if w in metal or " between " in w or " on the tails" in w]
    return [(what, True, tuple(w for w in untold if w not in metal)), (what + INSIDE, False, tuple(inside))]


def _burns(material):
    return material.kind != "metal" and material.family not in INERT


def _wire(build, wire, heat):
    """The wire in the winding, and the tails of the same wire where they run hotter."""
    limit = alloy_value(wire.alloy, "service_limit_c") if wire.alloy else None
    yield WeakPlace("the wire", "sheath", "wire_c", heat.wire_c, *_of(limit))
    if build.coil.tails.material is None and limit is not None and heat.tails_c > heat.wire_c:
        yield WeakPlace("the tails", "sheath", "tails_c", heat.tails_c, *_of(limit))


def _of(row):
    return (None, "") if row is None else (row.value, row.source_id)


def _wood(build, heat):
    handle = part_with_role(build, "handle")
    if handle is not None and (handle.material is None or solid(handle.material).family == "wood"):
        row = one("wood_limits", "key", "long_term_c")
        yield WeakPlace("the wood at the tube", "entry", "entry_c", heat.entry_c, row["value"], row["source_id"], True)


def _job(build, heat, tip):
    job = job_row(build.want.job) if build.want.job else None
    if job is None:
        return
    if np.isfinite(heat.work_c):
        yield WeakPlace(f"the {job['material']}", "work", "work_c", heat.work_c, job["never_c"], job["source_id"], True)
    elif tip:
        yield WeakPlace(f"the tip, for: {job['job']}", "tip", "tip_c", heat.tip_c, job["never_c"], job["source_id"])


def _metals(build, heat):
    """Metals at the beginning of melting; parts without a place or a material."""
    for part in build.part:
        word, placed = f"the {part.id}", part.id in heat.part_ids
        if part.role == "work":
            continue
        if not placed or part.material is None:
            if part.role != "handle" or not placed:
                yield WeakPlace(word, PART + part.id, f"hottest.{part.id}", np.nan, None, "")
            continue
        if solid_key(part.material)[0] == "metals":
            row = metal_value(part.material, "melting_low_c")
            limit = (None, "") if row is None else (row.low, row.source_id)
            yield WeakPlace(f"{word}, melting", PART + part.id, f"hottest.{part.id}", heat.hottest(part.id), *limit)


def _solids(build, heat):
    for id, material, hottest_c in solid_parts(build, heat):
        limit = solid_limit(material)
        limit = (None, "") if limit is None else limit[:2]
        yield WeakPlace(f"the {id}", PART + id, f"hottest.{id}", hottest_c, *limit, _burns(material))


def _insulation(build, wire, coil, heat):
    part = work_insulation(build, None, wire, coil, heat)
    if part is None:
        return
    for layer, hot_c in zip(part.layers, part.hot_c):
        if layer.rating is None and layer.strength == "metal":
            continue
        limit = (None, "") if layer.rating is None else (layer.rating.limit_c, layer.rating.source_id)
        word = f"the {layer.name.split(' (')[0]} between {layer.between[0]} and {layer.between[1]}"
        yield WeakPlace(word, "sheath", "wire_c", hot_c, *limit, _burns(solid(build.layer[layer.number].material)))
    if part.sleeve is not None:
        sleeve = part.sleeve
        yield WeakPlace(
            f"the {sleeve.name} on the tails", "sheath", "tails_c", part.tails_c, sleeve.limit_c, sleeve.source_id
        )


def _joint(build, heat):
    """The cable where it meets the tails, and the solder that joins them."""
    if not np.isfinite(heat.joint_c):
        return
    out = build.lead_out
    if out.joint == SOLDERED:
        row = lead_limit(out.solder or USUAL_SOLDER)
        yield WeakPlace("the solder at the cable", "joint", "joint_c", heat.joint_c, row["value"], row["source_id"])
    row = lead_limit(out.cable) if out.cable is not None else None
    limit = (None, "") if row is None else (row["value"], row["source_id"])
    topic, key = ("", "") if out.cable is None else solid_key(out.cable)
    burns = topic != "metals" and (not key or one("solids", "key", key)["family"] not in INERT)
    yield WeakPlace("the cable's insulation", "joint", "joint_c", heat.joint_c, *limit, burns)


def worst_of(places, doubts):
    """The place that comes nearest to its limit, or passes it by most.

    places: of WeakPlace. doubts: a Band or None for each.
    Returns (WeakPlace, Band or None): what is past its limit by its own value comes first, then the upper end counts,
    and one that nobody knows before all that are known.
    """

    def rank(pair):
        place, band = pair
        past = place.value_c > place.limit_c
        top = place.value_c if past else upper_end(place.value_c, band)
        return not past, (place.limit_c - top) / place.limit_c

    return min(zip(places, doubts), key=rank)


def upper_end(value_c, band):
    """The hottest that a place may be, degC: inf where its doubt is not known.

    value_c: degC. band: Band of it, or None where no samples were drawn.
    """
    if band is None:
        return value_c
    return band.high if np.isfinite(band.high) else np.inf


def own_bands(heat, drawn, build):
    """Bands of the places of a tool by its own doubt, what mains, room and draught bring taken off.

    heat, drawn: HeatPart of the build and of its samples, or None. build: Build of the samples.
    Returns dict: path -> Band, those behind AT_MAINS without the mains' part, behind ITSELF without the room's too;
    samples that cannot be worked out count as band_of has it.
    Method: least squares on a parabola in each of them; they are drawn apart from all other inputs.
    """
    if heat is None or drawn is None or heat.refused:
        return {}
    samples = {key: (getattr(heat, key), getattr(drawn, key)) for key in PLACES}
    none = (NAN,) * len(heat.part_ids)
    hottest = drawn.part_hottest_c if heat.part_ids == drawn.part_ids else none
    samples |= {f"{HOTTEST.removeprefix('heat.')}{i}": x for i, *x in zip(heat.part_ids, heat.part_hottest_c, hottest)}
    known = {k: x for k, x in samples.items() if np.isfinite(x[0]) and (np.ndim(x[1]) or np.isnan(x[1]))}
    many = np.column_stack(np.broadcast_arrays(*(drawn_c for _, drawn_c in known.values()))) if known else np.empty(0)
    if many.ndim < 2 or len(many) < 2:  # no sample differs from another, or none could be worked out
        unknown = {key: Band(float(x[0]), NAN, NAN) for key, x in known.items()}
        return {before + key: band for key, band in unknown.items() for before in (AT_MAINS, ITSELF)}
    bands, mains, room = {}, (build.supply.mains,), (build.room.ambient_c, build.room.air_speed_m_s)
    for before, inputs in ((AT_MAINS, mains), (ITSELF, mains + room)):
        left = _left(many, [x for x in inputs if np.ndim(x) and np.ptp(x) > 0])
        for (key, (nominal, _)), own in zip(known.items(), left.T):
            bands[before + key] = band_of(float(nominal), nominal + own)
    return bands


def _left(many, inputs):
    """What is left of samples (n, k) about their middles when the part of some inputs is taken off; nan for samples
    that could not be worked out, for all of a place where too few are left to tell."""
    columns = [np.ones(len(many))]
    for x in inputs:
        place = 2 * (x - x.min()) / np.ptp(x) - 1
        columns += [place, place**2]
    design, known = np.column_stack(columns), np.isfinite(many)
    left = np.full(many.shape, NAN)
    for good in np.unique(known, axis=1).T:  # mostly one: all samples
        alike = np.flatnonzero((known == good[:, None]).all(axis=0))
        if good.sum() > 2 * design.shape[1]:
            x, y = design[good], many[np.ix_(good, alike)]
            own = y - x @ np.linalg.lstsq(x, y, rcond=None)[0]
            left[np.ix_(good, alike)] = own - np.median(own, axis=0)
    return left
