"""A text in Markdown, as a page shows it."""

from dataclasses import dataclass


@dataclass(frozen=True, repr=False)
class Words:
    """Markdown for a page."""

    text: str

    def __repr__(self):
        return self.text

    def _repr_markdown_(self):
        return self.text


def caution_box(rows):
    """Cautions in a box.

    rows: of data/cautions.csv, in their order.
    Returns Words.
    """
    lines = [f"> - {r['sentence']} *Defer to: {r['defer_to']}.*" for r in rows]
    return Words("\n".join(["> **Caution**", ">", *lines]))
