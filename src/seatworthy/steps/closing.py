"""Close and reveal: from then on the answers of a session are evidence."""

from datetime import date, datetime, timedelta

from seatworthy.errors import PanelError
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.labels import short_label
from seatworthy.steps.reveal_views import RevealView, SampleResult, StandingChange
from seatworthy.steps.sentences import in_sentence, joined, number_word, sentence_start, the_beers
from seatworthy.steps.session_changes import session_changes
from seatworthy.steps.session_facts import SessionFacts, open_session, session_facts
from seatworthy.steps.session_parts import Glass
from seatworthy.steps.sessions import hindrances, missing_sentence
from seatworthy.steps.signing import sign
from seatworthy.steps.tally import sample_results
from seatworthy.steps.views import Choice

JUST_BEFORE = timedelta(microseconds=1)
NO_SEAT, SEAT = "seat rule not met", "seat rule met"
_FIRST_GLASSES = ("no_glasses", "too_little")


def close_session(
    desk: Desk, session_id: str, *, without_missing: bool = False, by: str | None = None
) -> str:
    """Close a session after its last sitting; its answers become evidence.

    Args:
        desk: The open store.
        session_id: The session.
        without_missing: Whether glasses without an answer may stay so.
        by: Who closes it.

    Raises:
        PanelError: if a sitting is not over, nothing was answered, or answers are missing.
    """
    with desk.store.recording("session closed") as act:
        facts = open_session(desk, session_id)
        standing_in_the_way = hindrances(facts)
        missing = missing_sentence(facts)
        if missing and not without_missing:
            standing_in_the_way.append(f"{missing} Enter them, or close without them.")
        if standing_in_the_way:
            message = f"“{facts.head.label}” can't be closed yet. {' '.join(standing_in_the_way)}"
            raise PanelError(message)
        sign(act, by)
        act.add("session_end", {"session_id": session_id, "how": "closed"})
    return f"“{facts.head.label}” is closed."


def call_off(desk: Desk, session_id: str, by: str | None = None) -> str:
    """Call a session off: nothing of it counts, and its codes are free again."""
    with desk.store.recording("session called off") as act:
        facts = open_session(desk, session_id)
        sign(act, by)
        act.add("session_end", {"session_id": session_id, "how": "called_off"})
    return f"“{facts.head.label}” is called off. What was entered stays on record and counts for nothing."


def reveal(desk: Desk, session_id: str) -> RevealView | None:
    """What was in the glasses of a closed session, and which standings it moved.

    Standings are compared at the end of the day of the close, as the record stood just before it and
    with it, so that no other session's answers are among the changes; samples and asides are today's.

    Returns:
        None if the session is not closed.
    """
    facts = session_facts(desk, session_id)
    if facts is None or facts.head.how != "closed" or facts.head.ended_at is None:
        return None
    before, after = judged_around(facts, facts.head.ended_at)
    changes = standing_changes(before, after)
    samples = tuple(sample_results(facts, after))
    answer, catch, lead = _sentences(facts, changes, samples)
    return RevealView(
        session_id=session_id,
        session_on=facts.head.session_on,
        label=facts.head.label,
        family=facts.head.family_label or "",
        answer=answer,
        catch=catch,
        lead=lead,
        changes=changes,
        samples=samples,
        people=tuple(
            Choice(person, facts.names[person])
            for person in facts.people()
            if any(g.kind and _has_page(facts, g) for g in facts.glasses if g.person_id == person)
        ),
        not_counted=tuple(_not_counted(facts)),
        corrections=session_changes(facts),
    )


def judged_around(facts: SessionFacts, ended_at: datetime) -> tuple[Judged, Judged]:
    """Everybody's standing at the end of the day of a close, as recorded just before it and with it."""
    day = day_of_close(facts, ended_at)
    return (
        judge_day(facts.desk, day, ended_at - JUST_BEFORE),
        judge_day(facts.desk, day, ended_at),
    )


def day_of_close(facts: SessionFacts, ended_at: datetime) -> date:
    """The day a session was closed on at the brewery, never before the session's own."""
    return max(facts.desk.day_of(ended_at), facts.head.session_on)


def standing_changes(before: Judged, after: Judged) -> tuple[StandingChange, ...]:
    """Seats first, then compounds; somebody's first glasses alone are no change."""
    return (*_seat_changes(before, after), *_cell_changes(before, after))


def _seat_changes(before: Judged, after: Judged) -> list[StandingChange]:
    found = []
    for (person, family), seat in after.seats.items():
        was = before.seats.get((person, family))
        could = was is not None and was.can_sit
        if could != seat.can_sit:
            beers = after.families[family]
            words = "meets" if seat.can_sit else "doesn't meet"
            sentence = (
                f"{after.people[person]} {words} the seat rule for {the_beers(beers)}. "
                f"{seat.verdict.sentence}"
            )
            said = {True: SEAT, False: NO_SEAT}
            found.append(
                StandingChange(
                    person,
                    after.people[person],
                    "",
                    "Seat",
                    beers,
                    said[could],
                    said[seat.can_sit],
                    sentence,
                )
            )
    return found


