"""What a build card holds: rows to be read at the bench, each with what is expected and what to do when it is not."""

from dataclasses import dataclass

from ...basics.band import Band


@dataclass(frozen=True)
class CardRow:
    """One row of the card.

    id: short and stable, such as "winding.cold_ohm". what: what is read or done, in words. key: SI name of the
    reading, for its unit; "" where words are written. expected: Band, SI (nan, inf: of a place on the tube, nowhere
    yet, all of it); None where no number is expected. words: what is expected in words, beside or in place of a
    number. ask: whether there is space for a reading. outside: what to do when it is not as expected.
    """

    id: str
    what: str
    key: str = ""
    expected: Band | None = None
    words: str = ""
    ask: bool = True
    outside: str = ""


@dataclass(frozen=True)
class CardSection:
    """A step at the bench: title, its rows, a remark."""

    title: str
    rows: tuple
    said: str = ""


@dataclass(frozen=True)
class Card:
    """The build card.

    name: of the tool. invented: whether it is a demo. stop: why nothing may be built, "" where it may. sections:
    CardSections in the order of the bench. cautions: rows of data/cautions.csv that apply. sources: words of the
    sources that the verdicts stand on. over: Verdicts that are past their limit, by nominal value. unjudged: why no
    temperature was worked out, so that an empty list of what is over tells nothing; "" where they were. opposite: why
    two lines of what is over ask for opposite things, "" where none do. open: what is not judged, in words: nobody
    knows it. resting: how many limits are not known only since they rest on what is assumed or borrowed. cut_out:
    whether the sheet has one that acts by itself.
    """

    name: str
    invented: bool
    stop: str
    sections: tuple
    cautions: tuple
    sources: tuple
    over: tuple
    unjudged: str = ""
    opposite: str = ""
    open: tuple = ()
    resting: int = 0
    cut_out: bool = True

    def rows(self):
        """All rows, in order."""
        return tuple(row for section in self.sections for row in section.rows)

    def row(self, id):
        """One row.  id: its id.  Raises KeyError where the card has no such row."""
        return {row.id: row for row in self.rows()}[id]
