"""The canonical text of the facts that a seat rests on, and its digest."""

from datetime import date, datetime
from hashlib import sha256
from typing import Any

from seatworthy.steps.desk import Desk

FORM = "facts of a seat, form 1"
# With how the glasses were prepared; only where anything of that is on record, so that a text of the
# first form stays what it was.
FORM_PREPARED = "facts of a seat, form 2"
# With the words that are accepted for several compounds, likewise, after what there is of preparations.
FORM_ACCEPTED = "facts of a seat, form 3"
# With which glasses asked for a beer, likewise, after those words.
FORM_BEERS = "facts of a seat, form 4"
KEPT = 200


def facts_text(
    desk: Desk, person_id: str, family: str, as_of: date, known_at: datetime | None = None
) -> str:
    """Every fact on record behind one panellist's seat, a line each, in an order of its own.

    Args:
        desk: The open store.
        person_id: Whose seat.
        family: Beer family of the seat.
        as_of: Facts up to the end of this day.
        known_at: The record as it stood then (UTC); None for all of it.
    """
    (is_there,) = desk.store.rows("facts_further")

    def rows(query: str) -> list[dict[str, Any]]:
        if not is_there.get(query, True):
            return []
        return desk.store.rows(query, known_at, person_id=person_id, until_on=as_of)

    facts, prepared = rows("facts"), rows("facts_prepared")
    accepted, beers = rows("facts_accepted"), rows("facts_beers")
    further = ((beers, FORM_BEERS), (accepted, FORM_ACCEPTED), (prepared, FORM_PREPARED))
    form = next((form for some, form in further if some), FORM)
    head = f"{form}\x1f{person_id}\x1f{family}\x1f{as_of}"
    return "\n".join([head, *(row["fact"] for row in [*facts, *prepared, *accepted, *beers])])


def facts_digest(
    desk: Desk, person_id: str, family: str, as_of: date, known_at: datetime | None = None
) -> str:
    """SHA-256 over `facts_text`, 64 hexadecimal digits; kept until an act may change it."""
    asked = (desk.evidence_version, person_id, family, as_of, known_at)
    found = desk.digests.get(asked)
    if found is None:
        text = facts_text(desk, person_id, family, as_of, known_at)
        found = desk.digests[asked] = sha256(text.encode()).hexdigest()
        while len(desk.digests) > KEPT:
            desk.digests.popitem(last=False)
    return found
