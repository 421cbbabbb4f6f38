"""Names a maker may mean: every list of the tables, by family, searched by what is typed."""

from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache

from ...basics.tables import rows
from ...materials.insulation import insulation_keys
from ...sheet.key import ASSUMED

ROLES = (
    ("tip", "what touches the work: bit, point, nose"),
    ("stem", "rod behind the tip; the coil is wound on it"),
    ("tube", "pipe, sheath or shaft around the rod, into the handle"),
    ("handle", "grip, of wood or cork"),
    ("collar", "ring, sleeve or bush between two parts"),
    ("cup", "pot, tin, ladle or crucible: its wall"),
    ("disc", "bottom of a pot, plate"),
    ("work", "what is melted or held: wax, glue, solder"),
    ("frame", "bow or stand that carries no heat"),
    ("shroud", "guard, cover over the hot tube"),
    ("break", "heat break: a piece that keeps heat back"),
)
_UNSURE = ("unknown", "notknown", "dontknow", "idontknow", "noidea", "notsure", "unsure", "nobodyknows", "na", "none")
ATTACHED = ("pressed bead", "peened or embedded", "infrared, metal")


@dataclass(frozen=True)
class Offer:
    """A name that may be typed: word as the sheet takes it, family, other words a maker may use, a note.

    >>> Offer("beech", "wood").line
    'wood: beech'
    """

    word: str
    family: str = ""
    also: tuple = ()
    note: str = ""

    @property
    def line(self):
        """As a list shows it, by family."""
        return f"{self.family}: {self.word}" if self.family else self.word


def offers(key) -> tuple:
    """All that may be typed for a key that takes a name.

    key: Key of kind alloy, material, insulation, finish, joint, mounting or marker, or marked role, job, instrument
    or attached.
    Returns tuple of Offer, by family; empty where any text will do.
    """
    marked = next((m for m in key.marks if m in _LISTS), "")
    return _LISTS[marked or key.kind]() if (marked or key.kind) in _LISTS else ()


def _table(topic, key, name, also, family, only=None):
    return tuple(
        Offer(r[name], r.get(family) or family, _split(r[key], r.get(also)), r.get("note") or "")
        for r in rows(topic)
        if only is None or r[key] in only
    )


def _split(*texts):
    return tuple(w.strip() for t in texts for w in (t or "").split(";") if w.strip())


def _by_family(found):
    order = list(dict.fromkeys(o.family for o in found))
    return tuple(sorted(found, key=lambda o: order.index(o.family)))


@cache
def _materials():
    return _by_family(
        _table("metals", "key", "name", "also", "family") + _table("solids", "key", "name", "also", "family")
    )


@cache
def _insulations():
    return _by_family(_table("solids", "key", "name", "also", "family", insulation_keys()))


@cache
def _instruments():
    named = {r["key"]: _split(r["also"]) for r in reversed(rows("instruments"))}
    return tuple(Offer(k, "", also) for k, also in reversed(named.items()))


_LISTS = {
    "material": _materials,
    "insulation": _insulations,
    "alloy": lambda: _by_family(_table("alloys", "key", "name", "also", "family")),
    "finish": lambda: _table("finishes", "finish", "finish", "also", ""),
    "joint": lambda: _table("joints", "made", "made", "words", ""),
    "mounting": lambda: _table("surface_load", "mounting", "mounting", "words", ""),
    "marker": lambda: _by_family(_table("markers", "marker", "marker", "also", "kind")),
    "job": lambda: _by_family(
        tuple(Offer(r["job"], r["job"].split(",")[0], _split(r["words"], r["material"])) for r in rows("work"))
    ),
    "role": lambda: tuple(Offer(word, "", (also,)) for word, also in ROLES),
    "instrument": _instruments,
    "attached": lambda: tuple(Offer(word) for word in ATTACHED),
}


def plain(text):
    """Letters and digits of a text only, small.  text: any."""
    return "".join(c for c in str(text).lower() if c.isalnum())


def is_unsure(typed) -> bool:
    """Whether somebody says that he does not know.  typed: text.

    >>> is_unsure("not known"), is_unsure("known brass")
    (True, False)
    """
    return plain(typed) in _UNSURE or bool(typed.strip()) and not plain(typed)


def named(key, typed) -> str:
    """The word of the list that was typed, by any of its spellings; "" where it is none.  key: Key. typed: text."""
    wanted = plain(typed.strip().removesuffix(ASSUMED))
    for offer in offers(key):
        if wanted and wanted in (plain(offer.word), plain(offer.line), *map(plain, offer.also)):
            return offer.word
    return ""


def meant(key, typed, most=12) -> tuple:
    """What somebody may mean by what he typed: whole words first, then parts of words, families, near spellings.

    key: Key that takes a name. typed: text. most: how many at most.
    Returns tuple of Offer.
    """
    wanted = typed.strip().lower().removesuffix(ASSUMED).strip()
    if not wanted:
        return ()
    scored = []
    for place, offer in enumerate(offers(key)):
        texts = [t.lower() for t in (offer.word, *offer.also)]
        words = {w.strip(",.()") for t in texts for w in t.split()}
        if wanted in (t for t in texts):
            score = 0
        elif wanted in words:
            score = 1 if wanted in offer.word.lower().split(",")[0].split() else 2
        elif any(w.startswith(wanted) for w in words) or wanted in offer.family.lower():
            score = 3
        elif len(wanted) > 2 and any(wanted in t for t in texts):
            score = 4
        elif any(w in wanted.split() for w in words if len(w) > 2):
            score = 5
        elif any(w in offer.note.lower() for w in (wanted,) if len(w) > 3):
            score = 6
        elif get_close_matches(wanted, words, n=1, cutoff=0.75):
            score = 7
        else:
            continue
        scored.append((score, place, offer))
    if any(score < 6 for score, _, _ in scored):  # notes and near spellings only where nothing else is found
        scored = [s for s in scored if s[0] < 6]
    return tuple(offer for _, _, offer in sorted(scored, key=lambda s: s[:2])[:most])
