"""The three answers of a rule, and the sentence that goes with them."""

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property


class Standing(StrEnum):
    """What a rule says; nothing else is ever said of a person."""

    MET = "met"
    NOT_MET = "not_met"
    TOO_LITTLE = "too_little"
    INSENSITIVE = "insensitive"


@dataclass(frozen=True)
class Verdict:
    """One rule's answer.

    Attributes:
        rule: Which rule answered.
        standing: Met, not met or too little evidence; insensitive for a compound only.
        sentence: The answer with its numbers.
        way: What would change it, "" where nothing is missing; a function where it takes long to
            find and is asked for by few. Read it as `change`.
    """

    rule: str
    standing: Standing
    sentence: str
    way: str | Callable[[], str] = field(default="", compare=False)

    @cached_property
    def change(self) -> str:
        """What would change it, "" where nothing is missing."""
        return self.way if isinstance(self.way, str) else self.way()

    @property
    def full(self) -> str:
        """Sentence and what would change it, together."""
        return f"{self.sentence} {self.change}".strip()


def counted(number: int, thing: str) -> str:
    """A number with its thing: "1 glass", "3 glasses", "no blanks"."""
    plural = f"{thing}es" if thing.endswith("s") else f"{thing}s"
    return f"{number or 'no'} {thing if number == 1 else plural}"


def percent(chance: float) -> str:
    """A chance in whole percent; three digits near a limit are the caller's business."""
    if 0 < chance < 0.005:
        return "<1%"
    if 0.995 < chance < 1:
        return ">99%"
    return f"{100 * chance:.0f}%"
