"""The board: who can sit today for one beer family, and why."""

from datetime import date, datetime
from typing import Any

from seatworthy.rules.attendance import is_long_absent
from seatworthy.rules.compound import day_text
from seatworthy.rules.verdict import Standing
from seatworthy.steps.board_sentences import board_sentences
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.labels import describing_word, item_label, short_label
from seatworthy.steps.sentences import (
    day_in_table,
    in_sentence,
)
from seatworthy.steps.sessions import what_is_open
from seatworthy.steps.views import BoardView, CellView, Choice, CompoundRow, PersonView
from seatworthy.steps.who_sits import WhoSits, who_sits

START_HERE = "No glasses yet. Plan the first session, or bring in a results file."
NOTHING_NAMED = (
    "Nobody has named a spiked glass yet, so there is nothing to judge a seat by. "
    "Pour a naming flight."
)
NO_CELL = "No glass that counts yet."


def board(
    desk: Desk,
    *,
    family: str | None = None,
    as_of: date | None = None,
    known_at: datetime | None = None,
) -> BoardView:
    """The board of one beer family at the end of one day.

    Args:
        desk: The open store.
        family: Beer family; None, or one that is not known, for the most tasted.
        as_of: The day; None for today.
        known_at: Read the record as it stood then (UTC); None for today's record.
    """
    judged = judge_day(desk, as_of, known_at)
    families = tuple(Choice(key, label) for key, label in judged.families.items())
    if not judged.people or not judged.cells:
        return _empty(desk, judged, _why_empty(desk, judged))
    chosen = next((choice for choice in families if choice.key == family), families[0])
    sits = who_sits(desk, judged, chosen.key)
    # Whoever came later than a past day is no part of it, though today's record knows them.
    known = (
        judged.people if judged.as_of == desk.today() else judged.people.keys() & judged.first_on
    )
    shown = (person for person in known if person not in sits.nameless)
    people = tuple(sorted((person_view(sits, person) for person in shown), key=_order))
    if not people:
        return _empty(desk, judged, "Nobody with glasses on record has a name any more")
    past_day = None if judged.as_of == desk.today() else day_text(judged.as_of)
    answer, catch, lead = board_sentences(sits, chosen, people, past_day)
    descriptors = {row["compound"]: row["descriptors"] for row in desk.store.rows("compounds")}
    return BoardView(
        as_of=judged.as_of,
        family=chosen,
        families=families,
        rulebook=judged.rulebook.name,
        in_force_since=_in_force_since(desk, judged),
        answer=answer,
        catch=catch,
        lead=lead,
        people=people,
        rows=_rows(sits, people, descriptors),
        is_signed=sits.is_signed,
        **_counting(judged),
    )


def _in_force_since(desk: Desk, judged: Judged) -> date:
    """From when the rulebook of a day has been in force."""
    every = desk.rulebooks()
    found = next((one for one in every if one.digest == judged.rulebook_digest), None)
    return desk.in_force_since(found) if found else judged.rulebook.counts_from


def _counting(judged: Judged) -> dict[str, Any]:
    rule = judged.rulebook.counted
    return {
        "counted_levels": (rule.lowest_level, rule.highest_level),
        "counted_months": rule.months,
    }


def _why_empty(desk: Desk, judged: Judged) -> str:
    """Why there is nothing to show, or what to do next."""
    day = day_text(judged.as_of)
    if judged.known_at is not None:
        return f"No glasses up to {day} were on record by {day_text(desk.day_of(judged.known_at))}."
    if judged.as_of != desk.today():
        return f"No glasses had been poured by {day}."
    return NOTHING_NAMED if judged.attended else nothing_yet(desk)


def nothing_yet(desk: Desk) -> str:
    """What to do before the first glass counts: plan a session, or finish the one that is open."""
    open_one = what_is_open(desk)
    if not open_one:
        return START_HERE
    return f"No glasses yet. {open_one}; its glasses count once it is closed."


def _empty(desk: Desk, judged: Judged, sentence: str) -> BoardView:
    """The board before the first glass."""
    return BoardView(
        as_of=judged.as_of,
        family=Choice("", ""),
        families=(),
        rulebook=judged.rulebook.name,
        in_force_since=_in_force_since(desk, judged),
        answer="",
        catch="",
        lead="",
        people=(),
        rows=(),
        start_here=sentence,
        **_counting(judged),
    )


