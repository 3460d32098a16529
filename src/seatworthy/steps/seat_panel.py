"""Seat a release panel: who may be considered today, and what those chosen would miss."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from seatworthy.rules.attendance import is_long_absent
from seatworthy.rules.panel import Sitter, judge_sitting
from seatworthy.rules.seat_states import State
from seatworthy.rules.verdict import Standing
from seatworthy.steps.alcohol_today import NOTHING_TAKEN, AlcoholToday
from seatworthy.steps.batches import Batch
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import first_names
from seatworthy.steps.miss_sentences import clean_sentence, rows_of, told_of
from seatworthy.steps.miss_views import (
    MissRow,
    MissView,
    PanelFigures,
    SitterLine,
    Told,
    Wanted,
)
from seatworthy.steps.panel_figures import FamilyNoses, panel_figures
from seatworthy.steps.panel_proposals import Proposing
from seatworthy.steps.seat_ground import Ground, seat_ground
from seatworthy.steps.sentences import (
    day_in_table,
    joined,
    number_word,
    sentence_start,
    the_beers,
)
from seatworthy.steps.views import Choice
from seatworthy.steps.who_sits import WhoSits

START = "No glasses yet. Plan the first session, or bring in a results file."
_NOBODY = "tick who is here, or see on the board who is nearest to a seat."


def seat_panel(desk: Desk, wanted: Wanted) -> MissView:
    """What a panel would miss today, who may sit on it, and who should.

    Args:
        desk: The open store.
        wanted: What the leader chose; people who may not sit are left out of it.

    Raises:
        PanelError: if the batch is not on record, or of a family without any glass yet.
    """
    return panel_on(seat_ground(desk, wanted.family, wanted.batch_id), wanted)


def panel_on(ground: Ground, wanted: Wanted) -> MissView:
    """The page for what the leader chose, from what was read; family and batch are those read."""
    if ground.known is None or ground.sits is None:
        return _empty(ground, wanted)
    return _Seating(ground, ground.known, ground.sits, wanted).view()


@dataclass(frozen=True)
class _Seating:
    """One page in the making."""

    ground: Ground
    known: FamilyNoses
    sits: WhoSits
    wanted: Wanted

    @property
    def judged(self) -> Judged:
        return self.ground.judged

    @property
    def batch(self) -> Batch | None:
        return self.ground.batch

    @property
    def family(self) -> Choice:
        return Choice(self.sits.family, self.judged.families[self.sits.family])

    @cached_property
    def names(self) -> Mapping[str, str]:
        return first_names(self.judged.people)

    @property
    def alcohol(self) -> Mapping[str, AlcoholToday]:
        return self.ground.alcohol

    @cached_property
    def seated(self) -> tuple[str, ...]:
        return tuple(person for person in self.judged.people if self.sits.sits(person))

    @cached_property
    def here(self) -> tuple[str, ...]:
        if self.wanted.here is not None:
            return tuple(person for person in self.seated if person in self.wanted.here)
        return tuple(p for p in self.seated if not self.alcohol.get(p, NOTHING_TAKEN).is_over)

    @cached_property
    def chosen(self) -> tuple[str, ...]:
        if self.wanted.sits is None:
            return self.here
        return tuple(person for person in self.here if person in self.wanted.sits)

    @cached_property
    def callers(self) -> int:
        return self.wanted.callers or self.judged.rulebook.panel.callers_for_fault

    @cached_property
    def size(self) -> int:
        most, quorum = max(len(self.here), 1), self.judged.rulebook.panel.quorum
        return min(self.wanted.size or quorum + 1, most)

    @cached_property
    def proposing(self) -> Proposing:
        return Proposing(
            known=self.known,
            here=self.here,
            crew=self.batch.crew if self.batch else (),
            rule=self.judged.rulebook.panel,
            callers=self.callers,
            limit=self.wanted.limit,
            names=self.names,
        )

    def view(self) -> MissView:
        figures = panel_figures(self.known, self.chosen, self.callers, self.wanted.limit)
        rows = rows_of(figures, self.judged.labels, self.names)
        menders = self._menders(rows)
        is_met, sentences = self._by_the_rules()
        return MissView(
            as_of=self.judged.as_of,
            family=self.family,
            families=tuple(Choice(key, label) for key, label in self.judged.families.items()),
            batch=self.batch,
            batches=self.ground.batches,
            figures=figures,
            told=self._told(figures, menders),
            rows=rows,
            people=tuple(self._line(person) for person in self.seated),
            not_seated=len(self.judged.people.keys() - self.sits.nameless) - len(self.seated),
            most_callers=max(len(self.seated), self.callers, 2),
            rule_sentences=sentences,
            is_met=is_met,
            proposals=self.proposing.proposals(self.size),
            size=self.size,
            menders=menders,
            clean=clean_sentence(figures),
            warnings=tuple(self._warnings()),
            first_names=self.names,
        )

    def _told(self, figures: PanelFigures, menders: Sequence[str]) -> Told:
        beers = the_beers(self.family.label)
        if not self.seated:
            return Told(f"Nobody can sit for {beers} yet; ", "there is no panel to look at", ".", sentence_start(_NOBODY.split(", or ")[1]))  # fmt: skip
        if not self.chosen:
            return Told(f"Nobody sits for {beers}; ", "tick who is here and who sits", ".", "")
        return told_of(figures, self.judged.labels, self.names, " ".join(menders[:1]))

    def _menders(self, rows: Sequence[MissRow]) -> tuple[str, ...]:
        weak = [
            number
            for row in rows
            for number, item in enumerate(self.known.items[: self.known.critical])
            if row.is_weak and row.figures.item == item
        ]
        return self.proposing.menders(self.chosen, weak, self.seated)

    def _by_the_rules(self) -> tuple[bool, tuple[str, ...]]:
        """Whether quorum, independence and cover are met, and the sentences that say so."""
        if not self.chosen:
            return False, ()
        rule, family = self.judged.rulebook.panel, self.family.key
        crew = self.batch.crew if self.batch else ()
        sitters = [
            Sitter(
                seat=self.judged.seats[person, family],
                on_probation=self._on_probation(person),
                made_batch=person in crew,
                trade="",
            )
            for person in self.chosen
        ]
        others = rule.from_other_crews if self.batch else 0
        asked = replace(rule, trades=1, from_other_crews=others)
        verdict = judge_sitting(self.judged.critical[family], sitters, asked).verdict
        return verdict.standing is Standing.MET, (verdict.sentence, *self._not_judged())

    def _not_judged(self) -> Iterator[str]:
        """What of independence and composition nobody can say from the record."""
        rule = self.judged.rulebook.panel
        if rule.from_other_crews and not self.batch:
            yield (
                f"{sentence_start(number_word(rule.from_other_crews))} who did not make the batch are "
                "asked for; choose the batch to see whether they are there."
            )
        elif rule.from_other_crews and self.batch and not self.batch.crew:
            yield f"Nobody is named as crew of {self.batch.label}, so all count as independent."
        if rule.trades > 1:
            yield (
                f"The rulebook asks for {number_word(rule.trades)} trades among them; trades are not on "
                "record, so look yourself."
            )

    def _on_probation(self, person: str) -> bool:
        state = self.sits.states.get(person)
        return state is not None and state.state is State.PROBATION

    def _line(self, person: str) -> SitterLine:
        notes, warned = self._notes(person)
        return SitterLine(
            person_id=person,
            name=self.judged.people[person],
            short=self.names[person],
            is_here=person in self.here,
            sits=person in self.chosen,
            notes=notes,
            is_warned=warned,
        )

    def _notes(self, person: str) -> tuple[tuple[str, ...], bool]:
        """What is to be known of somebody, and whether it needs a look."""
        judged, book, today = self.judged, self.judged.rulebook, self.judged.as_of
        notes, warned = [], False
        if self.batch and person in self.batch.crew:
            notes.append(f"made {self.batch.label}")
        if self._on_probation(person):
            notes.append("on probation")
        until = self.sits.until(person)
        if until is not None and (until - today).days <= book.seat.notice_days:
            notes.append(f"due by {day_in_table(until, today)}")
            warned = True
        seen, rule = judged.attended.get(person), book.attendance
        if rule and seen and is_long_absent(seen, today, rule):
            notes.append(f"recheck due, last seen {day_in_table(seen.last_on, today)}")
            warned = True
        taken = self.alcohol.get(person, NOTHING_TAKEN)
        notes += [taken.words] if taken.words else []
        return tuple(notes), warned or taken.is_over

    def _warnings(self) -> list[str]:
        """What needs a person before anybody sits down."""
        said = []
        if self.seated and not self.sits.is_signed:
            said.append("No seat is signed yet: these are the people who meet the seat rule today.")
        rule = self.judged.rulebook.start_up
        if rule and self.sits.is_signed and len(self.seated) < rule.until_seats:
            said.append(
                f"Start-up: until {number_word(rule.until_seats)} seats exist, "
                f"{number_word(rule.critical_met)} critical compounds met are enough for one. Trust such "
                "a seat less."
            )
        over = [
            self.names[person]
            for person in self.seated
            if self.alcohol.get(person, NOTHING_TAKEN).is_over
        ]
        if over:
            verb = "has" if len(over) == 1 else "have"
            said.append(
                f"{joined(over)} {verb} reached the limit of alcohol today: left out unless you tick them, "
                "and then everybody spits."
            )
        return said


def _empty(ground: Ground, wanted: Wanted) -> MissView:
    """The page before the first glass."""
    judged = ground.judged
    level = judged.rulebook.asked.reference_level
    return MissView(
        as_of=judged.as_of,
        family=Choice("", ""),
        families=(),
        batch=None,
        batches=ground.batches,
        figures=PanelFigures((), 2, wanted.limit, level, (level,), (), None, None),
        told=Told(START, "", "", ""),
        rows=(),
        people=(),
        not_seated=0,
        most_callers=2,
        rule_sentences=(),
        is_met=False,
        proposals=(),
        size=1,
        menders=(),
        clean="",
        warnings=(),
        first_names={},
        empty=START,
    )
