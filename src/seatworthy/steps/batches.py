"""Batches of beer that wait for their release, and who made them."""

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass
from hashlib import sha256

from seatworthy.errors import PanelError
from seatworthy.intake.words import Unreadable, fold, read_label
from seatworthy.steps.desk import Desk
from seatworthy.steps.signing import sign


@dataclass(frozen=True)
class Batch:
    """One batch of beer.

    Attributes:
        batch_id: Its id.
        label: "Tank 12".
        beer: Key of its base beer.
        beer_label: That beer as it is shown.
        family: Key of its beer family.
        family_label: The family as it is shown.
        abv_percent: Alcohol by volume of the beer, percent; None if nobody said.
        crew: Person ids of those who made it; they are not independent of it.
    """

    batch_id: str
    label: str
    beer: str
    beer_label: str
    family: str
    family_label: str
    abv_percent: object
    crew: tuple[str, ...]


def batches(desk: Desk) -> tuple[Batch, ...]:
    """Every batch on record, the latest first."""
    crew = defaultdict(list)
    for row in desk.store.rows("batch_crew"):
        crew[row["batch_id"]].append(row["person_id"])
    return tuple(
        Batch(**row, crew=tuple(crew[row["batch_id"]])) for row in desk.store.rows("batches")
    )


def batch_named(desk: Desk, batch_id: str) -> Batch:
    """One batch by its id.

    Raises:
        PanelError: if there is none.
    """
    found = next((one for one in batches(desk) if one.batch_id == batch_id), None)
    if found is None:
        message = "That batch is not on record. Choose one of the list, or put it on record first."
        raise PanelError(message)
    return found


def state_batch(
    desk: Desk, label: str, beer: str, crew: Collection[str] = (), by: str | None = None
) -> str:
    """Put a batch on record, or say who made one that is; the same twice is one fact.

    Args:
        desk: The open store.
        label: Its name at the brewery; a batch is known by it and its beer.
        beer: Key of its base beer.
        crew: Person ids of all who made it, in place of those said before.
        by: Who says so.

    Returns:
        The batch's id.

    Raises:
        PanelError: if the name can't be read, or beer or people are not on record.
    """
    try:
        kept = read_label(label)
    except Unreadable as fault:
        message = f"The name of the batch {fault}"
        raise PanelError(message) from fault
    if not fold(kept):
        message = "The batch has no name; give it one, such as Tank 12."
        raise PanelError(message)
    batch_id = sha256("\x1f".join(("batch", beer, fold(kept))).encode()).hexdigest()[:16]
    with desk.store.recording("batch", counts=False) as act:
        if beer not in {row["beer"] for row in desk.store.rows("beers_with_family")}:
            message = f"The beer “{beer}” is not on the shelf; put it there first."
            raise PanelError(message)
        people = {row["person_id"] for row in desk.store.rows("panel_people")}
        if unknown := [person for person in crew if person not in people]:
            message = (
                f"{len(unknown)} of the crew are not on record; choose from the list of people."
            )
            raise PanelError(message)
        known = next((one for one in batches(desk) if one.batch_id == batch_id), None)
        before = set(known.crew) if known else set()
        if known is None:
            act.add("batch", {"batch_id": batch_id, "label": kept, "beer": beer})
        for person in sorted(before ^ set(crew)):
            stated = {"batch_id": batch_id, "person_id": person, "is_crew": person in crew}
            act.add("batch_crew", stated)
        if known is None or before != set(crew):
            sign(act, by)
    return batch_id
