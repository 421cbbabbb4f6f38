"""Alter one field of a build (`change`), or draw all its banded inputs (`sample`).

`change` is the one way to alter a field; `sample` is the one way to a band.
"""

import zlib
from dataclasses import fields, is_dataclass, replace
from types import MappingProxyType
from typing import Any

import numpy as np

from ..basics.band import apart, even, mixed, placed
from ..basics.fault import Fault, closest, fault
from ..basics.names import say
from .build import Build
from .cross_checks import wrong_pair
from .defaults import fill
from .learned_together import LEARNED, together
from .readings import FIELDS, whole_reading
from .schema import key_of
from .sizes import fitted
from .values import checked

NO_PART_OF_THE_TOOL = "other_supply.", "control.", "sensor."  # what no number that is drawn hangs on


def item(things: tuple, id: str, *, where: str = "id") -> Any:
    """The wire or part with an id.

    things: tuple of Wire or Part. id: its id. where: for messages.
    Raises Fault with the closest ids.
    """
    for thing in things:
        if thing.id == id:
            return thing
    raise fault(where, id, "is on no line of the sheet.", closest(id, [t.id for t in things]))


def _step(holder, name, path):
    if isinstance(holder, tuple):
        for i, thing in enumerate(holder):
            if name == str(i) or getattr(thing, "id", None) == name:
                return i
        raise fault(
            path,
            name,
            "is not on this sheet.",
            closest(name, [getattr(t, "id", "") or str(i) for i, t in enumerate(holder)]),
        )
    if not is_dataclass(holder) or name not in holder.__dataclass_fields__:
        known = [f.name for f in fields(holder)] if is_dataclass(holder) else []
        raise fault(path, name, "is not a field here.", closest(name, known))
    return name


def get(build: Build, path: str) -> Any:
    """The value of a field.

    build: Build. path: e.g. "coil.length_m", "wire.reel.diameter_m", "supply.reading.0.volts_v".
    Raises Fault for a path that is not there.

    >>> from benchcalc import load_chosen
    >>> get(load_chosen("insert_press"), "coil.on")
    'stem'
    """
    value = build
    for name in path.split("."):
        step = _step(value, name, path)
        value = value[step] if isinstance(step, int) else getattr(value, step)
    return value


def _put(holder, names, value, path):
    step = _step(holder, names[0], path)
    if isinstance(step, int):
        inner = value if len(names) == 1 else _put(holder[step], names[1:], value, path)
        return holder[:step] + (inner,) + holder[step + 1 :]
    inner = value if len(names) == 1 else _put(getattr(holder, step), names[1:], value, path)
    return replace(holder, **{step: inner})


def change(build: Build, path: str, x: float | np.ndarray | str | bool | tuple | None) -> Build:
    """The build with one field altered; everything else stays.

    build: Build. path: field, e.g. "coil.length_m". x: float in SI, a 1-D array of floats (many
    what-ifs side by side), a text for text fields, or None.
    Returns a new Build.  The altered field is taken as exact.  Another alloy or gauge is another
    wire: its tabulated values are looked up again and its measured ohms are dropped.
    Raises Fault: unknown path, an array in a text field, a text that its key does not allow (with the closest that
    it does), a number that is not finite, or far outside of the range of its key.

    >>> from benchcalc import load_chosen
    >>> longer = change(load_chosen("insert_press"), "coil.length_m", 0.8)
    >>> longer.coil.length_m
    0.8
    """
    names = _by_id(build, path)
    path = ".".join(names)
    spec = key_of(path)
    if x is not None:
        x = _within(path, spec, _number(path, x)) if spec is None or spec.is_quantity else _word(path, spec, x)
        for text, *said in wrong_pair(spec.section, x, build.part) if _is_pair(spec) else ():
            raise fault(path, text, *said)
    known = dict(build.known)
    known.pop(path, None)
    build = replace(_put(build, names, x, path), known=MappingProxyType(known))
    if names[:2] == ["supply", "reading"]:
        build = _read_again(build, names[:-1], names[-1])
    return _filled_again(build, names) if spec is not None and spec.is_text else build


def _is_pair(spec):
    return spec is not None and spec.kind == "pair"


def _read_again(build, place, field):
    """The build with the volts and amps of a reading worked out again from its watts or ohms."""
    if field not in FIELDS:
        return build
    known, path = dict(build.known), ".".join(place)
    whole = whole_reading(get(build, path), known, path)
    return replace(_put(build, place, whole, path), known=MappingProxyType(known))


def _number(path, x):
    """One finite number or a flat array of them; a flag that is no key of a sheet passes."""
    if isinstance(x, bool):
        return x
    try:
        x = np.asarray(x, dtype=float)
    except (TypeError, ValueError):
        raise fault(path, x, "takes one finite number or a flat array of them.") from None
    if x.ndim > 1 or not np.all(np.isfinite(x)):
        raise fault(path, "", "takes one finite number or a flat array of them.")
    return float(x) if x.ndim == 0 else x


