"""One panellist's record: where they stand, on what evidence, and what is missing."""

from datetime import date, datetime
from types import MappingProxyType
from typing import Final

from seatworthy.rules.calendar_months import months_before
from seatworthy.rules.compound import day_text
from seatworthy.rules.verdict import Standing
from seatworthy.steps.board_sentences import NOT_SIGNED, NOT_SIGNED_THEN
from seatworthy.steps.boards import person_view
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.labels import first_names, item_label
from seatworthy.steps.mixing_up import mixed_up
from seatworthy.steps.reasons import reasons, shortest_way_to_a_seat
from seatworthy.steps.record_rows import CompoundRows
from seatworthy.steps.sentences import (
    day_in_sentence,
    in_sentence,
    joined,
    number_word,
    sentence_start,
    the_beers,
)
from seatworthy.steps.views import Choice, Mixup, RecordView, RuleLine
from seatworthy.steps.who_sits import who_sits

NOTHING = "nothing"

_UNFIT: Final = MappingProxyType(
    {
        "expired": "to a lot that had expired",
        "differs": "to vessels of different levels",
        "kept": "to what was kept too long",
    }
)


def record(
    desk: Desk,
    person_id: str,
    *,
    family: str | None = None,
    as_of: date | None = None,
    known_at: datetime | None = None,
) -> RecordView | None:
    """The record of one panellist for one beer family at the end of one day.

    Args:
        desk: The open store.
        person_id: Whose.
        family: Beer family; None, or one that is not known, for the most tasted.
        as_of: The day; None for today.
        known_at: Read the record as it stood then (UTC); None for today's record.

    Returns:
        None if nobody on record has this id, or nothing is on record.
    """
    judged = judge_day(desk, as_of, known_at)
    if person_id not in judged.people or not judged.families:
        return None
    families = tuple(Choice(key, label) for key, label in judged.families.items())
    chosen = next((choice for choice in families if choice.key == family), families[0])
    return _Record(desk, judged, person_id, chosen, families).view()


