"""Looks at hidden duplicates: flagged when improbable, or asked to agree in a share of pairs."""

from dataclasses import dataclass

from seatworthy.rules.counting import limit_text, percent_beside
from seatworthy.rules.person_rules import DuplicateRule, DuplicateShare
from seatworthy.rules.verdict import Standing, Verdict, counted, percent

RULE = "duplicates"
MOST_TRIED = 100


@dataclass(frozen=True, slots=True)
class DuplicateCounts:
    """Hidden duplicate pairs of one panellist in the window.

    Attributes:
        pairs: Pairs answered.
        agreed: Of these, both named right or both not.
        expected: Agreements that the person's own rates would give.
        chance_of_so_few: Chance of so few agreements at these rates; a rule that asks for a share
            looks at neither.
    """

    pairs: int
    agreed: int
    expected: float
    chance_of_so_few: float


def judge_duplicates(seen: DuplicateCounts, rule: DuplicateRule | DuplicateShare) -> Verdict:
    """A remark on repeatability; by odds, "not met" only means that somebody should look."""
    if isinstance(rule, DuplicateShare):
        return _judge_share(seen, rule)
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
    if seen.pairs < rule.pairs:
        return Verdict(RULE, Standing.TOO_LITTLE, f"{sentence} Fewer than {rule.pairs} say little.")
    return Verdict(RULE, Standing.MET, sentence)


def _judge_share(seen: DuplicateCounts, rule: DuplicateShare) -> Verdict:
    """By the bare share of pairs that agree: met at the share or above, not met below."""
    if not seen.pairs:
        return Verdict(
            RULE, Standing.TOO_LITTLE, "No hidden duplicates yet.", _way_by_share(seen, rule)
        )
    share = percent_beside(seen.agreed / seen.pairs, rule.share)
    sentence = (
        f"{seen.agreed} of {counted(seen.pairs, 'hidden pair')} both right or both not ({share}); "
        f"{limit_text(rule.share)} of at least {rule.pairs} are asked for."
    )
    if seen.pairs < rule.pairs:
        return Verdict(RULE, Standing.TOO_LITTLE, sentence, _way_by_share(seen, rule))
    if _agrees(seen.agreed, seen.pairs, rule):
        return Verdict(RULE, Standing.MET, sentence)
    return Verdict(RULE, Standing.NOT_MET, sentence, _way_by_share(seen, rule))


def _agrees(agreed: int, pairs: int, rule: DuplicateShare) -> bool:
    return agreed / pairs >= rule.share


def _way_by_share(seen: DuplicateCounts, rule: DuplicateShare) -> str:
    """The fewest further pairs, all in agreement, that would do, by trying."""
    for more in range(1, max(MOST_TRIED, rule.pairs) + 1):
        pairs = seen.pairs + more
        if pairs >= rule.pairs and _agrees(seen.agreed + more, pairs, rule):
            return f"{counted(more, 'more hidden pair')} in agreement could meet it."
    return "The pairs that disagree must first grow too old to count."
