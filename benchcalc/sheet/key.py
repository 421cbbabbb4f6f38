"""How a field of a build declares the key of a sheet that it is typed under: all of it in one line.

    open_v: float | None = key("open", "no-load voltage", "v", 0.1, 1000)

Kinds: text, flag, pair (two ids), gauge, alloy, mounting, material, insulation, finish, joint, marker, a tuple of
the allowed words, minutes, hours, or the SI suffix of a quantity.  Marks behind a quantity: `bare` (a plain number
will do, since the key names the unit), `measured` (it was read off an instrument), `whole` (a whole number).
Marks behind text say what it names: `wire`, `part` (an id), `role`, `job`, `instrument`, `attached`.
"""

from dataclasses import dataclass, field

ASSUMED = "assumed"  # the last word of a value that is a guess
TIMES = {"minutes": 60, "hours": 3600}  # kinds of plain numbers that are held as seconds
NAMES = ("alloy", "gauge", "mounting", "material", "insulation", "finish", "joint", "marker")


@dataclass(frozen=True)
class Key:
    """A key of the sheet: what it is called there, word, kind, marks, allowed words, range in SI or None; its place."""

    key: str
    word: str
    kind: str
    marks: tuple = ()
    choices: tuple = ()
    low: float | None = None
    high: float | None = None
    section: str = ""
    field: str = ""

    @property
    def bare(self):
        """Whether a plain number will do, since the key names the unit."""
        return "bare" in self.marks or self.kind in TIMES

    @property
    def measured(self):
        """Whether it was read off an instrument, so that a bare number has that instrument's error."""
        return "measured" in self.marks

    @property
    def whole(self):
        """Whether only whole numbers will do."""
        return "whole" in self.marks

    @property
    def is_quantity(self):
        """Whether it takes a number."""
        return self.low is not None

    @property
    def dimension(self):
        """The SI suffix of a quantity: times are seconds however they are typed."""
        return "s" if self.kind in TIMES else self.kind

    @property
    def is_text(self):
        """Whether it takes a text: free, a name, or one of the allowed words."""
        return self.kind in ("text", "choice", *NAMES)


def key(toml, word, kind, low=None, high=None, default=None):
    """A dataclass field that is typed in a sheet.

    toml: what the key is called in a sheet. word: what it is, for lists and forms. kind: kind and marks, or the
    allowed words (see above). low, high: range of a quantity, SI. default: where the sheet says nothing.
    Returns the field.
    """
    choices = kind if isinstance(kind, tuple) else ()
    name, *marks = ("choice",) if choices else kind.split()
    ends = [None if end is None else float(end) for end in (low, high)]
    return field(default=default, metadata={"key": Key(toml, word, name, tuple(marks), choices, *ends)})


def section(of, default=None):
    """A dataclass field that is a section of the sheet, which stands once.  of: its dataclass. default: without it."""
    return field(default=default, metadata={"section": of})


def listed(of):
    """A dataclass field for a section of the sheet that may stand many times.  of: dataclass of one of them."""
    return field(default=(), metadata={"section": of, "listed": True})
