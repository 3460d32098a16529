"""Looks at hidden duplicates: shown to the leader, flagged when improbable, never a pass mark."""

from dataclasses import dataclass
from typing import Final

from seatworthy.rules.rulebook import DuplicateRule
from seatworthy.rules.verdict import Standing, Verdict, counted, percent

RULE = "duplicates"
FEWEST_PAIRS: Final = (
    6  # fewer say nothing of repeatability; after the practice of olive-oil panels
)


@dataclass(frozen=True, slots=True)
class DuplicateCounts:
    """Hidden duplicate pairs of one panellist in the window.

    Attributes:
        pairs: Pairs answered.
        agreed: Of these, both named right or both not.
        expected: Agreements that the person's own rates would give.
        chance_of_so_few: Chance of so few agreements at these rates.
    """

    pairs: int
    agreed: int
    expected: float
    chance_of_so_few: float


def judge_duplicates(seen: DuplicateCounts, rule: DuplicateRule) -> Verdict:
    """A remark on repeatability; "not met" only means that somebody should look."""
    if not seen.pairs:
        return Verdict(RULE, Standing.TOO_LITTLE, "No hidden duplicates yet.")
    sentence = (
        f"{seen.agreed} of {counted(seen.pairs, 'hidden pair')} both right or both not; "
        f"about {seen.expected:.0f} would be usual at these rates."
    )
    if seen.chance_of_so_few < rule.improbable:
        chance = percent(seen.chance_of_so_few)
        return Verdict(
            RULE,
            Standing.NOT_MET,
            f"{sentence} So few has a chance of {chance}.",
            "Pour a few pairs side by side; this flag judges nobody.",
        )
    if seen.pairs < FEWEST_PAIRS:
        return Verdict(
            RULE, Standing.TOO_LITTLE, f"{sentence} Fewer than {FEWEST_PAIRS} say little."
        )
    return Verdict(RULE, Standing.MET, sentence)
