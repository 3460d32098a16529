"""Sentences that the papers for an audit share."""

from seatworthy.steps.desk import Desk
from seatworthy.steps.history_phrases import plain_day
from seatworthy.steps.judging import Judged


def rulebook_sentence(desk: Desk, judged: Judged) -> str:
    """The rulebook by which a day was judged: name, version, days and digest."""
    in_force = desk.rulebook_on(judged.as_of, judged.known_at)
    book = in_force.rulebook
    adopted = plain_day(desk.day_of(in_force.adopted_at))
    return (
        f"Rulebook {book.name}, version {book.version}; it counts from "
        f"{plain_day(book.counts_from)} and was adopted on {adopted}. Digest (SHA-256): "
        f"{in_force.digest}."
    )


def brewery_name(desk: Desk, judged: Judged) -> str:
    """The brewery's name; "" if it was not stated."""
    rows = desk.store.rows("brewery", judged.known_at)
    return rows[0]["label"] if rows else ""
