"""The word that opens an evening's guesses in the whole room at once.

It is a gate for a room and no secret: whoever looks at the teacher's page finds it.
"""

import hashlib

_FIRST, _SECOND = "bdfgklmnprst", "aeiou"
SYLLABLES = 3


def opening_word(evening: int) -> str:
    """The word of an evening, easy to call out; the same on every machine.

    evening: 1 to 6.

    >>> opening_word(1) == opening_word(1) != opening_word(2)
    True
    """
    made = hashlib.sha256(f"open evening {evening}".encode()).digest()
    return "".join(
        _FIRST[made[2 * i] % len(_FIRST)] + _SECOND[made[2 * i + 1] % len(_SECOND)] for i in range(SYLLABLES)
    )


def opens(evening: int, typed: str) -> bool:
    """Whether what somebody typed is the evening's word.

    evening: 1 to 6. typed: as typed; capitals and blanks do not count.

    >>> opens(1, " " + opening_word(1).upper() + " "), opens(1, "")
    (True, False)
    """
    return "".join(typed.casefold().split()) == opening_word(evening)
