"""One person's page about one closed session: progress first, no ranking, nobody else's name."""

from collections import Counter
from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from seatworthy.phrases import multiple
from seatworthy.rules.calendar_months import months_before
from seatworthy.sessions.wish import NAMING
from seatworthy.steps.chain_head import chain_head
from seatworthy.steps.closing import JUST_BEFORE, day_of_close
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.progress import progress_rows
from seatworthy.steps.reveal_views import FeedbackGlass, FeedbackView
from seatworthy.steps.sentences import in_sentence, joined, number_word, sentence_start
from seatworthy.steps.session_facts import SessionFacts, session_facts
from seatworthy.steps.session_parts import Glass
from seatworthy.steps.smelling import smell_next
from seatworthy.steps.tally import rated_as
from seatworthy.steps.views import Choice

FEWEST_OTHERS = 4  # with fewer, "k of n others" would say who said what


def feedback_people(desk: Desk, session_id: str) -> tuple[Choice, ...]:
    """Everybody with answers in a closed session, by name; empty for any other."""
    facts = session_facts(desk, session_id)
    return () if facts is None or facts.head.how != "closed" else _people(facts)


def feedback(desk: Desk, session_id: str, person_id: str) -> FeedbackView | None:
    """One person's page; None unless the session is closed and they answered in it."""
    facts = session_facts(desk, session_id)
    if facts is None or facts.head.how != "closed" or facts.head.ended_at is None:
        return None
    own = [g for g in facts.glasses if g.person_id == person_id and _is_answered(facts, g)]
    if not own:
        return None
    day = day_of_close(facts, facts.head.ended_at)
    before = judge_day(desk, day, facts.head.ended_at - JUST_BEFORE)
    after = judge_day(desk, day)  # by today's record, so that a glass set aside since shows
    judged = [glass for glass in own if facts.outcome(glass) is not None]
    counted = [glass for glass in judged if _note(facts, glass) == ""]
    named = [glass for glass in counted if glass.method == NAMING]
    past = _past(desk, before, person_id)
    brewery = desk.store.rows("brewery")
    return FeedbackView(
        session_id=session_id,
        session_on=facts.head.session_on,
        session_label=facts.head.label,
        brewery=brewery[0]["label"] if brewery else "",
        family=facts.head.family_label or "",
        person_id=person_id,
        name=facts.names[person_id],
        answer=_answer(facts, counted, past) if judged else _rated_alone(own),
        compared=_compared(facts, named, past) if any(g.method == NAMING for g in own) else "",
        smell_next=smell_next(facts, counted, past),
        glasses=tuple(_glass(facts, glass) for glass in _in_order(own)),
        progress=progress_rows(facts, judged, named, past, after) if judged else (),
        needed=after.rulebook.asked.named_right,
        reference_level=after.rulebook.asked.reference_level,
        people=_people(facts),
        record=chain_head(desk).words,
    )


def _people(facts: SessionFacts) -> tuple[Choice, ...]:
    answered = {glass.person_id for glass in facts.glasses if _is_answered(facts, glass)}
    return tuple(
        Choice(person, facts.names[person]) for person in facts.people() if person in answered
    )


def _is_answered(facts: SessionFacts, glass: Glass) -> bool:
    """Whether there is an answer to show; a yes or no about something else than what was in it isn't."""
    return facts.outcome(glass) is not None or glass.is_rated


def _past(desk: Desk, before: Judged, person_id: str) -> list[dict[str, Any]]:
    """Every spiked naming glass of the twelve months before the close, as recorded just then."""
    counting = before.rulebook.counted
    after_on = months_before(before.as_of, counting.months)
    rows = desk.store.rows(
        "person_glasses",
        before.known_at,
        person_id=person_id,
        until_on=before.as_of,
        after_on=after_on,
        lowest_level=counting.lowest_level,
        highest_level=counting.highest_level,
    )
    return [row for row in rows if row["method"] == "naming" and row["session_on"] > after_on]


def _in_order(glasses: Sequence[Glass]) -> list[Glass]:
    return sorted(glasses, key=lambda glass: (glass.sitting_id, glass.position or 0))


def _glass(facts: SessionFacts, glass: Glass) -> FeedbackGlass:
    sample = facts.samples[glass.sample_id]
    others = _others(facts, glass)
    enough = len(others) >= FEWEST_OTHERS
    return FeedbackGlass(
        position=glass.position or 0,
        code="" if glass.parts else glass.blind_code or "",
        was=_what_was_in(facts.compound_label(sample.compound), sample.level) + _in_which(glass),
        said=_said(facts, glass),
        outcome=_came_to(facts, glass),
        others=len(others) if enough and not glass.is_rated else None,
        others_right=_right(facts, others) if enough and not glass.is_rated else None,
        note=_note(facts, glass),
        codes=glass.codes if glass.parts else (),
        method=glass.method,
        others_rated=rated_as(others) if enough and glass.is_rated else None,
    )


def _right(facts: SessionFacts, glasses: Sequence[Glass]) -> int:
    return sum(facts.outcome(glass) == "right" for glass in glasses)


