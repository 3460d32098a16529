"""The state of a seat in the words of a paper for an audit."""

from seatworthy.phrases import STATE_WORDS
from seatworthy.rules.seat_states import SeatState
from seatworthy.steps.history_phrases import plain_day


def state_word(state: SeatState | None) -> str:
    """The state alone; somebody of whom nothing is known has not started."""
    return STATE_WORDS["candidate" if state is None else str(state.state)]


def state_words(state: SeatState | None) -> str:
    """The state with what was signed of it, the end of a sentence.

    Args:
        state: On the day asked; None if nothing is known.
    """
    if state is None or state.signed is None:
        return f"{state_word(state)}; no seat was signed."
    parts = [state_word(state)]
    if state.since is not None:
        parts.append(f"since {plain_day(state.since)}")
    if state.until is not None:
        parts.append(f"signed until {plain_day(state.until)}")
    if state.in_grace:
        parts.append("past its last day and still honoured")
    return f"{', '.join(parts)}."
