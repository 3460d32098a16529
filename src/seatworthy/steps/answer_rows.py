"""The rows in which an answer is kept, however it came in."""

from collections.abc import Iterator

from seatworthy.intake.answers import Answer
from seatworthy.intake.tables import TableRow
from seatworthy.intake.words import fold
from seatworthy.steps.picks import pick_rows
from seatworthy.steps.signing import salted


def answer_rows(serving_id: str, answer: Answer, picked: str | None) -> Iterator[TableRow]:
    """An answer to one serving.

    Args:
        serving_id: The glass, or set.
        answer: What it says.
        picked: Of a set, the code that was picked; None for a single glass.
    """
    yield (
        "answer",
        {
            "serving_id": serving_id,
            "kind": answer.kind,
            **salted("words", answer.words),
            "words_key": fold(answer.words) if answer.words else None,
            "rating": answer.rating,
        },
    )
    yield from pick_rows(serving_id, picked)
