"""All that is read before a panel is seated: the day, the batch, who sits, what was tasted today."""

from collections.abc import Mapping
from dataclasses import dataclass

from seatworthy.errors import PanelError
from seatworthy.steps.alcohol_today import AlcoholToday, alcohol_today
from seatworthy.steps.batches import Batch, batch_named, batches
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.panel_figures import FamilyNoses, family_noses
from seatworthy.steps.sentences import the_beers
from seatworthy.steps.views import Choice
from seatworthy.steps.who_sits import WhoSits, who_sits


@dataclass(frozen=True)
class Ground:
    """All that is read for a beer family or a batch; what the leader then moves reads nothing more.

    Attributes:
        judged: The day judged.
        batches: Every batch on record, the latest first.
        batch: The one chosen; None without one.
        known: Everybody's chances in the beer family; None before the first glass.
        sits: Who sits for it; None likewise.
        alcohol: What of alcohol was taken today, by person who has a glass.
    """

    judged: Judged
    batches: tuple[Batch, ...]
    batch: Batch | None
    known: FamilyNoses | None
    sits: WhoSits | None
    alcohol: Mapping[str, AlcoholToday]


def seat_ground(desk: Desk, family: str | None, batch_id: str | None = None) -> Ground:
    """Read what is needed.

    Args:
        desk: The open store.
        family: Beer family's key; None, or one that is not known, for the most tasted.
        batch_id: The batch, whose family then counts; None without one.

    Raises:
        PanelError: if the batch is not on record, or of a family without any glass yet.
    """
    judged = judge_day(desk)
    batch = batch_named(desk, batch_id) if batch_id else None
    if not judged.people or not judged.cells:
        return Ground(judged, batches(desk), batch, None, None, {})
    key = _family(judged, batch, family)
    return Ground(
        judged=judged,
        batches=batches(desk),
        batch=batch,
        known=family_noses(desk, judged, key),
        sits=who_sits(desk, judged, key),
        alcohol=alcohol_today(desk, judged.as_of),
    )


def beers_of_batches(desk: Desk) -> tuple[Choice, ...]:
    """The base beers of which there may be a batch."""
    rows = desk.store.rows("beers_with_family")
    return tuple(Choice(row["beer"], row["label"]) for row in rows if row["beer"])


def _family(judged: Judged, batch: Batch | None, family: str | None) -> str:
    asked = batch.family if batch else family
    if batch and asked not in judged.families:
        message = (
            f"No glass of {the_beers(batch.family_label)} has been poured yet, so nothing is known of a "
            f"panel for {batch.label}. Plan a session in such a beer first."
        )
        raise PanelError(message)
    return asked if asked in judged.families else next(iter(judged.families))
