"""First readings and chances in words: the ranked list, its first line, the chance that each limit is passed."""

from ...basics.escape import plain_text
from ...basics.names import say
from ...studies.doubt.ranked import chances
from ..editor.form_words import on_page
from ..page.lesson import Words
from ..page.table import as_difference, table

MOST = 8
LITTLE = 0.01  # doubts: a reading that takes less away is not worth the evening
HELPS = 0.97  # of a range: a reading that leaves more than this of it is no help there


def first_line(build, found, page=""):
    """The reading to take first, in one line.

    build: Build. found: MeasureFirst. page: name of the page with the whole list, to be linked.
    Returns Words.
    """
    if not found.readings:
        return Words("**Measure first:** nothing can be ranked for this sheet yet; fill in what it is said to lack.")
    r = found.readings[0]
    if r.answers:
        gain = f"{_answers(r)} no verdict can be given without it"
    elif not found.doubts:
        gain = "no verdict hangs on it, it only narrows the ranges"
    elif r.firms < LITTLE:
        return Words("**Measure first:** no reading that may be taken now would turn a verdict of this sheet.")
    else:
        best = max(zip(found.doubts, r.verdicts), key=lambda one: one[1][0])[0]
        gain = f"most for *{plain_text(best.what)}*, whose limit is passed with a chance of {best.chance:.0%}"
    more = f" The whole list: [{page}]({page}.ipynb)." if page else ""
    quick = max(found.readings, key=lambda r: r.firms / r.minutes)
    short = f" In a hurry: {quick.words}, {quick.minutes:.0f} minutes." if found.doubts and quick is not r else ""
    return Words(f"**Measure first:** {r.words}; {r.instrument}, {r.minutes:.0f} minutes; {gain}.{short}{more}")


def _answers(reading):
    """What a reading would answer that is not known at all, in words, the first two by name."""
    names = [f"*{plain_text(what)}*" for what, _ in reading.answers[:2]]
    more = len(reading.answers) - len(names)
    return "on " + " and ".join(names) + (f" and {more} more" if more > 0 else "")


def ranked(build, found, most=MOST):
    """The list, the reading that firms most first.

    build: Build. found: MeasureFirst. most: rows.
    Returns Table.
    """
    rows = []
    for r in found.readings[:most]:
        turns = "–"
        if r.answers:
            turns = f"{_answers(r)}: not known without it".replace("*", "")
        elif found.doubts and r.firms >= LITTLE:
            d, v = max(zip(found.doubts, r.verdicts), key=lambda one: one[1][0])
            turns = f"{d.what}: range to {v[1]:.0%}, settled in {v[2]:.0%} of cases"
        rows.append(
            (r.words, f"{r.instrument}\npower {r.power}", f"{r.minutes:.0f} min", r.area, f"{r.firms:.2f}", turns)
        )
    head = ("reading", "with", "time", "where", "doubt taken away", "firms most")
    return table(head, rows or [("none can be ranked yet", *("–" for _ in head[1:]))])


def limit_chances(build, workings, most=MOST):
    """The chance that each limit is passed, the most doubtful first.

    build: Build. workings: Workings with samples. most: rows.
    Returns Table.
    """
    way = {"units": build.units, "degrees": build.degrees}
    rows = []
    for d in chances(workings)[:most]:
        key = as_difference(d.key)
        ends = " to ".join(say(key, x, **way).replace(" (difference)", "") for x in (d.low, d.high))
        chance = "under 1 in 200" if d.chance == 0 else f"{d.chance:.0%}"
        rows.append((d.what + (" (advice only)" if d.advice else ""), chance, ends, f"{d.doubt:.2f}"))
    head = ("limit", "chance that it is passed", "margin, middle nine tenths", "doubt")
    return table(head, rows or [("none is judged by samples yet", "–", "–", "–")])


def after_reading(build, found, what):
    """What each reading would leave of one verdict's range.

    build: Build. found: MeasureFirst. what: of a Doubtful.
    Returns Table.
    """
    place = next((i for i, d in enumerate(found.doubts) if d.what == what), None)
    if place is None:
        return table(("reading",), [("No verdict is in doubt here.",)])
    d, way = found.doubts[place], {"units": build.units, "degrees": build.degrees}
    key = as_difference(d.key)

    def ends(low, high):
        return " to ".join(say(key, x, **way).replace(" (difference)", "") for x in (low, high))

    rows = [("as it is known today", ends(d.low, d.high), "100%", "–")]
    for r in helpful(found, place)[:MOST]:
        _, left, settled, low, high = r.verdicts[place]
        rows.append((r.words, ends(low, high), f"{left:.0%}", f"{settled:.0%}"))
    if len(rows) == 1:
        rows.append(("no reading of the list narrows this range", "–", "–", "–"))
    return table(("after the reading", "typical margin then", "range left", "settled"), rows, d.what)


def not_known(found):
    """What is not known at all, and why.

    found: MeasureFirst.
    Returns Table.
    """
    rows = [(what, on_page(why)) for what, why in found.unknown]
    return table(("not known at all", "why"), rows or [("nothing of what is judged here", "–")])


def helpful(found, place):
    """The readings that narrow a verdict's range, the best first.

    found: MeasureFirst. place: of the Doubtful in found.doubts.
    Returns list of FirstReading.
    """
    return sorted((r for r in found.readings if r.verdicts[place][1] < HELPS), key=lambda r: r.verdicts[place][1])
