"""Sessions as they stand: the list of all, and one from its plan to its close."""

from collections import Counter
from typing import Any

from seatworthy.steps.desk import Desk
from seatworthy.steps.live_table import answers_in
from seatworthy.steps.release_answers import talk_waits
from seatworthy.steps.sentences import day_in_sentence, joined, number_word, sentence_start
from seatworthy.steps.session_care import care_lines
from seatworthy.steps.session_facts import SessionFacts, session_facts, session_state
from seatworthy.steps.session_parts import Glass, Sample, Sitting
from seatworthy.steps.session_views import (
    GlassLine,
    SampleLine,
    SeatedView,
    SessionLine,
    SessionsView,
    SessionView,
    SittingView,
)
from seatworthy.steps.vessels import preparing_sentence
from seatworthy.steps.views import Choice

NO_SESSION = "No session yet"
RELEASE_SITTING = "release sitting"
_RUNNING = ("planned", "in_hand", "over")


def sessions(desk: Desk) -> SessionsView:
    """Every session: what is planned or under way first, then the newest."""
    lines = [_line(desk, row) for row in desk.store.rows("session_list")]
    running = [line for line in lines if line.state in _RUNNING]
    done = [line for line in lines if line not in running]
    running.sort(key=lambda line: (line.session_on, line.label))
    answer, catch, lead = _list_sentences(desk, running, done)
    return SessionsView(answer, catch, lead, (*running, *done))


def what_is_open(desk: Desk) -> str:
    """The first session that is planned or under way, as a sentence without its stop; "" if none is."""
    running = [line for line in sessions(desk).sessions if line.state in _RUNNING]
    return _under_way(desk, running[0]) if running else ""


def _line(desk: Desk, row: dict[str, Any]) -> SessionLine:
    over = row["sittings_over"] == row["sittings"]
    state = session_state(row["purpose"], row["how"], bool(row["answered"]), over)
    return SessionLine(
        session_id=row["session_id"],
        session_on=row["session_on"],
        label=row["label"],
        purpose=_purpose(row["purpose"], is_release=row["is_release"]),
        state=state,
        people=row["people"],
        glasses=row["glasses"],
        answered=row["answered"],
        sentence=_what_is_next(desk, state, row),
    )


def _purpose(purpose: str | None, *, is_release: bool) -> str:
    """What a session is for, as a leader says it; "" for one that came from a file."""
    return RELEASE_SITTING if is_release else purpose or ""


def _what_is_next(desk: Desk, state: str, row: dict[str, Any]) -> str:
    if state == "planned":
        return "Print the papers." if row["session_on"] >= desk.today() else "Enter the answers."
    if state == "in_hand":
        left = row["waiting"]
        return f"{left} without an answer." if left else "Say that the sittings are over."
    return {
        "over": "Close and reveal.",
        "closed": "See what came of it.",
        "called_off": "Called off; nothing counts.",
        "brought_in": "Brought in from a file.",
    }[state]


def _list_sentences(
    desk: Desk, running: list[SessionLine], done: list[SessionLine]
) -> tuple[str, str, str]:
    if not running and not done:
        lead = (
            "A session starts with a plan: who comes, what is poured, blanks and a hidden pair. "
            "The papers are printed from it."
        )
        return NO_SESSION, "plan the first one.", lead
    if not running:
        last = max(line.session_on for line in done)
        answer = (
            f"Nothing is planned; the last session was on {day_in_sentence(last, desk.today())}"
        )
        return answer, "", "Plan the next one, or repeat one of those below with fresh codes."
    others = len(running) - 1
    verb = "is" if others == 1 else "are"
    lead = f"{sentence_start(number_word(others))} more {verb} open." if others else ""
    sentence = running[0].sentence
    return _under_way(desk, running[0]), sentence[:1].lower() + sentence[1:], lead


def _under_way(desk: Desk, line: SessionLine) -> str:
    if line.state != "planned":
        return f"“{line.label}” is under way"
    today = desk.today()
    people = "one person" if line.people == 1 else f"{number_word(line.people)} people"
    day = "today" if line.session_on == today else day_in_sentence(line.session_on, today)
    verb = "is" if line.session_on >= today else "was"
    return f"“{line.label}” {verb} planned for {people}, {day}"


def session(desk: Desk, session_id: str) -> SessionView | None:
    """One session; None if there is none of this id."""
    facts = session_facts(desk, session_id)
    if facts is None:
        return None
    head = facts.head
    waiting = [glass for glass in facts.glasses if facts.is_waiting(glass)]
    answer, catch, lead = _sentences(facts, len(waiting))
    missing = missing_sentence(facts) if facts.is_open else ""
    everybody = [Choice(person, name) for person, name in facts.names.items()]
    here = {seat[1] for seat in facts.seated} | set(facts.people())
    return SessionView(
        session_id=head.session_id,
        session_on=head.session_on,
        label=head.label,
        purpose=_purpose(head.purpose, is_release=head.is_release),
        beer=head.beer_label or "",
        family=head.family_label or "",
        state=facts.state,
        answer=answer,
        catch=catch,
        lead=lead,
        sittings=tuple(_sitting(facts, sitting) for sitting in facts.sittings),
        preparers=tuple(facts.names[person] for person in facts.preparers),
        is_recoded=head.is_recoded,
        recoded_by=facts.names.get(head.recoded_by or "", ""),
        hindrances=tuple(hindrances(facts)),
        missing=len(waiting) if facts.is_open else 0,
        may_come=tuple(choice for choice in everybody if choice.key not in here),
        people=tuple(everybody),
        care=tuple(care_lines(facts)),
        preparing=preparing_sentence(facts),
        lead_besides=" ".join(lead.replace(missing, "").split()),
    )


