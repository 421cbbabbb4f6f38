"""Keep changes in a sheet: comments stay, the previous version stays, a bad change is refused."""

from pathlib import Path

from ..basics.fault import fault
from ..basics.names import display, shown
from .build import Build
from .key import TIMES
from .load import load, read
from .schema import LISTS, key_of
from .store import alter

_BARE = {"count", "ratio"}


def as_typed(path, value, build=None):
    """A field's value as the maker would type it.

    path: field path, e.g. "coil.length_m". value: SI float, text, flag or None.
    build: Build whose units and degrees are used (metric and C when None).
    Returns a text, number or flag for the sheet.
    """
    key = key_of(path)
    if key is None:
        raise fault(path, "", "is not a field that a sheet can hold.")
    if value is None or isinstance(value, (str, bool)):
        return value
    kind, number = key.kind, float(value)
    if kind in TIMES:
        return _round(number / TIMES[kind])
    if key.bare or kind in _BARE:
        whole = _round(number)
        return int(whole) if kind == "count" and whole == int(whole) else whole
    units, degrees = (build.units, build.degrees) if build else ("metric", "C")
    name = f"x_{kind}"
    unit, _ = display(name, units=units, degrees=degrees)
    typed = unit.partition(" (")[0]  # "degF (difference)" is typed as degF
    return f"{_round(float(shown(name, number, units=units, degrees=degrees))):.12g} {typed}"


def _round(number):
    return float(f"{number:.7g}")


def keep(path: str | Path, changes: dict, build: Build | None = None) -> Build:
    """Write changed fields into a sheet; all else, comments too, stays as it was.

    path: the sheet's file. changes: dict of field path -> SI value, text, flag, or None (removed).
    build: Build whose units are used for what is written.
    Returns the Build read back.  The previous version stays beside it, ending .previous.
    Raises Fault and leaves the file untouched: the changed sheet would not pass its checks, the
    file has become unreadable, or the folder cannot be written.

    >>> from benchcalc import copy_to_mine
    >>> keep(copy_to_mine("insert_press", "third_try"), {"room.ambient_c": 25.0}).room.ambient_c
    25.0
    """
    import tomlkit

    path = Path(path)

    def made(before):
        try:
            document = tomlkit.parse(before)
        except tomlkit.exceptions.ParseError as error:
            raise unreadable(path, error) from None
        for field, value in changes.items():
            _set(document, field, as_typed(field, value, build))
        after = tomlkit.dumps(document)
        read(after, where=path.name)
        return after

    alter(path, made)
    return load(path)


def unreadable(path, error):
    """The Fault about a sheet whose text is no TOML.  path: its file. error: what the reader of TOML says."""
    return fault(
        str(path),
        "",
        f"cannot be read ({error}); nothing was written.",
        do="Mend the file first; earlier versions stand in the folder .earlier beside it.",
    )


def _set(document, field, value):
    import tomlkit

    holder, names = document, field.split(".")
    names = ["sheet", *names] if len(names) == 1 else names
    for name in names[:-1]:
        if isinstance(holder, list):
            found = next((t for i, t in enumerate(holder) if t.get("id") == name or str(i) == name), None)
            if found is None:  # a thing that a page brought: it begins with its id
                found = tomlkit.table()
                found["id"] = name
                holder.append(found)
                found = holder[-1]
            holder = found
        else:
            if name not in holder:
                holder[name] = tomlkit.aot() if name in LISTS else tomlkit.table()
            holder = holder[name]
    key = key_of(field).key
    other = {"gauge": ("diameter", "width", "thickness"), "diameter": ("gauge", "width", "thickness")}
    for dropped in other.get(key, ()):  # one size of a wire only
        holder.pop(dropped, None)
    if value is None:
        holder.pop(key, None)
    else:
        holder[key] = value
