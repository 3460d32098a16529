"""The state of a seat in the words of a paper for an audit."""

from types import MappingProxyType
from typing import Final

from seatworthy.rules.seat_states import SeatState
from seatworthy.steps.history_phrases import plain_day

STATE_WORDS: Final = MappingProxyType(
    {
        "candidate": "candidate",
        "trainee": "in training",
        "probation": "on probation",
        "qualified": "qualified",
        "paused": "seat paused",
        "suspended": "seat suspended",
        "lapsed": "seat lapsed",
        "withdrawn": "seat withdrawn",
    }
)


def state_word(state: SeatState | None) -> str:
    """The state alone; somebody of whom nothing is known is a candidate."""
    return STATE_WORDS["candidate" if state is None else str(state.state)]


def state_words(state: SeatState | None, where: str) -> str:
    """The state with what was signed of it, a whole sentence but for its subject.

    Args:
        state: On the day asked; None if nothing is known.
        where: For which beers on which day.
    """
    if state is None or state.signed is None:
        return f"{state_word(state)} {where}; no seat was signed."
    parts = [f"{state_word(state)} {where}"]
    if state.since is not None:
        parts.append(f"since {plain_day(state.since)}")
    if state.until is not None:
        parts.append(f"signed until {plain_day(state.until)}")
    if state.in_grace:
        parts.append("past its last day and still honoured")
    return f"{', '.join(parts)}."
