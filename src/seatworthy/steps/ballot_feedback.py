"""One person's own glasses after the reveal, as their link shows them; nobody else is on it."""

from collections import Counter
from collections.abc import Sequence

from seatworthy.sessions.wish import OTHER_BATCH, OWN, YES_NO
from seatworthy.steps.ballot_seats import BallotSeat, ballot_glasses, ballot_seat, seat_state
from seatworthy.steps.ballot_views import REVEALED, BallotGlass, OwnFeedback, OwnGlass
from seatworthy.steps.desk import Desk
from seatworthy.steps.session_facts import SessionFacts, session_facts
from seatworthy.steps.session_parts import Glass

_JUDGED = ("right", "wrong", "missed", "called", "open", "not_known", "taken_for")


def own_feedback(desk: Desk, secret: str) -> OwnFeedback | None:
    """What a link shows of its person's own glasses once the session is closed; None before."""
    seat = ballot_seat(desk, secret)
    if seat is None or seat_state(desk, seat) != REVEALED:
        return None
    facts = session_facts(desk, seat.session_id)
    if facts is None:
        return None
    glasses = _own_glasses(desk, seat, facts)
    counted = [glass for glass in glasses if glass.outcome in _JUDGED and not glass.note]
    return OwnFeedback(
        name=seat.name,
        language=seat.language,
        session_on=seat.session_on,
        glasses=glasses,
        right=sum(glass.outcome == "right" for glass in counted),
        counted=len(counted),
        mixed_up=_mixed_up(counted),
        expires_on=seat.expires_on,
        has_tasted=seat.state != "absent",
        is_release=seat.is_release,
    )


def _own_glasses(desk: Desk, seat: BallotSeat, facts: SessionFacts) -> tuple[OwnGlass, ...]:
    poured = {glass.serving_id: glass for glass in facts.glasses}
    return tuple(
        _own_glass(facts, shown, poured[shown.serving_id]) for shown in ballot_glasses(desk, seat)
    )


def _own_glass(facts: SessionFacts, shown: BallotGlass, glass: Glass) -> OwnGlass:
    sample = facts.samples[glass.sample_id]
    odd = next((part for part in glass.parts if part.is_odd), None)
    named = glass.named_compound
    return OwnGlass(
        place=shown.place,
        codes=shown.codes,
        was=facts.compound_label(sample.compound) if sample.compound else "",
        level=sample.level if sample.compound else None,
        odd=odd.code if odd else "",
        held_by_others=odd is not None and odd.sample_id != glass.sample_id,
        said=shown.answer,
        said_label=facts.compound_label(named) if named else "",
        outcome=_outcome(facts, glass),
        note=_note(facts, glass),
        after=shown.after,
        beer=sample.poured_label,
    )


def _outcome(facts: SessionFacts, glass: Glass) -> str:
    if glass.kind is None:
        return "spilled" if glass.event == "spilled" else ""
    outcome = facts.outcome(glass)
    if outcome is None:
        return _outcome_of_a_beer(facts, glass) or "rated"
    if glass.parts and outcome == "wrong":
        return "missed"  # a wrong pick is no other name
    if glass.method == YES_NO and outcome == "wrong":
        return "called"
    return "open" if outcome == "noticed" else outcome


def _outcome_of_a_beer(facts: SessionFacts, glass: Glass) -> str:
    """What came of a beer poured as it is: nobody knows of a batch, and one batch stands for another."""
    sample = facts.samples[glass.sample_id]
    if not sample.is_poured_as_it_is:
        return ""
    if sample.variant in (None, OTHER_BATCH) or glass.kind not in ("yes", "no"):
        return "judged"
    if (glass.kind == "yes") == (sample.variant == OWN):
        return "right"
    return "not_known" if glass.kind == "no" else "taken_for"


def _note(facts: SessionFacts, glass: Glass) -> str:
    if glass.kind is None:
        return ""
    if facts.prepares_own(glass.person_id):
        return "prepared"
    if glass.is_aside:
        return "aside"
    if facts.samples[glass.sample_id].unfit:
        return "unfit"
    return "waits" if facts.outcome(glass) == "open" else ""


def _mixed_up(glasses: Sequence[OwnGlass]) -> tuple[str, str] | None:
    """The commonest mix-up, as what was in the glass and what it was called."""
    pairs = Counter(
        (glass.was, glass.said_label)
        for glass in glasses
        if glass.outcome == "wrong" and glass.was and glass.said_label
    )
    return max(pairs, key=lambda pair: pairs[pair]) if pairs else None