class _Record:
    """One record in the making."""

    def __init__(
        self,
        desk: Desk,
        judged: Judged,
        person: str,
        family: Choice,
        families: tuple[Choice, ...],
    ) -> None:
        self.desk, self.judged, self.person = desk, judged, person
        self.family, self.families = family, families
        self.seat = judged.seats[person, family.key]
        self.sits = who_sits(desk, judged, family.key)
        self.critical = [c for item in judged.critical[family.key] for c in item]
        self.rows = CompoundRows(desk, judged, person, family.key, frozenset(self.critical))

    def view(self) -> RecordView:
        judged, blanks = self.judged, self.judged.blanks[self.person]
        attended = judged.attended.get(self.person)
        rows = tuple(self.rows.row(compound) for compound in self._compounds())
        return RecordView(
            as_of=judged.as_of,
            family=self.family,
            families=self.families,
            people=tuple(Choice(key, name) for key, name in judged.people.items()),
            person=person_view(self.sits, self.person),
            since=judged.first_on.get(self.person),
            blanks=blanks.blanks,
            false_calls=blanks.false_calls,
            possible_background=blanks.possible_background,
            needed=judged.rulebook.asked.named_right,
            reference_level=judged.rulebook.asked.reference_level,
            answer=self._answer(),
            catch=self._catch(),
            lead=self._lead(),
            rules=self._rules(),
            rows=rows,
            mixups=self._mixups(),
            mixed_up=mixed_up(judged, self.person, self.rows.in_all_beers),
            sessions_attended=attended.attended if attended else 0,
            sessions_offered=attended.offered if attended else 0,
            last_seen=attended.last_on if attended else None,
            reasons=reasons(self.desk, judged, self.person, self.family.key),
            unfit=self._unfit(),
        )

    def _unfit(self) -> str:
        """What of the answers is kept and not for qualification."""
        rows = self.desk.store.rows(
            "person_unfit", self.judged.known_at, person_id=self.person,
            family=self.family.key, until_on=self.judged.as_of,
        )  # fmt: skip
        counts = {row["why"]: row["answers"] for row in rows}
        total = sum(counts.values())
        if not total:
            return ""
        why = joined([f"{number} {_UNFIT[reason]}" for reason, number in counts.items()])
        verb = "answer is" if total == 1 else "answers are"
        return f"{total} {verb} kept and not for qualification: {why}."

    def _compounds(self) -> list[str]:
        served = {c for p, c, f in self.judged.cells if f == self.family.key}
        others = sorted((served | self.rows.tasted()) - set(self.critical), key=self.rows.label)
        return [*self.critical, *others]

    def _rules(self) -> tuple[RuleLine, ...]:
        return tuple(
            RuleLine(
                one.title if one.asked_for else f"{one.title} (shown only)",
                str(one.verdict.standing), one.verdict.sentence, one.verdict.change,
            )
            for one in self.judged.answers(self.person, self.family.key)
        )  # fmt: skip

    def _mixups(self) -> tuple[Mixup, ...]:
        rows = self.desk.store.rows(
            "mixups",
            self.judged.known_at,
            person_id=self.person,
            after_on=months_before(self.judged.as_of, self.judged.rulebook.counted.months),
            until_on=self.judged.as_of,
        )
        return tuple(
            Mixup(
                self.rows.label(row["compound"]),
                self.rows.label(row["named_compound"]) if row["named_compound"] else NOTHING,
                row["glasses"],
            )
            for row in rows
        )

    def _name(self) -> str:
        return first_names(self.judged.people)[self.person]

    def _answer(self) -> str:
        family, name = the_beers(self.family.label), self._name()
        can_sit, until = self.sits.sits(self.person), self.sits.until(self.person)
        if self.judged.as_of != self.desk.today():
            day = day_text(self.judged.as_of)
            if can_sit and not self.sits.is_signed:
                return f"{name} met the seat rule for {family} on {day}"
            verb = "could" if can_sit else "couldn't"
            return f"{name} {verb} sit for {family} on {day}"
        if not can_sit or until is None:
            return f"{name} can't sit for {family} today"
        last = day_in_sentence(until, self.judged.as_of)
        if not self.sits.is_signed:
            return f"{name} meets the seat rule for {family} today"
        return f"{name} can sit for {family} until {last}"

    def _catch(self) -> str:
        if not self.sits.is_signed and self.seat.can_sit:
            is_today = self.judged.as_of == self.desk.today()
            return NOT_SIGNED if is_today else NOT_SIGNED_THEN
        if self.sits.sits(self.person):
            return self._weak_spots()
        if why := self.sits.why_not(self.person):
            return f"{why}."
        asked = [one for one in self.judged.answers(self.person, self.family.key) if one.asked_for]
        bad, unsure = (
            [in_sentence(one.title) for one in asked if one.verdict.standing is standing]
            for standing in (Standing.NOT_MET, Standing.TOO_LITTLE)
        )
        if bad:
            return f"{joined(bad)} {'is' if bad == ['attendance'] else 'are'} in the way."
        return f"too little evidence on {joined(unsure)}."

    def _weak_spots(self) -> str:
        """What somebody with a seat is not counted on for, worst first."""
        bad, unsure = self._items(Standing.NOT_MET), self._items(Standing.TOO_LITTLE)
        if bad:
            return f"{joined(bad)} {'is' if len(bad) == 1 else 'are'} not met."
        some = unsure[:2]
        return f"{joined(some)} still {_needs(some)} glasses." if some else ""

    def _items(self, standing: Standing) -> list[str]:
        items = self.seat.items.items()
        return [
            in_sentence(item_label(item, self.judged.labels)) for item, s in items if s is standing
        ]

    def _lead(self) -> str:
        met, asked = self.seat.met_items, len(self.seat.items)
        parts = [
            (
                f"{sentence_start(number_word(met) if met else 'none')} of {number_word(asked)} "
                f"critical compounds {'is' if met < 2 else 'are'} met."
            )
        ]
        if not self.seat.can_sit:
            parts.append(self.seat.verdict.change)
            parts.append(shortest_way_to_a_seat(self.judged, self.person, self.family.key))
            if self.sits.is_signed and self.sits.sits(self.person):
                parts.append(
                    "Today's glasses would not grant it; a signed seat stands to its date."
                )
        if blind := self._items(Standing.INSENSITIVE):
            parts.append(f"{self._name()} doesn't smell {joined(blind)}. That is no fault.")
        return " ".join(part for part in parts if part)


def _needs(items: list[str]) -> str:
    return "needs" if len(items) == 1 else "need"
