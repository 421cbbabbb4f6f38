"""What a panel begins with though no sheet says it."""

from dataclasses import dataclass


@dataclass
class Suggestion:
    """Fields that stand in a panel's build and not on its sheet.  paths: of the fields, which go to the sheet together.
    words: what they are, "" without any. advised: whether they are kept even where none of them was moved."""

    paths: tuple
    words: str = ""
    advised: bool = False

    def to_keep(self, moved):
        """The fields that are kept with what was moved.  moved: dict of path -> value.  Returns paths."""
        return self.paths if self.advised or moved.keys() & set(self.paths) else ()

    def kept(self, moved):
        """Forget them once they are on the sheet.  moved: what was kept."""
        if self.paths and moved.keys() >= set(self.paths):
            self.paths, self.words, self.advised = (), "", False
