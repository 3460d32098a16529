"""Sentences and names of files that the papers for an audit share."""

from datetime import date, datetime

from seatworthy.steps.desk import Desk, InForce
from seatworthy.steps.history_phrases import plain_day
from seatworthy.steps.judging import Judged


def rulebook_sentence(desk: Desk, judged: Judged) -> str:
    """The rulebook by which a day was judged: name, version, days, digest, and who adopted it."""
    in_force = desk.rulebook_on(judged.as_of, judged.known_at)
    book = in_force.rulebook
    return (
        f"Rulebook {book.name}, version {book.version}; it counts from "
        f"{plain_day(book.counts_from)}. {_adoption(desk, judged, in_force)} Digest (SHA-256): "
        f"{in_force.digest}."
    )


def rules_came_later(desk: Desk, judged: Judged) -> str:
    """That nobody had adopted any rules by the day judged; "" if somebody had."""
    in_force = desk.rulebook_on(judged.as_of, judged.known_at)
    adopted_on = desk.day_of(in_force.adopted_at)
    if adopted_on <= judged.as_of:
        return ""
    book = in_force.rulebook
    return (
        f"Nobody had adopted any rules by that day; judged by “{book.name}”, version {book.version}, "
        f"which was adopted on {plain_day(adopted_on)}."
    )


def _adoption(desk: Desk, judged: Judged, in_force: InForce) -> str:
    adopted = plain_day(desk.day_of(in_force.adopted_at))
    rows = desk.store.rows("rulebook_authors", judged.known_at)
    authors = {row["rulebook_digest"]: row["author"] for row in rows}
    author = authors.get(in_force.digest)
    if author:
        return f"Adopted on {adopted} by {author}."
    is_first = in_force.digest == desk.rulebooks()[0].digest
    came = " It came with the program." if is_first else ""
    return f"Adopted on {adopted}.{came} Nobody is named who adopted it."


def brewery_name(desk: Desk, judged: Judged) -> str:
    """The brewery's name; "" if it was not stated."""
    rows = desk.store.rows("brewery", judged.known_at)
    return rows[0]["label"] if rows else ""


def audit_file_name(desk: Desk, as_of: date, about: str, known_at: datetime | None) -> str:
    """A paper's name without its ending: day, what it is about, and which record was read.

    Args:
        desk: The open store.
        as_of: The day asked.
        about: What kind of paper, of whom or of which beers.
        known_at: The record as it stood then (UTC); None for today's record.
    """
    plain = "".join(letter if letter.isalnum() else "-" for letter in about)
    name = f"{as_of}-{plain}"
    if known_at is None:
        return name
    evening = desk.day_of(known_at)
    return f"{name}-as-it-stood" + ("" if evening == as_of else f"-on-{evening}")
