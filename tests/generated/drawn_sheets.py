"""Sheets that nobody wrote, drawn by a seed from the keys that the dataclasses declare: a new key is tried too.

A drawn sheet begins from a demo, from the sheet that holds every key, or from a tool put together at random; then some
keys are given a valid value, the end of their range or nonsense, or are left out or doubled.
"""

import json
import math
import random
import re
import tomllib
from pathlib import Path

from every_key import MAXIMAL

from benchcalc.basics.quantity import _OFFSET_C, UNITS
from benchcalc.sheet.key import ASSUMED, TIMES
from benchcalc.sheet.schema import KEYS, LISTS, SECTIONS
from benchcalc.show.editor.search import offers

BUILDS = Path(__file__).parents[2] / "data" / "builds"
DEMOS = [tomllib.loads(path.read_text(encoding="utf-8")) for path in sorted(BUILDS.glob("*.toml"))]
NONSENSE = (
    "", " ", "0", "-1 mm", "0 mm", "1e308 mm", "20 degC +- 2 K", "5 mm +- 900 %", "nan", "inf", "1/0 in", "no such",
    "coil", "room", "tip", "<b>$x_2$</b>", "\u202e\u0000", "7" * 400, 0, -1, 10**30, 1e308, float("nan"), float("inf"),
    True, [], {}, [1, 2], ["a", "a"], {"id": "a"}, [{}],
)  # fmt: skip
WAYS = ("valid",) * 12 + ("edge",) * 4 + ("nonsense",) * 2 + ("missing",) * 4 + ("doubled",)


def _typed(key, rng, value):
    """A quantity as somebody may type it: with a unit of its dimension, a spread or a word of doubt now and then."""
    if key.whole:
        return int(min(max(math.ceil(value), math.ceil(key.low)), math.floor(key.high)))
    if key.kind in TIMES:
        return min(max(float(f"{value / TIMES[key.kind]:.7g}"), key.low / TIMES[key.kind]), key.high / TIMES[key.kind])
    if key.bare and rng.random() < 0.7 or key.kind == "count":
        return float(f"{value:.7g}")
    unit, factor = rng.choice(list(UNITS[key.dimension].items()))
    number = (value - (_OFFSET_C[unit] if key.dimension == "c" else 0)) / factor
    after = rng.choice(["", "", "", f" {ASSUMED}", " +- 1 %" if key.dimension not in ("c", "ratio") else " +- 2 K"])
    return f"{number:.12g} {unit}{after if key.dimension != 'ratio' else ''}".strip()


def _anywhere(key, rng, now=None):
    """A number in the range of a key: near what stands there, or anywhere, by the logarithm where the range is wide."""
    low, high = key.low, key.high
    if isinstance(now, (int, float)) and rng.random() < 0.6:
        return min(max(now * math.exp(rng.gauss(0, 0.3)), low), high)
    if low >= 0 and high > 100 * max(low, high * 1e-6) and rng.random() < 0.7:
        return math.exp(rng.uniform(math.log(max(low, high * 1e-5)), math.log(high)))
    return rng.uniform(low, high)


def ids_of(sheet, section):
    """The ids that a sheet gives to its wires or parts.  sheet: dict. section: its name."""
    things = sheet.get(section)
    return [t["id"] for t in things or () if isinstance(t, dict) and isinstance(t.get("id"), str)] or ["a"]


def value_for(key, rng, sheet, way="valid", now=None):
    """A value for a key, as TOML holds it.

    key: Key. rng: random.Random. sheet: dict, for ids. way: "valid", "edge" or "nonsense". now: SI float that stands
    there, or None.
    """
    if way == "nonsense":
        return rng.choice(NONSENSE)
    if key.is_quantity:
        if way == "edge":
            end = rng.choice([key.low, key.high])
            return _typed(key, random.Random(0), end) if key.bare or key.whole else _exact(key, end)
        return _typed(key, rng, _anywhere(key, rng, now))
    if key.kind == "flag":
        return rng.random() < 0.5
    if key.kind == "pair":
        return [
            rng.choice([*ids_of(sheet, "part"), *(["coil", "room"] if key.section == "layer" else [])]) for _ in "ab"
        ]
    if key.kind == "gauge":
        return f"{rng.randint(10, 40)} {rng.choice(['AWG', 'SWG'])}"
    for mark in ("wire", "part"):
        if mark in key.marks:
            return rng.choice(ids_of(sheet, mark))
    words = key.choices or [o.word for o in offers(key)]
    return rng.choice(words) if words else rng.choice(["a", "x y", "übermaß", "7", "insert_press_short.csv", "2", "A"])


def _exact(key, end):
    unit = next(u for u in UNITS[key.dimension])
    return f"{(end - (_OFFSET_C[unit] if key.dimension == 'c' else 0)) / UNITS[key.dimension][unit]!r} {unit}".strip()


def _holder(rng, sheet, section):
    """The table of a section in a sheet, made where it is not there; one of them where it may stand many times."""
    holder = sheet
    for name in section.split("."):
        path = section[: section.find(name) + len(name)]
        if path in LISTS:
            things = holder.get(name)
            things = things if isinstance(things, list) else holder.setdefault(name, [])
            if not isinstance(things, list):
                return {}
            if not things or rng.random() < 0.15:
                things.append({"id": f"new {len(things)}"} if "id" in KEYS[path] else {})
            holder = rng.choice(things)
        else:
            holder = holder.setdefault(name, {})
        if not isinstance(holder, dict):
            return {}
    return holder


def _places(sheet, path=""):
    """(section, holder, key name) of every key that stands in a sheet."""
    for name, value in sheet.items():
        inner = f"{path}.{name}".strip(".")
        for one in value if isinstance(value, list) and inner in SECTIONS else [value]:
            if inner in SECTIONS and isinstance(one, dict):
                yield from _places(one, inner)
            elif path in KEYS and name in KEYS[path]:
                yield path, sheet, name


