"""The rows in which an answer after the talk is kept, however it came in."""

from collections.abc import Iterator

from seatworthy.intake.answers import Answer
from seatworthy.intake.tables import TableRow
from seatworthy.intake.words import fold
from seatworthy.steps.signing import salted


def talk_rows(serving_id: str, answer: Answer) -> Iterator[TableRow]:
    """An answer after the talk to one glass; the one before it stays where it is.

    Args:
        serving_id: The glass.
        answer: What is said now; its kind is words, something or nothing.
    """
    yield (
        "talk_answer",
        {
            "serving_id": serving_id,
            "kind": answer.kind,
            **salted("words", answer.words),
            "words_key": fold(answer.words) if answer.words else None,
        },
    )