def _within(path, spec, x):
    """A number that is no nonsense for its key; what no key of a sheet says has no range of its own.

    A study may look past the ends of a range, at a millimetre of wire or at twice the most watts: refused is what is
    not above 0 where the range is, and what lies ten times as far out as its end.
    """
    if spec is None or isinstance(x, bool):
        return x
    many = np.ravel(np.asarray(x))
    out = many[(many < 10 * min(spec.low, 0.0)) | (many > 10 * spec.high) | ((many <= 0) & (spec.low > 0))]
    if out.size:
        low, high, typed = (say(f"x_{spec.dimension}", float(end)) for end in (spec.low, spec.high, out[0]))
        raise fault(path, typed, f"is outside {low} to {high}.")
    return x


def _word(path, spec, x):
    """A text, pair or flag that the key allows."""
    if spec.is_text and not isinstance(x, str):
        raise fault(path, x, "takes a text, not numbers; alloys, joints and shapes are never arrays.")
    try:
        return checked(spec, x)
    except Fault as told:
        raise Fault(*(replace(c, where=path, text=c.text or str(x)) for c in told.complaints)) from None


def _by_id(build, path):
    """The names of a path, with places in lists told by id where the things have ids."""
    names, holder = [], build
    for name in path.split("."):
        step = _step(holder, name, path)
        holder = holder[step] if isinstance(step, int) else getattr(holder, step)
        names.append(getattr(holder, "id", "") or name if isinstance(step, int) else name)
    return names


def _filled_again(build, names):
    """The build with values that followed from the changed text looked up or assumed again."""
    known = dict(build.known)

    def forget(path, value):
        nonlocal build
        if path in known and known[path].how in ("assumed", "table", LEARNED):
            del known[path]
            build = _put(build, path.split("."), value, path)

    if names[0] == "wire" and names[-1] in ("alloy", "gauge"):
        path = ".".join(names[:2])
        for field in ("measured_ohm", "measured_length_m"):
            known.pop(f"{path}.{field}", None)
            build = _put(build, [*names[:2], field], None, path)
        for field in (
            ("resistivity_ohm_m", "hot_factor") if names[-1] == "alloy" else ("diameter_m", "width_m", "thickness_m")
        ):
            known.pop(f"{path}.{field}", None)
            build = _put(build, [*names[:2], field], None, path)
    if names[0] == "part" and names[-1] in ("material", "finish"):
        forget(f"part.{names[1]}.emissivity", None)
        forget(f"part.{names[1]}.conductivity_place", 0.0)
    if names[0] == "joint" and names[-1] == "made":
        forget(f"joint.{names[1]}.contact_scale", 1.0)
    if names[0] == "layer" and names[-1] == "material":
        forget(f"layer.{names[1]}.conductivity_scale", 1.0)
    if names == ["room", "attitude"]:
        forget("heat.rear_convection", None)
    if names == ["coil", "tails", "material"]:
        forget("coil.tails.section_m2", None)
    if names == ["coil", "mounting"]:
        forget("coil.wire_temp_c", None)
    if names == ["supply", "kind"]:
        build = _put(build, ["supply", "output"], None, "supply.output")
        for field in ("mains", "warming"):
            forget(f"supply.{field}", 1.0)
    return fill(replace(build, known=MappingProxyType(known)))


def sample(build: Build, n: int, seed: int = 1) -> Build:
    """The build with every banded input of the tool replaced by n samples.

    build: Build (no arrays in it yet). n: number of samples, 1 or more. seed: whole number.
    Returns Build with arrays (n,); what only holds the tool is not drawn, so that its numbers have the same bands held
    or not.  Typed +- and table ends are the ends of a uniform input (log-uniform where Known says so) with the build's
    own value in its middle; readings of one instrument share their gain error.

    >>> from benchcalc import load_chosen
    >>> sample(load_chosen("insert_press"), 50).room.ambient_c.shape
    (50,)
    """
    drawn_from = {p: k for p, k in build.known.items() if not p.startswith(NO_PART_OF_THE_TOOL)}
    paths = [p for p, k in sorted(drawn_from.items()) if k.low < k.high and get(build, p) is not None]
    groups = sorted({build.known[p].group for p in paths} - {""})
    columns = [*paths, *(f"group {g}" for g in groups)]
    if not columns:
        return build
    place = dict(zip(columns, apart(np.column_stack([even(n, _dice(c, seed)) for c in columns])).T))
    place |= together(build, place)
    many = build
    for path in paths:
        k = build.known[path]
        both = (place[f"group {k.group}"], k.share) if k.group else None
        drawn = placed(k.low, k.high, mixed(place[path], both), spread=k.spread, middle=get(build, path))
        many = replace(_put(many, path.split("."), drawn, path))
    return fitted(build, many)


def _dice(name, seed):
    """A generator of one input's own, so that its samples do not hang on what else is drawn."""
    return np.random.default_rng([seed, zlib.crc32(name.encode())])
