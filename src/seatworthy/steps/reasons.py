"""Why a seat stands as it does: rule by rule, compound by compound, down to the glasses."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from seatworthy.phrases import multiple
from seatworthy.rules.calendar_months import months_before
from seatworthy.rules.compound import CompoundVerdict
from seatworthy.rules.compound_rules import ChanceRule, ThresholdRule
from seatworthy.rules.counting import first_day_counted
from seatworthy.rules.rulebook import Item
from seatworthy.rules.seat import nearest_items
from seatworthy.rules.verdict import Standing, Verdict
from seatworthy.steps.desk import Desk
from seatworthy.steps.glass_facts import FEWEST_LEVELS
from seatworthy.steps.judging import Judged
from seatworthy.steps.judging_people import RuleAnswer
from seatworthy.steps.known_beer_views import beer_lines
from seatworthy.steps.labels import item_label, short_label
from seatworthy.steps.reason_views import GlassLine, ReasonView
from seatworthy.steps.record_rows import every_glass
from seatworthy.steps.seen import Seen
from seatworthy.steps.sentences import in_sentence, joined, number_word

_Row = Mapping[str, Any]

NOTHING = "nothing"
SOMETHING = "something, without a name"
NOT_SERVED = Verdict("compound", Standing.TOO_LITTLE, "No glass of it yet.")


def reasons(desk: Desk, judged: Judged, person_id: str, family: str) -> ReasonView:
    """The seat verdict of one panellist with everything behind it.

    Args:
        desk: The open store.
        judged: The day judged.
        person_id: Whose seat.
        family: Beer family's key.
    """
    return _Reasons(desk, judged, person_id, family).seat()


def shortest_way_to_a_seat(judged: Judged, person_id: str, family: str) -> str:
    """The fewest further right answers that would fill what is missing; "" where none is known."""
    seat = judged.seats[person_id, family]
    if seat.can_sit:
        return ""
    cells = {k: cell for (p, k, f), cell in judged.cells.items() if (p, f) == (person_id, family)}
    nearest = nearest_items(seat.items, cells, judged.rulebook.seat)
    if not nearest:
        return ""
    parts = [
        f"{number_word(more)} more of {in_sentence(item_label(item, judged.labels))}"
        for item, more in nearest
    ]
    return f"Shortest way: {joined(parts)}, all named right."


class _Reasons:
    """One tree in the making."""

    def __init__(self, desk: Desk, judged: Judged, person: str, family: str) -> None:
        self.desk, self.judged, self.person, self.family = desk, judged, person, family
        self.own = [row for row in every_glass(desk, judged, person) if row["family"] == family]

    def seat(self) -> ReasonView:
        judged = self.judged
        seat = judged.seats[self.person, self.family]
        critical, *others = judged.answers(self.person, self.family)
        parts = (self._critical(critical), *(self._rule(one) for one in others))
        way = shortest_way_to_a_seat(judged, self.person, self.family)
        return ReasonView(
            f"A seat for {in_sentence(judged.families[self.family])}",
            str(seat.verdict.standing), seat.verdict.sentence,
            f"{seat.verdict.change} {way}".strip(), parts=parts,
        )  # fmt: skip

    def _critical(self, answer: RuleAnswer) -> ReasonView:
        parts = tuple(self._item(item) for item in self.judged.critical[self.family])
        verdict = answer.verdict
        return ReasonView(
            answer.title, str(verdict.standing), verdict.sentence, verdict.change, parts=parts
        )

    def _item(self, item: Item) -> ReasonView:
        if len(item) == 1:
            return self._compound(item[0])
        standing = self.judged.seats[self.person, self.family].items[item]
        return ReasonView(
            item_label(item, self.judged.labels), str(standing), "One of them counts.",
            parts=tuple(self._compound(compound) for compound in item),
        )  # fmt: skip

    def _compound(self, compound: str) -> ReasonView:
        found = self.judged.cells.get((self.person, compound, self.family))
        verdict = found.verdict if found else NOT_SERVED
        label = short_label(self.judged.labels.get(compound, compound))
        rows = [row for row in self.own if row["compound"] == compound]
        counts = self._counting(rows, found)
        glasses = tuple(self._glass(row, label, row["serving_id"] in counts) for row in rows)
        return ReasonView(
            label, str(verdict.standing), verdict.sentence, verdict.change, glasses=glasses
        )

    def _counting(self, rows: Sequence[_Row], found: CompoundVerdict | None) -> frozenset[str]:
        """Ids of the glasses that count for the verdict on one compound."""
        book, as_of = self.judged.rulebook, self.judged.as_of
        blind = book.insensitive
        if found is not None and found.standing is Standing.INSENSITIVE and blind is not None:
            after = months_before(as_of, book.counted.months)
            return _ids(row for row in rows if _is_strong(row, blind.strong_level, after))
        if isinstance(book.compound, ChanceRule):
            return _ids(row for row in rows if row["is_counted"])
        if isinstance(book.compound, ThresholdRule):
            return _ids(_rows_of_series(rows, book.compound, as_of))
        return frozenset(found.behind) if found else frozenset()

    def _glass(self, row: _Row, label: str, counts: bool) -> GlassLine:
        level = row["total_level"]
        outcome = "open" if row["outcome"] == "noticed" else row["outcome"]
        at = f"{in_sentence(label)} at {multiple(level)}" if level else f"{in_sentence(label)}"
        if row["method"] != "naming":
            at += f", {METHOD_WORDS.get(row['method'], row['method'])}"
        why_not = "" if counts else self._why_not(row)
        return GlassLine(row["session_on"], at, outcome, self._said(row), counts, why_not)

    def _why_not(self, row: _Row) -> str:
        """Why a glass doesn't count for the verdict, in a few words."""
        book, level = self.judged.rulebook, row["total_level"]
        if row["outcome"] == "open":
            return "own words wait for a meaning"
        if level is None:
            return "its level is not known"
        if not isinstance(book.compound, ChanceRule):
            return "not looked at by this rule"
        if row["method"] != "naming":
            return "informs the estimate only: no name was asked for"
        if round(level, 6) < book.counted.lowest_level:
            return f"weaker than {multiple(book.counted.lowest_level)}: informs the estimate only"
        if round(level, 6) > book.counted.highest_level:
            return (
                f"stronger than {multiple(book.counted.highest_level)}: informs the estimate only"
            )
        return f"older than {book.counted.months} months: informs the estimate only"

    def _said(self, row: _Row) -> str:
        if row["said_a_compound"]:
            return in_sentence(short_label(self.judged.labels.get(row["said"], row["said"])))
        if row["said"]:
            return f"“{row['said']}”"
        return _WITHOUT_WORDS.get(row.get("outcome", ""), NOTHING)

    def _rule(self, answer: RuleAnswer) -> ReasonView:
        verdict, book = answer.verdict, self.judged.rulebook
        facts: Iterable[GlassLine] = ()
        if answer is self.judged.persons[self.person].false_calls and book.false_calls:
            facts = self._blanks(book.false_calls.months)
        elif answer is self.judged.persons[self.person].attendance and book.attendance:
            facts = self._sessions(book.attendance.months)
        elif answer is self.judged.persons[self.person].duplicates and book.duplicates:
            facts = self._pairs(book.duplicates.months)
        elif book.knows_beer and answer is self.judged.also[self.person, self.family][-1]:
            whose = self.person, self.family
            facts = beer_lines(self.desk, self.judged, *whose, book.knows_beer.months)
        return ReasonView(
            answer.title, str(verdict.standing), verdict.sentence, verdict.change,
            answer.asked_for, tuple(facts),
        )  # fmt: skip

    def _blanks(self, months: int) -> list[GlassLine]:
        lines = []
        for row in self._rows("person_blanks", months):
            said = self._said({**row, "outcome": "noticed" if row["is_call"] else "missed"})
            if row["is_possible_background"]:
                said += ", which the beer may explain"
            outcome = "wrong" if row["is_call"] else "right"
            lines.append(
                GlassLine(
                    row["session_on"], "blank", outcome, said, not row["is_possible_background"]
                )
            )
        return lines

    def _sessions(self, months: int) -> list[GlassLine]:
        return [
            GlassLine(row["session_on"], "session", "", "came" if row["came"] else "not there")
            for row in self._rows("person_sessions", months)
        ]

    def _pairs(self, months: int) -> list[GlassLine]:
        lines = []
        for row in self._rows("person_pairs", months):
            first, second = (self._pair_word(row[which]) for which in ("first", "second"))
            lines.append(GlassLine(row["session_on"], "hidden pair", "", f"{first}, {second}"))
        return lines

    def _pair_word(self, said: str) -> str:
        if said in ("", "?"):
            return NOTHING if not said else SOMETHING
        label = self.judged.labels.get(said)
        return in_sentence(short_label(label)) if label else f"“{said}”"

    def _rows(self, query: str, months: int) -> list[dict[str, Any]]:
        """Rows of a query on this person, read as the rulebook reads the record."""
        judged = self.judged
        until = judged.as_of
        seen = Seen(self.desk, until, judged.known_at, judged.rulebook)
        after = months_before(until, months)
        return seen.rows(query, person_id=self.person, after_on=after, until_on=until)


