"""A verdict with its reasons, as a tree that a person can open."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class GlassLine:
    """One fact behind a verdict.

    Attributes:
        day: Day of the session.
        what: What it was, in a few words ("diacetyl at 3×", "blank", "session").
        outcome: "right", "wrong", "missed", "open"; "" where there is neither right nor wrong.
        said: What was said or done; user text, escape it.
        counts: Whether it counts for the verdict; others are shown pale.
        why_not: Why it doesn't, in a few words; "" where it counts or nobody need be told.
    """

    day: date
    what: str
    outcome: str
    said: str
    counts: bool = True
    why_not: str = ""


@dataclass(frozen=True)
class ReasonView:
    """One verdict and what stands behind it.

    Attributes:
        title: What is judged.
        standing: "met", "not_met", "too_little", "insensitive".
        sentence: The answer with its numbers.
        change: The shortest way to change it, "" where nothing is missing.
        asked_for: Whether a seat asks for it.
        glasses: The facts behind it, oldest first.
        parts: The verdicts it is made of.
    """

    title: str
    standing: str
    sentence: str
    change: str = ""
    asked_for: bool = True
    glasses: tuple[GlassLine, ...] = ()
    parts: "tuple[ReasonView, ...]" = ()
