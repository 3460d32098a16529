"""Judges every panellist by the rules that look at the whole person, and by the further rules."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from seatworthy.rules.also import Answered, judge_also
from seatworthy.rules.attendance import Attended, judge_attendance
from seatworthy.rules.compound_rules import AlsoRule
from seatworthy.rules.duplicates import DuplicateCounts, judge_duplicates
from seatworthy.rules.false_calls import BlankCounts, judge_false_calls
from seatworthy.rules.person_rules import DuplicateDifference
from seatworthy.rules.rated import judge_deviation, judge_difference, judge_order
from seatworthy.rules.rulebook import Item
from seatworthy.rules.verdict import Standing, Verdict
from seatworthy.steps.glass_facts import Ratings
from seatworthy.steps.judging_cells import JudgedCells
from seatworthy.steps.labels import short_label
from seatworthy.steps.seen import Seen
from seatworthy.steps.sentences import in_sentence

NEVER_CAME = Verdict("attendance", Standing.TOO_LITTLE, "No session attended yet.")


@dataclass(frozen=True)
class RuleAnswer:
    """What one rule says of one panellist.

    Attributes:
        title: What the rule is called on screens.
        verdict: Its answer.
        asked_for: Whether a seat asks for it; if not it is shown only.
    """

    title: str
    verdict: Verdict
    asked_for: bool


@dataclass(frozen=True)
class PersonAnswers:
    """What the rules about a person say; None for a rule that the rulebook does not have."""

    false_calls: RuleAnswer | None
    attendance: RuleAnswer | None
    duplicates: RuleAnswer | None
    deviation: RuleAnswer | None
    order: RuleAnswer | None

    @property
    def all_of_them(self) -> tuple[RuleAnswer, ...]:
        """Those that the rulebook has, in a fixed order."""
        own = (self.false_calls, self.attendance, self.duplicates, self.deviation, self.order)
        return tuple(answer for answer in own if answer is not None)


def judge_people(
    seen: Seen,
    people: Iterable[str],
    blanks: Mapping[str, BlankCounts],
    attended: Mapping[str, Attended],
    pairs: Mapping[str, DuplicateCounts],
) -> dict[str, PersonAnswers]:
    """Judge everybody by the rules about a person.

    Args:
        seen: The record.
        people: Their ids.
        blanks: Blanks and calls by person.
        attended: Sessions by person who ever came.
        pairs: Hidden pairs of named glasses by person.
    """
    book = seen.book
    rated = _Rated(seen)
    return {
        person: PersonAnswers(
            false_calls=book.false_calls
            and RuleAnswer(
                "Calls in blanks",
                judge_false_calls(blanks[person], book.false_calls),
                book.false_calls.asked_for,
            ),
            attendance=book.attendance
            and RuleAnswer(
                "Attendance",
                judge_attendance(attended[person], seen.as_of, book.attendance)
                if person in attended
                else NEVER_CAME,
                book.attendance.asked_for,
            ),
            duplicates=rated.duplicates(person, pairs[person]),
            deviation=rated.deviation(person),
            order=rated.order(person),
        )
        for person in people
    }


class _Rated:
    """The rules that may look at ratings; each reads its own window, and only if it is asked."""

    def __init__(self, seen: Seen) -> None:
        book = seen.book
        self._seen = seen
        is_rated = isinstance(book.duplicates, DuplicateDifference)
        self._for_pairs = Ratings(seen, book.duplicates.months) if is_rated else None
        self._for_deviation = Ratings(seen, book.deviation.months) if book.deviation else None
        self._for_order = Ratings(seen, book.order.months) if book.order else None

    def duplicates(self, person: str, pairs: DuplicateCounts) -> RuleAnswer | None:
        rule = self._seen.book.duplicates
        if rule is None:
            return None
        if self._for_pairs is None:
            verdict = judge_duplicates(pairs, rule)
        else:
            verdict = judge_difference(self._for_pairs.pairs(person), self._seen.as_of, rule)
        return RuleAnswer("Hidden duplicates", verdict, rule.asked_for)

    def deviation(self, person: str) -> RuleAnswer | None:
        rule = self._seen.book.deviation
        if rule is None or self._for_deviation is None:
            return None
        rated = self._for_deviation.beside_the_panel(person)
        verdict = judge_deviation(rated, self._seen.as_of, rule)
        return RuleAnswer("Distance from the panel", verdict, rule.asked_for)

    def order(self, person: str) -> RuleAnswer | None:
        rule = self._seen.book.order
        if rule is None or self._for_order is None:
            return None
        verdict = judge_order(self._for_order.series(person), self._seen.as_of, rule)
        return RuleAnswer("Order of strengths", verdict, rule.asked_for)


def judge_also_rules(
    seen: Seen,
    critical: Mapping[str, Sequence[Item]],
    people: Iterable[str],
    cells: JudgedCells,
    labels: Mapping[str, str],
) -> dict[tuple[str, str], tuple[RuleAnswer, ...]]:
    """What the further rules of the rulebook say, by person and beer family."""
    found: dict[tuple[str, str], tuple[RuleAnswer, ...]] = {}
    for family, items in critical.items():
        for person in people:
            found[person, family] = tuple(
                _further(rule, seen, items, (person, family), cells, labels)
                for rule in seen.book.also
            )
    return found


def _further(
    rule: AlsoRule,
    seen: Seen,
    critical: Sequence[Item],
    whose: tuple[str, str],
    cells: JudgedCells,
    labels: Mapping[str, str],
) -> RuleAnswer:
    """One further rule; compounds carry their labels, since its sentence names them."""
    said = {key: in_sentence(short_label(label)) for key, label in labels.items()}
    items = [(compound,) for compound in rule.compounds] or critical
    answered = Answered(
        *(
            {said[key]: found for key, found in own.items()}
            for own in (
                cells.own_glasses(*whose),
                cells.own_estimates(*whose),
                cells.own_verdicts(rule.name, *whose),
            )
        )
    )
    named = [tuple(said.get(key, key) for key in item) for item in items]
    verdict = judge_also(rule, named, answered, seen.as_of, seen.book.counted)
    return RuleAnswer(rule.name, verdict, rule.asked_for)
