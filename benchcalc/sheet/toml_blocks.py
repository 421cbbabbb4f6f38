"""The tables of a TOML text as blocks of lines, each with the comments right above it, so that they move together."""

import re
from dataclasses import dataclass, replace

_HEADER = re.compile(r"^\s*(\[\[?)\s*([A-Za-z0-9_\-]+(?:\s*\.\s*[A-Za-z0-9_\-]+)*)\s*\]\]?\s*(?:#.*)?$")


@dataclass(frozen=True)
class Block:
    """A table's lines: section, its number among those of that name, text; "" is what stands before the first.

    >>> blocks_of('[room]\\nambient = "20 degC"\\n')[1].section
    'room'
    """

    section: str
    index: int
    text: str


def blocks_of(text: str) -> list:
    """A TOML text as blocks that put together again give the same text.

    text: TOML.
    Returns list of Block; the first is what stands before the first table.
    """
    lines, starts, inside = text.splitlines(keepends=True), [], ""
    for i, line in enumerate(lines):
        for quotes in ('"""', "'''"):
            if inside in ("", quotes) and line.count(quotes) % 2:
                inside = "" if inside else quotes
        if not inside and (found := _HEADER.match(line)):
            first = i
            while first and lines[first - 1].lstrip().startswith("#"):
                first -= 1
            floor = starts[-1][3] + 1 if starts else 0  # comments below a header belong to its own table
            starts.append((max(first, floor), "".join(found[2].split()), found[1], i))
    if starts and starts[0][0] == 0 and lines[0].lstrip().startswith("#"):
        starts[0] = (starts[0][3], *starts[0][1:])  # the first words of a file are about all of it
    ends = [s[0] for s in starts[1:]] + [len(lines)]
    made, count = [Block("", 0, "".join(lines[: starts[0][0] if starts else len(lines)]))], {}
    for (first, section, _, _), end in zip(starts, ends):
        count[section] = count.get(section, -1) + 1
        made.append(Block(section, count[section], "".join(lines[first:end])))
    return made


def put_back_together(blocks) -> str:
    """The text of blocks, each beginning on a line of its own.  blocks: of `blocks_of`, in order."""
    text = ""
    for block in blocks:
        text += ("\n" if text and not text.endswith("\n") and block.text else "") + block.text
    return text


def group_of(blocks, section, index) -> tuple:
    """Where one of many tables stands, with the tables inside it.

    blocks: list of Block. section, index: which one.
    Returns (first, end) for a slice of blocks, or None where it is no block of its own.
    """
    at = next((i for i, b in enumerate(blocks) if (b.section, b.index) == (section, index)), None)
    if at is None:
        return None
    end = at + 1
    while end < len(blocks) and blocks[end].section.startswith(section + "."):
        end += 1
    return at, end


def without(blocks, section, index) -> list:
    """The blocks without one of many tables.  blocks, section, index: as `group_of`."""
    first, end = group_of(blocks, section, index)
    return blocks[:first] + blocks[end:]


def swapped(blocks, section, index, other) -> list:
    """The blocks with two tables of one section in each other's place.

    blocks, section: as `group_of`. index, other: the two, the first one before the other.
    """
    (a, a_end), (c, c_end) = (group_of(blocks, section, i) for i in (index, other))
    one, two = blocks[a:a_end], blocks[c:c_end]
    parted = lambda group: [*group[:-1], replace(group[-1], text=group[-1].text.rstrip("\n") + "\n\n")]  # noqa: E731
    return blocks[:a] + parted(two) + blocks[a_end:c] + parted(one) + blocks[c_end:]


def with_new(blocks, section, many, order) -> list:
    """The blocks with a new, empty table after the others of its name, or where the order of sections puts it.

    blocks: list of Block. section: its name. many: whether it may stand many times. order: names of all sections.
    """
    same = [b for b in blocks if b.section == section]
    new = Block(section, len(same), f"[[{section}]]\n" if many else f"[{section}]\n")
    rank = {name: i for i, name in enumerate(order)}
    place = 1 + max(
        (i for i, b in enumerate(blocks) if b.section == "" or rank.get(b.section, -1) <= rank.get(section, 1e9)),
        default=0,
    )
    if same:
        place = group_of(blocks, section, len(same) - 1)[1]
    before, after = list(blocks[:place]), blocks[place:]
    if any(b.text.strip() for b in before):
        before[-1] = replace(before[-1], text=before[-1].text.rstrip("\n") + "\n\n")
    if after:
        new = replace(new, text=new.text + "\n")
    return [*before, new, *after]
