"""Kinds of supply that are refused by name, with the reason."""

from ..basics.tables import rows


def _plain(words):
    return "".join(c for c in words.lower() if c.isalnum())


def _words(name):
    return {w.rstrip("s") for w in "".join(c if c.isalnum() else " " for c in name.lower()).split()}


def refused_kind(text):
    """The row that refuses a kind of supply, or None when the name is not on the list.

    text: what the user calls his supply; capitals, spaces, dashes and more words around a
    name of two words do not matter.
    Returns dict (kind, reason, do, source_id), or None; None is no blessing: voltage and soak still decide.
    Source: data/refused_kinds.csv.
    """
    own = _words(text)
    for row in rows("refused_kinds"):
        for word in (row["kind"], *(row["also"] or "").split(";")):
            if _plain(word) == _plain(text) or (len(_words(word)) > 1 and _words(word) <= own):
                return row
    return None
