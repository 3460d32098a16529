"""Writes people: a random id for each spelling, and statements that two spellings are one person."""

from collections.abc import Iterable
from secrets import token_hex

from seatworthy.store.recording import Recording


def record_spellings(act: Recording, spellings: Iterable[str]) -> dict[str, str]:
    """Give each new spelling a random id of its own.

    Returns:
        Person id by spelling.
    """
    ids = {spelling: token_hex(8) for spelling in spellings}
    for spelling, person_id in ids.items():
        act.add("person", {"person_id": person_id})
        act.cursor.execute("insert into person_name values (?, ?)", [person_id, spelling])
    return ids


def record_same_person(act: Recording, person_id: str, stands_for: str, *, is_same: bool) -> None:
    """State that one spelling is, or is no longer, the same person as another."""
    row = {"person_id": person_id, "stands_for": stands_for, "is_same": is_same}
    act.add("same_person", row)
