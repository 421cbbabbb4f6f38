"""What readings on the finished tool taught of its inputs, as a sheet keeps it."""

from dataclasses import dataclass
from typing import Any

from .key import key

FURTHEST = 1e6  # no value of an input is larger


@dataclass(frozen=True)
class Learned:
    """One input that readings taught.

    path: the field that holds it, "" where it is not used, and why: a sentence on that. was, was_known: the field and
    what was known of it before.
    """

    input: str | None = key("input", "what was learned, such as joint tip - stem", "text")
    log: str | None = key("log", "readings that it was learned from", "text")
    of: str | None = key("of", "what the sheet said there then; it was learned of that alone", "text")
    value: float | None = key("value", "its value, SI, or times that of the table", "count", -FURTHEST, FURTHEST)
    low: float | None = key("low", "low end of it", "count", -FURTHEST, FURTHEST)
    high: float | None = key("high", "high end of it", "count", -FURTHEST, FURTHEST)
    that_day: bool = key("that_day", "belongs to that day (mains, room), not to the tool", "flag", default=False)
    goes_with: str | None = key("goes_with", "how it goes with each of those above it, -1 to 1", "text")
    path: str = ""
    why: str = ""
    was: Any = None
    was_known: Any = None
