"""What a form does to a sheet's text: fields set as they were typed, rows added, removed and moved; comments stay."""

import tomllib
from dataclasses import dataclass

from ..basics.fault import Fault, fault
from .key import ASSUMED
from .save import unreadable
from .schema import KEYS, LISTS, SECTIONS, form_unit
from .spellings import as_a_sheet_says
from .toml_blocks import blocks_of, group_of, put_back_together, swapped, with_new, without
from .values import quantity

YES, NO, PAIRED = "yes", "no", " | "


@dataclass(frozen=True)
class Edit:
    """One thing done in a form: what ("set", "add", "remove", "move"), section, number of the row, key, typed text.

    For "move" the text is the number of the row it changes places with. follows: whether the form did it after what
    was typed, so that one step back undoes both.
    """

    what: str
    section: str
    index: int | None = None
    key: str = ""
    text: str = ""
    follows: bool = False


def tables_of(text: str) -> dict:
    """What a sheet's text holds, section by section, whatever it is worth.

    text: TOML.
    Returns dict: section -> list of dicts (one for a section that stands once).  Raises Fault: no TOML.
    """
    try:
        data = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise unreadable("sheet", error) from None
    found = {}
    for section in SECTIONS:
        things = [data]
        for name in section.split("."):
            inner = [t.get(name) for t in things if isinstance(t, dict)]
            things = [one for t in inner if t is not None for one in (t if isinstance(t, list) else [t])]
        found[section] = [t for t in things if isinstance(t, dict)]
    return found


