"""A proposal as the person concerned reads it."""

from dataclasses import dataclass
from datetime import date

from seatworthy.phrases import STATE_WORDS
from seatworthy.rules.compound import day_text
from seatworthy.steps.decision_views import ReplyView
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.labels import first_names
from seatworthy.steps.proposals_put import PutProposals
from seatworthy.steps.seats import seat_states
from seatworthy.steps.sentences import the_beers

_OPEN = "You may add a remark, or ask for a recheck, before anybody signs. Nothing has changed yet."
_DONE = "Something was signed about this seat since; nothing more can be added here."


@dataclass(frozen=True)
class WordView:
    """One proposal.

    Attributes:
        answer, lead: The sentence on top and what stands under it.
        put_on: Day on which it was put before the person.
        replies: What they said, oldest first.
        is_open: Whether nothing was signed about it since.
        recheck_open: Whether their last word on it is a wish for a recheck.
    """

    proposal_id: str
    person_id: str
    name: str
    family: str
    family_label: str
    answer: str
    lead: str
    put_on: date
    replies: tuple[ReplyView, ...]
    is_open: bool
    recheck_open: bool


def word_view(desk: Desk, proposal_id: str) -> WordView | None:
    """One proposal; None if there is none of that id."""
    put = PutProposals(desk)
    found = put.all.get(proposal_id)
    judged = judge_day(desk)
    if found is None or found.person_id not in judged.people:
        return None
    is_open = proposal_id in {one.proposal_id for one in put.open().values()}
    label = judged.families.get(found.family, found.family)
    replies = put.replies(found)
    asked = [one.kind for one in replies if one.kind in ("recheck", "withdrawn")]
    until = f" until {day_text(found.until_on)}" if found.until_on else ""
    state = seat_states(desk, judged.as_of).get(found.seat)
    now = STATE_WORDS[str(state.state)] if state else STATE_WORDS["trainee"]
    name = first_names(judged.people)[found.person_id]
    return WordView(
        proposal_id=proposal_id,
        person_id=found.person_id,
        name=judged.people[found.person_id],
        family=found.family,
        family_label=label,
        answer=f"{name}, {_proposed(found.state, label, is_first=state is None or state.signed is None)}{until}; today you are {now}",
        lead=_OPEN if is_open else _DONE,
        put_on=desk.day_of(found.recorded_at),
        replies=replies,
        is_open=is_open,
        recheck_open=bool(asked) and asked[-1] == "recheck",
    )


def _proposed(state: str, label: str, *, is_first: bool) -> str:
    """What is proposed; a first seat is good news and is said so."""
    if is_first and state in ("probation", "qualified"):
        return f"a first seat is proposed for you, for {the_beers(label)}: {STATE_WORDS[state]}"
    return f"it is proposed that for {the_beers(label)} you are {STATE_WORDS[state]}"