def person_view(sits: WhoSits, person: str) -> PersonView:
    """One panellist's seat, ready to show."""
    judged, family, can_sit = sits.judged, sits.family, sits.sits(person)
    seat, until = judged.seats[person, family], sits.until(person)
    rule = judged.rulebook.seat
    days_left = (until - judged.as_of).days if until else 0
    whole = rule.valid_months * 365.25 / 12
    return PersonView(
        person_id=person,
        name=judged.people[person],
        can_sit=can_sit,
        reason="" if can_sit else sits.why_not(person) or _reason(judged, person, family),
        until=until,
        term_left=max(0.0, min(1.0, days_left / whole)),
        is_due_soon=can_sit and days_left <= rule.notice_days,
        critical_met=seat.met_items,
        critical_asked=len(seat.items),
        sentence=seat.verdict.full,
    )


def cell_view(judged: Judged, person: str, compound: str, family: str) -> CellView:
    """One cell, ready to show; without counted or uncounted glasses it is empty."""
    verdict = judged.cells.get((person, compound, family))
    if verdict is None:
        return CellView(person, compound, "no_glasses", 0, 0, None, False, NO_CELL)
    today = judged.days[person, compound, family]
    until = verdict.until
    notice = judged.rulebook.seat.notice_days
    return CellView(
        person_id=person,
        compound=compound,
        standing=str(verdict.standing),
        named_right=today.hits,
        glasses=today.glasses,
        until=until,
        is_due_soon=until is not None and (until - judged.as_of).days <= notice,
        sentence=verdict.verdict.full,
    )


def _order(person: PersonView) -> tuple[bool, date, int, str]:
    """Those who can sit first, soonest due first; then those who are nearest to a seat."""
    return (not person.can_sit, person.until or date.max, -person.critical_met, person.name)


def _reason(judged: Judged, person: str, family: str) -> str:
    """Why somebody cannot sit, in two or three words."""
    attended = judged.attended.get(person)
    if attended is None:
        return "not seen yet"
    rule = judged.rulebook.attendance
    if rule and rule.asked_for and is_long_absent(attended, judged.as_of, rule):
        return f"away since {day_in_table(attended.last_on, judged.as_of)}"
    others = [one for one in judged.answers(person, family)[1:] if one.asked_for]
    for one in others:
        if one.verdict.standing is Standing.NOT_MET:
            return _IN_THE_WAY.get(one.title, in_sentence(one.title))
    seat = judged.seats[person, family]
    if seat.critical.standing is Standing.MET:
        unsure = [one.title for one in others if one.verdict.standing is Standing.TOO_LITTLE]
        return _TOO_FEW.get(unsure[0], f"too little on {in_sentence(unsure[0])}")
    return f"{seat.met_items} of {len(seat.items)} met"


_IN_THE_WAY = {"Calls in blanks": "calls in blanks", "Attendance": "comes too rarely"}
_TOO_FEW = {"Calls in blanks": "too few blanks", "Attendance": "too few sessions"}


def _rows(
    sits: WhoSits, people: tuple[PersonView, ...], descriptors: dict[str, str]
) -> tuple[CompoundRow, ...]:
    """Critical compounds in the order of the list, then the others by name."""
    judged, family = sits.judged, sits.family
    critical = [compound for item in judged.critical[family] for compound in item]
    served = {compound for _, compound, beers in judged.cells if beers == family}
    others = sorted(served - set(critical), key=lambda c: short_label(judged.labels[c]))
    sitting = [person.person_id for person in people if person.can_sit]
    weak = {compound for item in sits.panel().weak for compound in item}
    instead = _other_of_group(judged, family)
    rows = []
    for compound in [*critical, *others]:
        cells = {p.person_id: cell_view(judged, p.person_id, compound, family) for p in people}
        label = judged.labels.get(compound, compound)
        rows.append(
            CompoundRow(
                compound=compound,
                label=short_label(label),
                note=instead.get(compound) or describing_word(label, descriptors.get(compound, "")),
                is_critical=compound in critical,
                cells=cells,
                noses=sum(cells[person].standing == "met" for person in sitting),
                is_weak=compound in weak,
            )
        )
    return tuple(rows)


def _other_of_group(judged: Judged, family: str) -> dict[str, str]:
    """Of a critical group one counts: each member's note names the others."""
    return {
        compound: f"or {in_sentence(item_label([c for c in item if c != compound], judged.labels))}"
        for item in judged.critical[family]
        for compound in item
        if len(item) > 1
    }
