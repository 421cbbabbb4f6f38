"""Errors a maker can act on: where, what was written, what is allowed, why, what to do."""

from dataclasses import dataclass
from difflib import get_close_matches


@dataclass(frozen=True)
class Complaint:
    """One thing that is wrong: place, the user's own text, what is needed, likely cause, remedy.

    >>> str(Complaint("coil.length", "-5 mm", "must be above zero.", do="Mend it.", line=7))
    "line 7, coil.length: '-5 mm' must be above zero. Mend it."
    """

    where: str
    text: str = ""
    need: str = ""
    cause: str = ""
    do: str = ""
    line: int | None = None

    def __str__(self):
        said = f"{self.where}: " if self.where else ""
        if self.line:
            said = f"line {self.line}, {said}"
        if self.text:
            said += f"{self.text!r} "
        said += self.need
        for extra in (self.cause, self.do):
            if extra:
                said += f" {extra}"
        return said.strip()


class Fault(ValueError):
    """One or more complaints, told together.

    `complaints` is the tuple of Complaint; str() lists them all, one a line.

    >>> try:
    ...     raise Fault(Complaint("coil.length", "-5 mm", "must be above zero."))
    ... except ValueError as told:
    ...     print(told)
    coil.length: '-5 mm' must be above zero.
    """

    def __init__(self, *complaints):
        self.complaints = complaints
        super().__init__(self._told())

    def _told(self):
        if len(self.complaints) == 1:
            return str(self.complaints[0])
        return "\n".join(
            [f"{len(self.complaints)} things to mend:"] + [f"  {n}. {c}" for n, c in enumerate(self.complaints, 1)]
        )


def fault(where, text="", need="", cause="", do="", line=None):
    """Make a Fault with a single complaint.

    where, text, need, cause, do: plain sentences or fragments, joined in this order.
    line: line number in the user's file, or None.
    Returns the Fault; the caller raises it.
    """
    return Fault(Complaint(where, "" if text is None else str(text), need, cause, do, line))


def closest(name, known):
    """The known names most like `name`, as words for a message; picks none.

    name: what the user wrote. known: iterable of allowed names.
    Returns e.g. "Closest: nicr-80-20, nicr-60-15." or "Known: a, b." when nothing is near.
    """
    known = list(known)
    if not known:
        return "There is none here."
    by_low = {k.lower(): k for k in known}
    near = [by_low[n] for n in get_close_matches(str(name).lower(), by_low, n=3, cutoff=0.5)]
    if near:
        return "Closest: " + ", ".join(near) + "."
    listed = ", ".join(known[:20]) + (", ..." if len(known) > 20 else "")
    return f"Known: {listed}."
