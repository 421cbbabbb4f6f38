"""The sources at the end of a card: each once, however many limits stand on it, and none parted from its own doubt."""

import re

from ...basics.tables import rows
from ...studies.card.record import Card

WARNS = ("memory", "check", "judgement", "practice", "assume")  # what is no source and must be said
DOUBTS = ("from memory", "check ", "most are assumed")  # a part that only says so belongs to the one before it
PLACE = re.compile(r"\d|tab(le|ul)|clause|definition|sheet|memory|withheld|printed|quoted|seen|edition", re.I)
WITHHELD = (", brand withheld", ", brands withheld")
SAME = {  # said in other words elsewhere
    "common practice, no source": "common practice, no source",
    "common practice of the trade, no source": "common practice, no source",
    "common practice, no source (data/defaults.csv)": "common practice, no source",
    "from memory, not looked up": "from memory, not looked up",
}
SAME |= {"own judgement": (own := "our own judgement: nothing published says it, the pages call it assumed")}


def card_sources(card: Card) -> list[str]:
    """The sources of a card; what follows from the sheet by geometry or by Ohm's law alone has none.

    card: Card.
    Returns texts: standards, books and data first, then makers' tables together, then what has no source.
    """
    found = {}
    for source in card.sources:
        for part in _parts(source):
            base = part.partition(" (")[0].lower() if part.endswith(")") else part.lower()
            found[base] = max(found.get(base, ""), part, key=len)  # with its doubt, where a row has one
    own = list(dict.fromkeys(part for part in found.values() if part in SAME.values()))
    makers = [part for part in found.values() if any(w in part for w in WITHHELD)]
    told = [part for part in found.values() if part not in own and part not in makers]
    for word in WITHHELD:
        makers = [part.replace(word, "") for part in makers]
    told += [f"Of makers and of the trade, brands withheld: {'; '.join(makers)}"] if makers else []
    return told + own


def _parts(source):
    """The sources in a text that joins several by semicolons, as some have within them; a doubt stays with its own."""
    whole, parts, before = {r["reference"]: r["kind"] for r in rows("sources")}, [], ""
    pieces = [piece.strip() for piece in source.split(";")]
    while pieces:
        joined = ("; ".join(pieces[:k]) for k in range(len(pieces), 0, -1))
        part = next((text for text in joined if text in whole), pieces[0])
        pieces = pieces[part.count("; ") + 1 :]
        if part.startswith(DOUBTS) and part not in whole and before:
            parts[-1 if _is_source(before) else len(parts) :] = [f"{before} ({part})"]
        elif _is_source(part):
            part = own if part.startswith("Judgement of this project") else part
            part = _numbered(part) if whole.get(part) == "standard" else part
            parts.append(SAME.get(part.lower(), part))
        before = part
    return parts


def _numbered(standard):
    """A standard by its number, the place in it and how it was seen, without the title that follows its number."""
    number, *more = standard.split(", ")
    while more and not PLACE.search(more[0]):
        more = more[1:]
    return ", ".join([number, *more])


def _is_source(part):
    return bool(part) and (part[0].isupper() or any(c.isdigit() for c in part) or any(w in part for w in WARNS))
