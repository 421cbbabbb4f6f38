"""Link 5 of the chain: the insulation, layer by layer.  No physics here, only the calls; an unknown value is nan."""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import Fault
from ...materials.ageing import life_by_halving, rule
from ...materials.bulk import solid
from ...materials.insulation import Rating, rating, strength, withstand
from ...sheet.build import Build
from ...sheet.change import item
from ...thermal.tool.stack import stack_faces
from ..heat.part import HeatPart
from ..parts import NAN, as_floats
from ..supply.link import SupplyPart, crest_factor
from ..wire.coil import CoilPart
from ..wire.link import WirePart


@dataclass(frozen=True)
class LayerPart:
    """One layer as it stands: number on the sheet, neighbours, rating (None: not an insulation in the tables).

    touches: it lies against the wire. inner_m: diameter at its inner face. withstand_v: by its breakdown field,
    strength_v_m, the low end; `strength` says whether hot, cold or not known.
    """

    number: int
    between: tuple
    name: str
    rating: Rating | None
    touches: bool
    thickness_m: float
    inner_m: float
    strength_v_m: float
    withstand_v: float
    strength: str


@dataclass(frozen=True)
class InsulationPart:
    """The stack of the sheet.  layers, hot_c, cold_c and life_s go together.

    hot_c: hottest place of each layer, degC; of the one against the wire it is the wire. cold_c: its cooler face,
    hottest place along the tool. life_s: of organic layers at hot_c, else nan. margin_k: the least that is left to a
    rating, the sleeve's counted. years: of the layer that ages first, nan where none does.
    peak_v: highest volts that a layer may meet. pairs, stack_m, space_m, pair_v: for each pair of neighbours thickness
    of all its layers, the space for them (nan where there is none), and the volts that they hold off.
    sleeve: rating of the tails' sleeve, None where the sheet names none; tails_c: hottest place of the tails behind the
    coil, degC; holds_from_m: place along the tool from which the sleeve stays within its rating, nan where nowhere.
    """

    layers: tuple
    hot_c: tuple
    cold_c: tuple
    life_s: tuple
    margin_k: float
    years: float
    peak_v: float
    pairs: tuple
    stack_m: tuple
    space_m: tuple
    pair_v: tuple
    sleeve: Rating | None = None
    tails_c: float = NAN
    holds_from_m: float = NAN


def work_insulation(
    build: Build, supply: SupplyPart | None, wire: WirePart | None, coil: CoilPart | None, heat: HeatPart | None
) -> InsulationPart | None:
    """Link 5: what each layer of insulation meets, and what it stands.

    build: Build. supply, wire, coil, heat: results of the links before.
    Returns InsulationPart, or None where the sheet names no layer and no sleeve.  Without temperatures they are nan.
    """
    named = [(i, y) for i, y in enumerate(build.layer) if y.material is not None and y.thickness_m is not None]
    sleeve = None if build.coil is None or build.coil.tails.sleeve is None else rating(build.coil.tails.sleeve)
    if not named and sleeve is None:
        return None
    layers = tuple(_layer(build, i, y, coil) for i, y in named)
    found = _faces(build, heat)
    wire_c = NAN if heat is None else heat.wire_c
    hot, cold, lives = [], [], []
    for layer in layers:
        a, c = found.get(layer.number, (NAN, NAN))
        cold.append(np.minimum(a, c))
        hot.append(wire_c if layer.touches else np.maximum(a, c))
        ages = layer.rating is not None and layer.rating.organic
        lives.append(life_at(build, layer.rating, hot[-1]) if ages else NAN)
    pairs = tuple(dict.fromkeys(y.between for y in layers))
    stack = tuple(sum(y.thickness_m for y in layers if y.between == p) for p in pairs)
    held = tuple(sum(y.withstand_v for y in layers if y.between == p) for p in pairs)
    space = tuple(space_between(build, coil, p) for p in pairs)
    peak = NAN if supply is None or supply.refused else supply.open_in_use_v * crest_factor(supply)
    tails_c, holds_from_m = _tails(heat, sleeve)
    aging = [x for x, y in zip(lives, layers) if y.rating is not None and y.rating.organic]
    if sleeve is not None and sleeve.organic:
        aging.append(life_at(build, sleeve, tails_c))
    years = NAN
    if build.use.hours_per_year is not None and aging:
        with np.errstate(invalid="ignore", divide="ignore"):
            years = np.fmin.reduce(np.broadcast_arrays(*aging)) / (3600 * build.use.hours_per_year)
    return as_floats(
        InsulationPart(
            layers,
            _plain(hot),
            _plain(cold),
            _plain(lives),
            _least(layers, hot, sleeve, tails_c),
            years,
            peak,
            pairs,
            _plain(stack),
            _plain(space),
            _plain(held),
            sleeve,
            tails_c,
            holds_from_m,
        )
    )


