"""Papers of an evening: python -m benchcalc.show.lesson --evening 1 --names names.txt --word autumn --to paper."""

import argparse
import sys
from pathlib import Path

from ...basics.fault import Fault, fault
from ...sheet.store import look
from .paper import class_names, write_class


def print_class(words=None):
    """The command.  words: arguments, None for those of the command line.  Returns 0, or 1 where something is "
    "refused."""
    asked = argparse.ArgumentParser(prog="python -m benchcalc.show.lesson", description=__doc__)
    asked.add_argument("--evening", type=int, required=True, help="1 to 6")
    asked.add_argument("--names", type=Path, required=True, help="text file, one name a line")
    asked.add_argument("--word", default="", help="the teacher's word: another one gives everybody new numbers")
    asked.add_argument("--to", type=Path, default=Path("paper"), help="folder to write into (default: paper)")
    given = asked.parse_args(words)
    try:
        if not given.names.is_file():
            raise fault("names", given.names, "is no file.", do="Write one name a line into a text file.")
        for sentence in write_class(given.evening, class_names(look(given.names).text), given.word, given.to):
            print(sentence)
    except Fault as told:
        print(told, file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    raise SystemExit(print_class())
