"""Personal numbers: a learner's name and the teacher's word give the same draw each time, the neighbour's another."""

import hashlib
import unicodedata
from random import Random

from ...basics.fault import fault

LONGEST_NAME = 60


def tidy_name(name: str) -> str:
    """A name without what two ways of typing it may differ in: capitals, blanks, composed letters.

    name: as typed, at most 60 letters.
    Raises Fault: nothing typed, or too long.

    >>> tidy_name("  Ada   L. ") == tidy_name("ada l.")
    True
    """
    text = " ".join(unicodedata.normalize("NFKC", str(name)).casefold().split())
    if not text:
        raise fault("your name", "", "is needed: it gives you numbers of your own.", do="A nickname will do.")
    if len(text) > LONGEST_NAME:
        raise fault("your name", text[:20] + " ...", f"may have at most {LONGEST_NAME} letters.")
    return text


def random_for(name: str, word: str, key: str) -> Random:
    """The source of chance for one learner and one exercise, the same on every machine.

    name: the learner's. word: the teacher's, may be empty. key: the exercise's.
    """
    seed = "\n".join((tidy_name(name), " ".join(str(word).casefold().split()), key))
    return Random(hashlib.sha256(seed.encode()).digest())
