"""The build card in words: what is expected of a row, the card as plain text."""

from dataclasses import dataclass

import numpy as np

from ...basics.names import said_number, say, suffix_of
from ...chain.workings import band_text
from ...studies.card.record import Card
from ..heat.front_numbers import front_words

FRONT = "front_m"


def expected_words(build, row):
    """What is expected of a row, with its band and unit.

    build: Build, for its units. row: CardRow.
    Returns text, "" where nothing is expected.
    """
    told = [] if row.expected is None else [_number(build, row)]
    return "; ".join([*told, *([row.words] if row.words else [])])


def read_words(build, row, value):
    """A reading as its row says what is expected.  build: Build. row: CardRow. value: SI."""
    if row.key == FRONT:
        return say("length_m", value, units=build.units)
    small = suffix_of(row.key) == "v" and row.expected is not None and abs(row.expected.nominal) < 1
    return f"{1e3 * value:.0f} mV" if small else say(row.key, value, units=build.units, degrees=build.degrees)


def _number(build, row):
    way, band = {"units": build.units, "degrees": build.degrees}, row.expected
    if row.key == FRONT:
        return front_words(band, build.units)
    if suffix_of(row.key) == "v" and abs(band.nominal) < 1:
        low, at, high = (f"{1e3 * x:.0f}" for x in (band.low, band.nominal, band.high))
        return f"{at} mV" if low == high else f"{at} mV ({low} to {high})"
    if suffix_of(row.key) == "" and band.low < band.high:
        at, low, high = (said_number(row.key, x) for x in (band.nominal, band.low, band.high))
        return f"{at} ({low} to {high})"
    return band_text(band, row.key, **way) if np.isfinite(band.low) else say(row.key, band.nominal, **way)


@dataclass(frozen=True, repr=False)
class CardText:
    """A card for a page: HTML where it can be shown, plain lines elsewhere.  build: Build. card: Card. html: of it."""

    build: object
    card: Card
    html: str

    def __repr__(self):
        return card_text(self.build, self.card)

    def _repr_html_(self):
        return self.html


def card_text(build, card):
    """The card as plain lines.

    build: Build. card: Card.
    """
    lines = [f"Build card: {card.name}" + (" (invented demo)" if card.invented else "")]
    lines += [f"STOP: {card.stop}"] if card.stop else []
    for section in card.sections:
        lines += ["", section.title, *([f"  {section.said}"] if section.said else [])]
        for row in section.rows:
            space = " [        ]" if row.ask else ""
            lines.append(f"  {row.what}: {expected_words(build, row) or '-'}{space}")
    return "\n".join(lines)