def _ids(rows: Iterable[_Row]) -> frozenset[str]:
    return frozenset(row["serving_id"] for row in rows)


def _is_strong(row: _Row, level: float, after: date) -> bool:
    """Whether a glass is one of those on which somebody is said not to smell it."""
    is_recent = row["method"] == "naming" and row["session_on"] > after
    return is_recent and row["total_level"] is not None and round(row["total_level"], 6) >= level


def _rows_of_series(rows: Sequence[_Row], rule: ThresholdRule, as_of: date) -> list[_Row]:
    """The sets of the ascending series from which the estimates that count were worked out."""
    levels: dict[date, set[float]] = defaultdict(set)
    for row in rows:
        if row["method"] == "3afc" and row["total_level"] is not None:
            levels[row["session_on"]].add(row["total_level"])
    first = first_day_counted(as_of, rule.months)
    days = sorted(
        day for day, some in levels.items() if len(some) >= FEWEST_LEVELS and day >= first
    )
    latest = set(days[-rule.last_estimates :])
    return [
        row
        for row in rows
        if row["method"] == "3afc"
        and row["total_level"] is not None
        and row["session_on"] in latest
    ]


_WITHOUT_WORDS = {"noticed": SOMETHING, "right": "right", "wrong": "wrong"}
METHOD_WORDS = {
    "3afc": "3-AFC", "triangle": "triangle", "duo_trio": "duo-trio", "2afc": "2-AFC",
    "a_not_a": "A/not-A",
}  # fmt: skip