def as_shown(key, value) -> str:
    """A value of a sheet as a form shows it.  key: Key. value: as TOML holds it, None where it is silent."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return YES if value else NO
    if isinstance(value, (list, tuple)):
        return PAIRED.join(str(v) for v in value)
    if isinstance(value, str):
        return value
    unit = (
        {"minutes": "min", "hours": "h"}.get(key.kind) or form_unit(key) or {"s": "s", "h_per_year": "h"}.get(key.kind)
    )
    return f"{value:g} {unit}" if key.bare and unit and isinstance(value, (int, float)) else str(value)


def typed_value(key, text):
    """What was typed, as a sheet holds it.

    key: Key. text: as typed.
    Returns a number where the key takes a plain one, a flag, a list of two ids, a text; None for blank.
    """
    text = " ".join(text.split())
    if not text:
        return None
    if key.is_quantity:
        text = spelt(key, text)
    if key.kind == "flag":
        return {YES: True, "true": True, NO: False, "false": False}.get(text.lower(), text)
    if key.kind == "pair":
        return [t.strip() for t in text.split("|" if "|" in text else ",")]
    if key.is_quantity and (key.bare or key.kind in ("count", "ratio")):
        try:
            number = float(text)
        except ValueError:
            return text
        if abs(number) < 1e15:  # no plain number of a sheet is larger: told as typed
            return int(number) if number == int(number) and key.kind == "count" else number
    return text


def told_apart(text: str) -> tuple:
    """A typed quantity as (quantity, how it is known): how is an instrument, "assumed" or "".  text: as typed."""
    body, found, how = text.rpartition(" with ")
    if found:
        return body.strip(), how.strip()
    if text.strip().endswith(" " + ASSUMED):
        return text.strip().removesuffix(ASSUMED).strip(), ASSUMED
    return text, ""


def spelt(key, text: str) -> str:
    """A typed quantity in a sheet's spelling, where the sheet would not take it as it stands.

    key: Key of a quantity. text: as typed, how it is known included.
    """
    body, how = told_apart(text)
    try:
        float(body)
        return text
    except ValueError:
        pass
    try:
        quantity(key, body)
        return text
    except Fault:
        anew = as_a_sheet_says(key.dimension, body)
    try:
        quantity(key, anew)
    except Fault:
        return text
    return put_together(*(told_apart(anew) if not how else (anew, how)))


def with_its_unit(key, text: str) -> str:
    """A plain number as it is read, with the unit that its field takes it in; another text as it is.

    key: Key of a quantity. text: as typed, how it is known included.
    """
    body, how = told_apart(text)
    try:
        number = float(body)
    except ValueError:
        return text
    return put_together(as_shown(key, number), how) if key.bare and key.kind != "count" else text


def put_together(body: str, how: str) -> str:
    """The reverse of `told_apart`.  body: quantity as typed. how: instrument, "assumed" or ""."""
    if not how or not body.strip():
        return body.strip()
    return f"{body.strip()} {ASSUMED}" if how == ASSUMED else f"{body.strip()} with {how}"


def edited(text: str, edits) -> str:
    """A sheet's text after some edits.

    text: TOML. edits: of Edit, in order.
    Returns TOML; comments and order stay.  Values are not checked here.  Raises Fault: no TOML, or a row that is
    not there.
    """
    for edit in edits:
        text = _ACTS[edit.what](text, edit)
    return text


def _blocks(text, section, index):
    """The blocks of a text and the place of one table among them, None where it stands inside another table."""
    blocks = blocks_of(text)
    return blocks, group_of(blocks, section, index or 0)


def _rows(text, edit):
    rows = tables_of(text)[edit.section]
    if edit.index is not None and edit.index >= len(rows):
        raise fault(f"{edit.section} {edit.index + 1}", "", "is not on the sheet any more.")
    return rows


def _add(text, edit):
    if _rows(text, edit) and not any(b.section == edit.section for b in blocks_of(text)):
        import tomlkit

        document = tomlkit.parse(text)
        _reach(document, edit.section, None).append(tomlkit.inline_table())
        return tomlkit.dumps(document)
    return put_back_together(with_new(blocks_of(text), edit.section, edit.section in LISTS, SECTIONS))


def _remove(text, edit):
    _rows(text, edit)
    blocks, found = _blocks(text, edit.section, edit.index)
    if found is not None:
        return put_back_together(without(blocks, edit.section, edit.index or 0))
    import tomlkit

    document = tomlkit.parse(text)
    del _reach(document, edit.section, None)[edit.index]
    return tomlkit.dumps(document)


def _move(text, edit):
    first, second = sorted((edit.index, int(edit.text)))
    if len(_rows(text, edit)) <= second or first < 0:
        raise fault(f"{edit.section} {edit.index + 1}", "", "has no row there to change places with.")
    blocks, found = _blocks(text, edit.section, first)
    if found is not None:
        return put_back_together(swapped(blocks, edit.section, first, second))
    import tomlkit

    document = tomlkit.parse(text)
    rows = _reach(document, edit.section, None)
    one, two = dict(rows[first]), dict(rows[second])
    for row, new in ((rows[first], two), (rows[second], one)):
        for key in list(row):
            del row[key]
        row.update(new)
    return tomlkit.dumps(document)


def _reach(document, section, index):
    """A table, or with index None a list of tables, in a parsed document."""
    holder = document
    for name in section.split("."):
        holder = holder[name]
    return holder if index is None or isinstance(holder, dict) else holder[index]


def _set(text, edit):
    """One key of one table, set as it was typed; other sizes of a wire go, and who named the thing follows."""
    rows, value = _rows(text, edit), typed_value(KEYS[edit.section][edit.key], edit.text)
    many = edit.section in LISTS
    blocks, found = _blocks(text, edit.section, edit.index)
    if found is None and not rows:
        if value is None:
            return text
        blocks = with_new(blocks, edit.section, many, SECTIONS)
        found = group_of(blocks, edit.section, edit.index or 0)
    old = rows[edit.index or 0].get(edit.key) if rows else None
    if found is None:
        text = _set_in(text, edit, value)
    else:
        block = blocks[found[0]]
        body = block.text.rstrip("\n")
        tail = block.text[len(body) :] or "\n"
        as_one = Edit("set", edit.section, 0 if many else None, edit.key)
        blocks[found[0]] = type(block)(
            block.section, block.index, _set_in(body + "\n", as_one, value).rstrip("\n") + tail
        )
        text = put_back_together(blocks)
    if edit.key == "id" and isinstance(old, str) and isinstance(value, str) and old != value:
        text = _renamed(text, edit, old, value)
    return text


def _set_in(text, edit, value):
    import tomlkit

    try:
        document = tomlkit.parse(text)
    except tomlkit.exceptions.ParseError as error:
        raise unreadable("sheet", error) from None
    holder = _reach(document, edit.section, edit.index)
    if value is None:
        holder.pop(edit.key, None)
    elif holder.get(edit.key) != value or type(holder.get(edit.key)) is not type(value):
        holder[edit.key] = value
    return tomlkit.dumps(document)


def names_a(spec, section: str) -> bool:
    """Whether a key names a thing of a section by its id.  spec: Key. section: wire or part."""
    return section in spec.marks or (spec.kind == "pair" and section == "part")


def _renamed(text, edit, old, new):
    """Whoever named a thing by its old id names it by the new one, unless another still bears the old."""
    if any(row.get("id") == old for row in tables_of(text)[edit.section]):
        return text
    naming = [(s, k) for s in SECTIONS for k, spec in KEYS[s].items() if names_a(spec, edit.section)]
    for section, key in naming:
        for i, row in enumerate(tables_of(text)[section]):
            said = row.get(key)
            index = i if section in LISTS else None
            if said == old:
                text = _set(text, Edit("set", section, index, key, new))
            elif isinstance(said, list) and old in said:
                names = PAIRED.join(new if n == old else str(n) for n in said)
                text = _set(text, Edit("set", section, index, key, names))
    return text


_ACTS = {"set": _set, "add": _add, "remove": _remove, "move": _move}
