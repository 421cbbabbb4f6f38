"""Checks of what pages keep in a sheet as a whole: what was learned, readings of the build card."""

from .learned_together import rows_of

DROP = "Drop what was learned on page 06, or write the lines as page 06 wrote them."


def check_learned(entries, complain):
    """An entry needs its input and its three numbers in order; how they go together must be possible.

    entries: of Learned. complain: as cross_check.
    """
    for i, entry in enumerate(entries):
        for name in ("input", "log", "of", "value", "low", "high"):
            if getattr(entry, name) is None:
                complain("learned", i, name, "", "is missing: page 06 writes it.", do=DROP)
        if entry.input in [other.input for other in entries[:i]]:
            complain("learned", i, "input", entry.input, "stands twice.", do=DROP)
        if None in (entry.low, entry.value, entry.high):
            continue
        if not entry.low <= entry.value <= entry.high or entry.low == entry.high:
            complain("learned", i, "value", f"{entry.value:g}", "does not lie between low and high.", do=DROP)
    try:
        rows_of(entries)
    except ValueError as error:
        number, _, need = str(error).partition(": ")
        complain("learned", int(number) - 1, "goes_with", entries[int(number) - 1].goes_with or "", need, do=DROP)


def check_card(readings, complain):
    """A reading of the card needs its row and what was read; what was expected stands whole or not at all.

    readings: of CardReading. complain: as cross_check.
    """
    for i, r in enumerate(readings):
        for name in ("row", "read"):
            if getattr(r, name) is None:
                complain("as_built.reading", i, name, "", "is missing: page 10 writes it.")
        told = (r.low, r.expected, r.high)
        if any(x is None for x in told) != all(x is None for x in told) or (
            None not in told and not r.low <= r.expected <= r.high
        ):
            complain("as_built.reading", i, "expected", "", "needs its low and high ends, in this order.")
        if r.row in [other.row for other in readings[:i]]:
            complain("as_built.reading", i, "row", r.row, "stands twice.", "", "Keep the one that counts.")