def hurt(rng, sheet):
    """Alter one key of a sheet.  Returns what was done: (section, key, way)."""
    if rng.random() < 0.5:
        section, holder, name = rng.choice(list(_places(sheet)))
    else:
        section = rng.choice([s for s in SECTIONS if KEYS[s]])
        holder, name = _holder(rng, sheet, section), rng.choice(list(KEYS[section]))
    way, key = rng.choice(WAYS), KEYS[section][name]
    if way == "missing":
        holder.pop(name, None)
    elif way == "doubled":
        things = sheet.get(section)
        if isinstance(things, list) and things:
            things.insert(rng.randrange(len(things) + 1), json.loads(json.dumps(rng.choice(things))))
        else:
            holder[f"{name}\n"] = holder.get(name, 1)  # written twice below
    else:
        holder[name] = value_for(key, rng, sheet, way, _si(key, holder.get(name)))
    return section, name, way


def _si(key, typed):
    """The SI number that stands at a key, or None."""
    found = re.match(r"\s*(-?[\d.]+)\s*(\S*)", str(typed)) if key.is_quantity else None
    if found is None or not re.fullmatch(r"-?\d+\.?\d*", found[1]):
        return None
    return float(found[1]) * UNITS[key.dimension].get(found[2], 1)


def _drawn_tool(rng):
    """A tool put together at random: parts in a row, a coil on one of them, a supply with a falling line."""
    ends = sorted(rng.sample(range(1, 300), rng.randint(2, 5)))
    spans = [(a, b) for a, b in zip([0, *ends], ends)]
    parts, roles = [], ["tip", "stem", "tube", "handle", "collar", "cup", "work", "frame"]
    for i, (a, b) in enumerate(spans):
        parts.append({"id": f"p{i}", "role": rng.choice([roles[min(i, 7)], rng.choice(roles)]), "from": f"{a} mm"})
        parts[-1] |= {"to": f"{b} mm", "outer": f"{rng.randint(3, 30)} mm"}
    sheet = {"sheet": {"name": "drawn"}, "part": parts, "wire": [{"id": "w"}], "coil": {"wire": "w", "on": "p1"}}
    open_v, source = rng.uniform(3, 60), math.exp(rng.uniform(-3, 2))
    amps = sorted(rng.uniform(0, 3) for _ in range(rng.randint(1, 3)))
    reading = [{"volts": round(open_v - source * a, 3), "amps": round(a, 3)} for a in amps if open_v > source * a]
    sheet["supply"] = {"kind": rng.choice(KEYS["supply"]["kind"].choices), "reading": reading}
    if len(parts) > 1:
        sheet["joint"] = [{"between": [p["id"], q["id"]]} for p, q in zip(parts, parts[1:])]
    for part in parts:
        for name in ("material", "finish"):
            part[name] = value_for(KEYS["part"][name], rng, sheet)
        if rng.random() < 0.4:
            part["inner"] = f"{int(part['outer'].split()[0]) * rng.uniform(0.2, 0.95):.2f} mm"
    for section, one in [
        ("wire", sheet["wire"][0]),
        ("coil", sheet["coil"]),
        *(("joint", j) for j in sheet.get("joint", ())),
    ]:
        for name in {"wire": ("alloy", "diameter"), "coil": ("length", "mounting"), "joint": ("made",)}[section]:
            one[name] = value_for(KEYS[section][name], rng, sheet)
    if rng.random() < 0.8:
        sheet["wire"][0]["diameter"] = f"{rng.uniform(0.1, 1):.2f} mm"
        sheet["coil"]["length"] = f"{math.exp(rng.uniform(4, 8)):.0f} mm"
    return sheet


def drawn_sheet(seed):
    """(text of a sheet, what was done to it) by a seed."""
    rng = random.Random(seed)
    kind = seed % 8
    if kind < 5:
        sheet = json.loads(json.dumps(DEMOS[kind % len(DEMOS)]))
    elif kind == 5:
        sheet = tomllib.loads(MAXIMAL)
    else:
        sheet = _drawn_tool(rng)
    done = [hurt(rng, sheet) for _ in range(rng.choice([1, 1, 2, 3, 5, 9]))]
    return written(sheet), done


def written(sheet):
    """The TOML of a sheet.  sheet: dict; a key that ends in a line break is written twice."""
    lines = []
    for name, value in sheet.items():
        _write(lines, name, value)
    return "\n".join(lines) + "\n"


def _write(lines, path, value):
    if isinstance(value, dict) and path in SECTIONS:
        lines += ["", f"[[{path}]]" if path in LISTS else f"[{path}]"]
        rows = [(k, v) for k, v in value.items() if f"{path}.{k}" not in SECTIONS or not _is_section(v)]
        for key, one in rows:
            lines += [f"{key.strip()} = {_toml(one)}"] * (2 if key.endswith("\n") else 1)
        for key, one in value.items():
            if f"{path}.{key}" in SECTIONS and _is_section(one):
                _write(lines, f"{path}.{key}", one)
    elif isinstance(value, list) and path in LISTS and _is_section(value):
        for one in value:
            _write(lines, path, one)
    else:
        lines.insert(0, f"{path} = {_toml(value)}")


def _is_section(value):
    return isinstance(value, dict) or isinstance(value, list) and value and all(isinstance(v, dict) for v in value)


def _toml(value):
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(k)} = {_toml(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_toml(v) for v in value) + "]"
    if isinstance(value, float) and not math.isfinite(value):
        return "nan" if math.isnan(value) else "inf"
    return json.dumps(value) if not isinstance(value, float) else repr(value)