def _in_which(glass: Glass) -> str:
    """Which glasses of a set held it: ", in 417", or ", in all but 417"; "" for a single glass."""
    odd = next((part for part in glass.parts if part.is_odd), None)
    if odd is None:
        return ""
    return f", in {odd.code}" if odd.sample_id == glass.sample_id else f", in all but {odd.code}"


def _came_to(facts: SessionFacts, glass: Glass) -> str:
    outcome = facts.outcome(glass) or "rated"
    if glass.parts and outcome == "wrong":
        return "missed"  # a wrong pick is no other name
    return "open" if outcome == "noticed" else outcome


def _what_was_in(label: str, level: Decimal | None) -> str:
    return label if level is None else f"{label}, {multiple(float(level))}"


def _said(facts: SessionFacts, glass: Glass) -> str:
    named = glass.named_compound
    if named:
        return in_sentence(facts.compound_label(named))
    asked = facts.asked_label(glass.planned_sample_id)
    if not asked:
        return facts.said(glass)
    return f"{glass.said} for {asked}" if glass.is_rated else f"{glass.said} to {asked}"


def _note(facts: SessionFacts, glass: Glass) -> str:
    if facts.prepares_own(glass.person_id):
        return "you prepared it: kept, not counted"
    if glass.is_aside:
        return "set aside: not counted"
    unfit = facts.samples[glass.sample_id].unfit
    if unfit:
        return f"{unfit}: not counted"
    return "own words: not counted yet" if facts.outcome(glass) == "open" else ""


def _others(facts: SessionFacts, glass: Glass) -> list[Glass]:
    """Other people's first counted glass of the same vessel, at the same level."""
    sample, asks = facts.samples[glass.sample_id], facts.asked_label(glass.planned_sample_id)
    found: dict[str, Glass] = {}
    for other in facts.glasses:
        poured = facts.samples[other.sample_id]
        same = (poured.mark, poured.level) == (sample.mark, sample.level)
        same = same and _is_answered(facts, other) and other.method == glass.method
        same = same and facts.asked_label(other.planned_sample_id) == asks
        if same and other.person_id != glass.person_id and not _note(facts, other):
            found.setdefault(other.person_id, other)
    return list(found.values())


def _answer(facts: SessionFacts, own: Sequence[Glass], past: Sequence[dict[str, Any]]) -> str:
    """The sentence on top: what is new, how many were right, what passes for what."""
    if not own:
        return "None of these glasses counts. Here is what was in them."
    right = _right(facts, own)
    size = f"{number_word(right) if right else 'none'} of {number_word(len(own))} right"
    parts = [_progress(facts, own, past), sentence_start(size) + ".", _mixed_up(facts, own)]
    return " ".join(part for part in parts if part)


def _rated_alone(own: Sequence[Glass]) -> str:
    size = "one glass" if len(own) == 1 else f"{number_word(len(own))} glasses"
    return f"You rated {size}. A rating is neither right nor wrong."


def _progress(facts: SessionFacts, own: Sequence[Glass], past: Sequence[dict[str, Any]]) -> str:
    """What was named right now and not the last time; "" if nothing."""
    last = {
        row["compound"]: row["outcome"]
        for row in past
        if row["family"] == facts.head.family and row["outcome"] != "open"
    }
    now = [
        compound
        for glass in own
        if glass.method == NAMING
        and facts.outcome(glass) == "right"
        and (compound := facts.samples[glass.sample_id].compound)
        and last.get(compound) not in ("right", None)
    ]
    names = [in_sentence(facts.compound_label(c)) for c in dict.fromkeys(now)][:2]
    if not names:
        return ""
    return f"You named {joined(names)}, which got past you last time."


def _mixed_up(facts: SessionFacts, own: Sequence[Glass]) -> str:
    pairs = Counter(
        (facts.samples[glass.sample_id].compound, glass.named_compound)
        for glass in own
        if facts.outcome(glass) == "wrong" and glass.named_compound
    )
    named = [pair for pair in pairs if pair[0] is not None]
    if not named:
        return ""
    (was, said) = max(named, key=lambda pair: pairs[pair])
    label = facts.compound_label
    return f"{sentence_start(label(was))} passed for {in_sentence(label(said))}."


def _compared(facts: SessionFacts, own: Sequence[Glass], past: Sequence[dict[str, Any]]) -> str:
    """How this session compares with the person's own last twelve months, as counts."""
    spiked = [glass for glass in own if facts.samples[glass.sample_id].compound is not None]
    right = _right(facts, spiked)
    if not spiked:
        return "None of your spiked glasses counts this time, so there is nothing to compare."
    here = f"Spiked glasses named right this time: {right} of {len(spiked)}"
    decided = [row for row in past if row["outcome"] != "open"]
    if not decided:
        return f"{here}. These are your first, so there is nothing to compare them with yet."
    before = sum(row["outcome"] == "right" for row in decided)
    return f"{here}; in the twelve months before: {before} of {len(decided)}."