def _cell_changes(before: Judged, after: Judged) -> list[StandingChange]:
    found = []
    for cell, verdict in after.cells.items():
        person, compound, family = cell
        was = str(before.cells[cell].standing) if cell in before.cells else "no_glasses"
        now = str(verdict.standing)
        if was != now and (was, now) != _FIRST_GLASSES:
            label = short_label(after.labels.get(compound, compound))
            found.append(
                StandingChange(
                    person,
                    after.people[person],
                    compound,
                    label,
                    after.families[family],
                    was,
                    now,
                    verdict.verdict.full,
                )
            )
    return sorted(found, key=lambda change: (change.name.casefold(), change.label))


def _not_counted(facts: SessionFacts) -> list[str]:
    """Whose answers, or which samples, are kept and count for nothing."""
    found = [
        f"{facts.names[person]} prepared the glasses, so those answers are kept and not counted."
        for person in facts.people()
        if facts.prepares_own(person)
    ]
    for sitting in facts.sittings:
        found += [
            f"{sample.mark} ({facts.sample_label(sample)}, {sitting.label}) is set aside."
            for sample in facts.samples_at(sitting.sitting_id)
            if sample.is_aside
        ]
        found += [
            f"{sample.mark} ({facts.compound_label(sample.compound)}, {sitting.label}): {sample.unfit}, "
            "so its answers are kept and not for qualification."
            for sample in facts.samples_at(sitting.sitting_id)
            if sample.unfit and not sample.is_aside
        ]
    alone = sum(glass.is_glass_aside and glass.kind is not None for glass in facts.glasses)
    if alone:
        found.append(f"{alone} {'glass is' if alone == 1 else 'glasses are'} set aside.")
    return found


def _sentences(
    facts: SessionFacts, changes: tuple[StandingChange, ...], samples: tuple[SampleResult, ...]
) -> tuple[str, str, str]:
    count = len(changes)
    standings = "standing" if count == 1 else "standings"
    number = sentence_start(number_word(count) if count else "no")
    answer = f"{_beers_judged(facts)}{number} {standings} changed"
    suspects = list(
        dict.fromkeys(f"{s.mark} ({in_sentence(s.label)})" for s in samples if s.is_suspect)
    )
    catch = f"look at the bottle first: {joined(suspects)}." if suspects else ""
    answered = sum(glass.kind is not None for glass in facts.glasses)
    good = [sample for sample in samples if not sample.is_aside]
    ratings = sum(sample.rated.ratings for sample in good if sample.rated is not None)
    counted = sum(sample.answers for sample in good) + ratings
    rated = f", {ratings} as {'a rating' if ratings == 1 else 'ratings'}" if ratings else ""
    waiting = sum(outcome == "open" for outcome in facts.outcomes.values())
    words = (
        f" {waiting} in own words {'waits' if waiting == 1 else 'wait'} for a meaning: say it "
        "below."
        if waiting
        else ""
    )
    judged = "; what was said of a beer counts for nobody" if _beers_judged(facts) else ""
    counts = f"{answered} answers came in, {counted} of them count{rated}{judged}."
    lead = f"{counts}{words} {_about_seats(changes)}"
    beers = _beers_asked(facts)
    if beers and not counted:
        answer, lead = "Everybody's record shows anew whether they tell the beer apart", ""
    return answer, catch, " ".join(word for word in (lead, beers) if word)


def _beers_judged(facts: SessionFacts) -> str:
    """What a release sitting was for, before what came of its check glasses; "" for any other."""
    batches = {s.batch_id for s in facts.samples.values() if s.batch_id is not None}
    if not batches:
        return ""
    beers = "beer was" if len(batches) == 1 else "beers were"
    return f"{sentence_start(number_word(len(batches)))} {beers} judged. "


def _has_page(facts: SessionFacts, glass: Glass) -> bool:
    """Whether somebody's feedback has the glass; one that asks about a beer stands on the record."""
    return facts.samples[glass.sample_id].asks_beer is None


def _beers_asked(facts: SessionFacts) -> str:
    """What all together said of the glasses that asked about a beer; "" where none did."""
    said = {s.poured_label: [0, 0] for s in facts.samples.values() if s.asks_beer}
    for glass in facts.glasses:
        sample = facts.samples[glass.sample_id]
        if sample.asks_beer is None or glass.kind is None or glass.is_aside:
            continue
        said[sample.poured_label][0] += glass.kind == "yes"
        said[sample.poured_label][1] += 1
    told = [f"{yes} of {all_} of {label}" for label, (yes, all_) in said.items() if all_]
    asked = dict.fromkeys(s.asks_beer_label for s in facts.samples.values() if s.asks_beer)
    return f"Taken for {joined(list(asked))}: {'; '.join(told)}." if told else ""


def _about_seats(changes: tuple[StandingChange, ...]) -> str:
    seats = sum(not change.compound for change in changes)
    if not changes:
        return "Every counted glass brings the next standing nearer."
    if not seats:
        return "No seat changed."
    return "One of the changes is a seat." if seats == 1 else f"{seats} of the changes are seats."
