"""The build card on paper: python -m benchcalc.show.card SHEET --to FOLDER writes HTML, and PDF where Chromium is."""

import argparse
from pathlib import Path

from ...basics.fault import Fault
from ...sheet.choose import load_chosen
from .write import write_card


def main(words=None):
    """The command.  words: arguments, None for those of the command line.  Returns 0, or 1 where a sheet is refused."""
    asked = argparse.ArgumentParser(prog="python -m benchcalc.show.card", description=__doc__)
    asked.add_argument(
        "sheet", nargs="?", default=None, help="name of a demo or of a sheet in my/; default: the chosen one"
    )
    asked.add_argument("--to", type=Path, default=Path("paper"), help="folder to write into (default: paper)")
    given = asked.parse_args(words)
    try:
        for said in write_card(load_chosen(given.sheet), given.to):
            print(said)
    except Fault as told:
        print(told)
        return 1
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
