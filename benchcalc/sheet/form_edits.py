"""What somebody types into a form goes into the sheet: readings and fields, comments kept, all checked."""

from pathlib import Path

from ..basics.fault import fault
from .load import load, read
from .save import _set
from .schema import form_unit, key_of
from .store import alter


def with_typed(text, readings=None, fields=None):
    """A sheet's text with readings and fields as somebody typed them into a form.

    text: TOML of the sheet. readings: rows (volts, amps, instrument, place) of texts, which replace all
    readings of the supply, or None to leave them; rows with both cells blank are left out. place:
    index of the reading that the row stands for (its comments and minutes stay), None for a new one.
    fields: dict of field path -> typed text; blank removes the field.
    Returns TOML with comments kept.  The values are not checked here: `read` does that.
    Raises Fault for a text that is no TOML.
    """
    import tomlkit

    try:
        document = tomlkit.parse(text)
    except tomlkit.exceptions.ParseError as error:
        raise fault(
            "sheet",
            "",
            f"cannot be read ({error}); nothing was written.",
            do="Mend the file first; an earlier version may stand beside it, ending .previous.",
        ) from None
    if readings is not None:
        _set_readings(document, [r for r in readings if r[0].strip() or r[1].strip()])
    for field, typed in (fields or {}).items():
        _set(document, field, _number_or_text(typed, form_unit(key_of(field))))
    return tomlkit.dumps(document)


def keep_readings(path, readings, fields=None):
    """Write typed readings and fields into a sheet; comments stay, a bad sheet is refused.

    path: the sheet's file. readings, fields: as `with_typed`.
    Returns the Build read back.  The version before stays beside it, ending .previous.
    Raises Fault, listing all that is wrong; the file is then untouched.
    """
    path = Path(path)

    def made(before):
        after = with_typed(before, readings, fields)
        read(after, where=path.name)
        return after

    alter(path, made)
    return load(path)


def _set_readings(document, readings):
    import tomlkit

    if "supply" not in document:
        document["supply"] = tomlkit.table()
    kept = document["supply"].get("reading")
    if kept is None:
        kept = document["supply"]["reading"] = tomlkit.aot()
    stay = [place for *_, place in readings if place is not None]
    for i in reversed(range(len(kept))):
        if i not in stay:
            del kept[i]
    for i, (volts, amps, instrument, place) in enumerate(sorted(readings, key=lambda r: (r[3] is None, r[3] or 0))):
        if place is None:
            kept.append(tomlkit.table())
        for key, value in (
            ("volts", _number_or_text(volts, "V")),
            ("amps", _number_or_text(amps, "A")),
            ("with", instrument or None),
        ):
            if value is None:
                kept[i].pop(key, None)
            elif kept[i].get(key) != value:
                kept[i][key] = value


def _number_or_text(typed, unit):
    """What was typed, as a sheet holds it: a plain number, a text with its unit, None for blank."""
    typed = typed.strip()
    if not typed:
        return None
    try:
        number = float(typed)
    except ValueError:
        return typed if any(c.isalpha() for c in typed) else f"{typed} {unit}".strip()
    return number if unit in ("V", "A") else f"{typed} {unit}".strip()
