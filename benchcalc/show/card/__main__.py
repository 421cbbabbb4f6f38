"""The build card on paper: python -m benchcalc.show.card SHEET --to FOLDER writes HTML, and PDF where Chromium is."""

import argparse
from pathlib import Path

from ...basics.fault import Fault
from ...chain.workings import work_out
from ...sheet.choose import load_chosen
from .beside import numbers_beside, verdicts_beside
from .write import write_card


def _beside(build, another):
    one, other = work_out(build), work_out(another)
    return f"{numbers_beside(build, one, other)}\n\n{verdicts_beside(one, other)}"


def print_card(words=None):
    """The command.  words: arguments, None for those of the command line.  Returns 0, or 1 where a sheet is refused."""
    asked = argparse.ArgumentParser(prog="python -m benchcalc.show.card", description=__doc__)
    asked.add_argument(
        "sheet", nargs="?", default=None, help="name of a demo or of a sheet in my/; default: the chosen one"
    )
    asked.add_argument("--to", type=Path, default=Path("paper"), help="folder to write into (default: paper)")
    asked.add_argument("--beside", help="another sheet: what differs from it, and which verdicts turn; writes no card")
    given = asked.parse_args(words)
    try:
        if given.beside:
            print(_beside(load_chosen(given.sheet), load_chosen(given.beside)))
            return 0
        for said in write_card(load_chosen(given.sheet), given.to):
            print(said)
    except Fault as told:
        print(told)
        return 1
    return 0


if __name__ == "__main__":
    raise SystemExit(print_card())
