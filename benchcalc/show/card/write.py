"""The build card of a sheet: worked out, and written as files."""

from pathlib import Path
from shlex import quote

from ...basics.fault import Fault
from ...chain.workings import Workings, work_out
from ...sheet.build import Build
from ...studies.card.card import build_card
from .as_built_tables import leanings_words
from .html import card_document, card_html
from .paper import to_pdf
from .words import CardText


def shown_card(build: Build, workings: Workings | None = None) -> CardText:
    """The card of a sheet for a page.

    build: Build. workings: of it, None to work them out.
    Returns CardText.
    """
    card = build_card(build, workings or work_out(build))
    return CardText(build, card, card_html(build, card))


def card_command(build: Build) -> str:
    """The command that writes the card of this sheet.

    build: Build.
    """
    return f"python -m benchcalc.show.card {quote(Path(build.file).stem) if build.file else 'NAME'} --to paper"


def write_card(build, folder: Path):
    """Write the card of a sheet as HTML, and as PDF where there is a browser to print it.

    build: Build. folder: made where it is not there.
    Yields a sentence for each file.
    """
    folder.mkdir(parents=True, exist_ok=True)
    name = Path(build.file).stem if build.file else "card"
    page = folder / f"{name}_card.html"
    page.write_text(card_document(build, build_card(build, work_out(build)), leanings_words()), encoding="utf-8")
    yield f"{page}: print it from any browser, or read on"
    try:
        yield f"{to_pdf(page, page.with_suffix('.pdf'))}: the same, for the printer"
    except Fault as told:
        yield str(told)