def _tails(heat, sleeve):
    """Hottest place of the tails, and the place from which a sleeve holds: (degC, m)."""
    if sleeve is None or heat is None or np.all(np.isnan(heat.tails_c)):
        return NAN, NAN
    if heat.groups:
        whole = np.full(np.shape(heat.tails_c), NAN)
        for numbers, some in heat.groups:
            whole[numbers] = _tails(some, sleeve)[1]
        return heat.tails_c, whole
    if heat.model is None or heat.model.tool.leads is None:
        return heat.tails_c, NAN
    places, temps = heat.model.along("leads", heat.temps_c)
    places, holds = np.broadcast_to(places, temps.shape), temps <= sleeve.limit_c
    last = temps.shape[-1] - 1 - np.argmax(~holds[..., ::-1], axis=-1)  # the last place that is too hot
    start = np.where(np.all(holds, axis=-1), 0, np.minimum(last + 1, temps.shape[-1] - 1))
    at = np.take_along_axis(places, start[..., None], axis=-1)[..., 0]
    return heat.tails_c, np.where(np.all(holds, axis=-1) | holds[..., -1], at, NAN)


def _least(layers, hot, sleeve, tails_c):
    """The least margin to a rating, K: of the layers, and of the sleeve where the tails leave the coil."""
    left = [y.rating.limit_c - h for y, h in zip(layers, hot) if y.rating is not None]
    left += [] if sleeve is None else [sleeve.limit_c - tails_c]
    return np.min(np.broadcast_arrays(*left), axis=0) if left else NAN


def _plain(values):
    return tuple(v if np.ndim(v) else float(v) for v in values)


def life_at(build, rated, temp_c):
    """Life of an organic layer by the halving rule.

    build: Build, for its halving interval. rated: Rating. temp_c: degC, float or array.
    Returns s.
    """
    halving_k = build.use.halving_k if build.use.halving_k is not None else rule("halving_k")[0]
    return life_by_halving(temp_c, rated.limit_c, halving_k, rule("index_life_s")[0])


def _layer(build, number, layer, coil):
    material = solid(layer.material)
    try:
        rated = rating(layer.material)
        found, word = strength(layer.material)
    except Fault:
        rated, found, word = None, None, "not known"
    first = next(i for i, y in enumerate(build.layer) if y.between == layer.between)
    last = max(i for i, y in enumerate(build.layer) if y.between == layer.between)
    touches = number == (last if layer.between[1] == "coil" else first) and "coil" in layer.between
    below = [y.thickness_m for y in build.layer[:number] if y.between == layer.between and y.thickness_m is not None]
    field, word = (0.0, "metal") if material.kind == "metal" else (NAN if found is None else found.low, word)
    return LayerPart(
        number,
        layer.between,
        material.name,
        rated,
        touches,
        layer.thickness_m,
        2 * sum(below) + _start(build, coil, layer.between[0]),
        field,
        withstand(layer.thickness_m, field),
        word,
    )


def _start(build, coil, inner):
    """Diameter on which the innermost layer of a pair lies."""
    if inner == "coil":
        return NAN if coil is None else coil.former_m + 2 * _wound(build)
    outer = item(build.part, inner).outer_m
    return NAN if outer is None else outer


def _wound(build):
    """Thickness of the winding, one side."""
    wire = item(build.wire, build.coil.wire)
    thick = wire.thickness_m if wire.width_m is not None else wire.diameter_m
    return NAN if thick is None else build.coil.layers * thick


def space_between(build, coil, pair):
    """Space for the layers between two neighbours, one side; nan where nothing bounds them.

    build: Build. coil: part of the chain. pair: (inner, outer) ids, "coil" or "room".
    Returns m.
    """
    inner, outer = pair
    if outer in ("coil", "room"):
        return NAN
    bore = item(build.part, outer).inner_m
    return NAN if bore is None else (bore - _start(build, coil, inner)) / 2


def _faces(build, heat):
    """Hottest value of both faces of each layer: number on the sheet -> (inner_c, outer_c)."""
    if heat is not None and heat.groups:
        return _faces_in_groups(build, heat)
    if heat is None or heat.model is None:
        return {}
    found = {}
    for between in heat.model.tool.between:
        if not between.layers:
            continue
        faces = stack_faces(heat.model, heat.temps_c, between)
        if faces is None:
            continue
        numbers = [
            i
            for i, y in enumerate(build.layer)
            if y.between == (between.inner, between.outer) and y.thickness_m is not None and y.material is not None
        ]
        tops = [t.max(axis=-1) for t in faces.temps_c]
        found |= {i: (tops[k], tops[k + 1]) for k, i in enumerate(numbers)}
    return found


def _faces_in_groups(build, heat):
    """The same of many designs that share no structure, nan for those that have none."""
    found = {}
    for numbers, some in heat.groups:
        for layer, faces in _faces(build, some).items():
            whole = found.setdefault(layer, tuple(np.full(np.shape(heat.wire_c), NAN) for _ in faces))
            for column, face in zip(whole, faces):
                column[numbers] = face
    return found