def hindrances(facts: SessionFacts) -> list[str]:
    """What stands in the way of closing a session, one sentence each; missing answers apart."""
    if not facts.is_open:
        return []
    found = []
    if facts.head.session_on > facts.desk.today():
        day = day_in_sentence(facts.head.session_on, facts.desk.today())
        found.append(f"It is planned for {day}.")
    found += [
        f"{sitting.label} is not over yet." for sitting in facts.sittings if not sitting.is_over
    ]
    if not any(glass.kind for glass in facts.glasses):
        found.append("No answer has come in. Enter the sheets, or call the session off.")
    return found


def missing_sentence(facts: SessionFacts) -> str:
    """Whose answers are missing, in one sentence; "" if none is."""
    waiting = Counter(g.person_id for g in facts.glasses if facts.is_waiting(g))
    per_person = Counter({p: waiting[p] for p in facts.people() if waiting[p]})
    if not per_person:
        return ""
    whose = [f"{facts.names[person]} {count}" for person, count in per_person.items()]
    glasses = "glass has" if per_person.total() == 1 else "glasses have"
    return f"{per_person.total()} {glasses} no answer: {joined(whose)}."


def _sitting(facts: SessionFacts, sitting: Sitting) -> SittingView:
    return SittingView(
        sitting_id=sitting.sitting_id,
        label=sitting.label,
        starts_at=facts.local(sitting.starts_at),
        seated=tuple(
            _seated(facts, sitting.sitting_id, person)
            for person in facts.people_at(sitting.sitting_id)
        ),
        samples=tuple(_sample(facts, s) for s in facts.samples_at(sitting.sitting_id)),
        spares_left=len(facts.spares_at(sitting.sitting_id)),
        is_over=sitting.is_over,
    )


def _seated(facts: SessionFacts, sitting_id: str, person: str) -> SeatedView:
    glasses = facts.glasses_of(sitting_id, person)
    return SeatedView(
        person_id=person,
        name=facts.names[person],
        state=facts.seat_state(sitting_id, person),
        glasses=tuple(_glass(facts, glass) for glass in glasses),
        waiting=sum(facts.is_waiting(glass) for glass in glasses),
        own_aside=bool(glasses) and all(glass.is_own_aside for glass in glasses),
    )


def _glass(facts: SessionFacts, glass: Glass) -> GlassLine:
    event = glass.event if glass.event in ("spilled", "short") else ""
    return GlassLine(
        serving_id=glass.serving_id,
        position=glass.position or 0,
        code=glass.label,
        mark=_letters(facts, glass),
        said=facts.said(glass),
        event=event or ("swapped" if glass.is_swapped else ""),
        is_aside=glass.is_aside,
    )


def _letters(facts: SessionFacts, glass: Glass) -> str:
    """The letter of what was really in it; of a set, the letters from left to right."""
    held = [part.sample_id for part in glass.parts] or [glass.sample_id]
    return " ".join(facts.samples[sample_id].mark for sample_id in held)


def _sample(facts: SessionFacts, sample: Sample) -> SampleLine:
    own = Counter(
        g.person_id for g in facts.glasses for poured in g.poured_from if poured == sample.sample_id
    )
    return SampleLine(
        sample_id=sample.sample_id,
        mark=sample.mark,
        compound=sample.compound,
        label=facts.sample_label(sample),
        planned_level=sample.given_level,
        actual_level=sample.actual_level,
        age_minutes=sample.age_minutes,
        addition=sample.addition,
        per_person=max(own.values(), default=1),
        is_aside=sample.is_aside,
    )


def _sentences(facts: SessionFacts, waiting: int) -> tuple[str, str, str]:
    """The sentence on top of a session, its catch and its lead."""
    head, today = facts.head, facts.desk.today()
    people, glasses = len(facts.people()), len(facts.glasses)
    who = f"{sentence_start(number_word(people))} {'person' if people == 1 else 'people'}"
    size = f"{who}, {glasses} glasses"
    if head.how == "closed":
        answered = sum(glass.kind is not None for glass in facts.glasses)
        return f"{head.label} is closed with {answered} answers", "", f"{size}."
    if head.how == "called_off":
        return f"{head.label} was called off; nothing of it counts", "", f"{size}."
    if head.purpose is None:
        return f"{head.label or 'This session'} was brought in from a file", "", f"{size}."
    lead = f"{size}, {head.beer_label}. {missing_sentence(facts)}".strip()
    if facts.state == "planned":
        day = "today" if head.session_on == today else day_in_sentence(head.session_on, today)
        verb = "is" if head.session_on >= today else "was"
        catch = _first_step(facts) if head.session_on >= today else "enter the answers."
        return f"{head.label} {verb} planned for {day}", catch, f"{size}, {head.beer_label}."
    own_words = len({g.words for g in facts.glasses if g.kind == "words" and not g.is_known})
    if own_words:
        wordings = "One wording names" if own_words == 1 else f"{own_words} wordings name"
        lead += f" {wordings} nothing on the shelf yet; say below what is meant."
    answered = sum(glass.kind is not None for glass in facts.glasses)
    answer = answers_in(answered, answered + waiting)
    if waiting:
        return answer, f"{waiting} {'waits' if waiting == 1 else 'wait'}.", lead
    if talk_waits(facts):
        return answer, "open the talk.", lead
    if hindrances(facts):
        return answer, "say that the last sitting is over.", lead
    return f"{answer} and every sitting is over", "close and reveal.", lead


def _first_step(facts: SessionFacts) -> str:
    """What is next of a plan: papers, and links where some were made."""
    has_links = facts.desk.store.rows("session_links", session_id=facts.head.session_id)
    return "print the papers and hand out the links." if has_links else "print the papers."
