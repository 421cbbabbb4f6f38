"""What a link of the chain is: one record, and the order in which records can be worked out."""

from collections.abc import Callable
from dataclasses import dataclass
from graphlib import TopologicalSorter


@dataclass(frozen=True)
class Link:
    """One link of the chain.

    name: of its part among the results. needs: names of the links whose parts it takes.
    work: function of a build and, by name, of the parts it needs; gives a frozen part or None; None for a record that
    only judges. verdicts: function of (build, parts by name, bands by path) that gives Verdicts, or None. headline:
    fields of the part that are its main numbers, SI names. page: name of the notebook it belongs to. counts_to: link
    that its verdicts count to, where that is not itself. arrays: whether it takes many designs side by side. bands:
    function of (part, part drawn from samples, number of samples) that gives bands by path, for what is no plain
    number; or None.
    """

    name: str
    needs: tuple = ()
    work: Callable | None = None
    verdicts: Callable | None = None
    headline: tuple = ()
    page: str = ""
    counts_to: str = ""
    arrays: bool = True
    bands: Callable | None = None


def in_order(links):
    """Links in an order in which each stands behind all that it needs.

    links: iterable of Link.
    Returns tuple of Link; where the needs leave a choice, the one listed first comes first.
    Raises ValueError: two of one name, a need that no link meets; graphlib.CycleError (a ValueError): needs in a
    circle.
    """
    named = {link.name: link for link in links}
    if len(named) < len(tuple(links)):
        raise ValueError("two links have the same name")
    place = list(named).index
    sorter = TopologicalSorter()
    for link in named.values():
        unmet = set(link.needs) - set(named)
        if unmet:
            raise ValueError(f"link {link.name} needs {', '.join(sorted(unmet))}, which no link gives")
        sorter.add(link.name, *link.needs)
    sorter.prepare()
    found, ready = [], []
    while sorter.is_active():
        ready = sorted([*ready, *sorter.get_ready()], key=place)
        found.append(named[ready.pop(0)])
        sorter.done(found[-1].name)
    return tuple(found)
