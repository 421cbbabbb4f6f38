"""A prediction: choose before you look.  What is right is worked out when it is revealed, and stands nowhere before."""

from collections.abc import Callable
from dataclasses import dataclass

from ...basics.fault import fault


@dataclass(frozen=True)
class Revealed:
    """What came out.  right: index of the right choice. words: why, Markdown, with the numbers that ran."""

    right: int
    words: str


@dataclass(frozen=True)
class Prediction:
    """A question with choices.

    key: its name. ask: the question. choices: two to five. reveal: function (build, workings) -> Revealed; both may be
    None where the question needs no sheet. confusion: which of the four it is about (power, temperature, resistance,
    length), or "". needs: parts of the workings without which there is no answer.
    """

    key: str
    ask: str
    choices: tuple[str, ...]
    reveal: Callable[..., Revealed]
    confusion: str = ""
    needs: tuple[str, ...] = ()

    def revealed(self, build=None, workings=None) -> Revealed:
        """Work the answer out.

        build: of the page's sheet. workings: of it, or the part that the page looks at.
        Raises Fault: the sheet lacks what the question is about, or no such choice.
        """
        for part in self.needs:
            if getattr(workings, part, None) is None:
                raise fault(part, "", "is not worked out for this sheet yet.")
        found = self.reveal(build, workings)
        if not 0 <= found.right < len(self.choices):
            raise fault(self.key, found.right, "is no choice of this question.")
        return found


def nearest_choice(value: float, choices_at: tuple[float, ...]) -> int:
    """Which of several figures a value is nearest to, by ratio.

    value: above 0. choices_at: figures, above 0, as the choices say them.

    >>> nearest_choice(1.19, (1.1, 1.2, 2.0))
    1
    """
    return min(range(len(choices_at)), key=lambda i: abs(value / choices_at[i] - 1))
