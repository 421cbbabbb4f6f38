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
