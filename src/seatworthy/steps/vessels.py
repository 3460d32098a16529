"""The vessels of a session as they stand on record: what went in, what was done, what was noted."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from functools import cached_property

from seatworthy.steps.recipes_kept import KeptRecipe, Vessel, kept_recipes, vessels_of
from seatworthy.steps.session_facts import SessionFacts


@dataclass(frozen=True)
class Dosed:
    """What really went into one vessel; times are UTC."""

    sample_id: str
    vessel_no: int
    is_shared: bool
    stock_id: str | None
    stock: str
    lot: str
    stock_kind: str
    strength: Decimal | None
    pipette_id: str | None
    pipette: str
    setting_ul: Decimal | None
    shots: int | None
    amount: Decimal
    volume_ml: Decimal
    dosed_at: datetime
    person_id: str | None


class SessionVessels:
    """Everything on record about the vessels of one session.

    Args:
        facts: The session.
    """

    def __init__(self, facts: SessionFacts) -> None:
        self.facts = facts

    @cached_property
    def recipes(self) -> dict[str, KeptRecipe]:
        """What each vessel was to get, by letter."""
        return kept_recipes(self.facts)

    @cached_property
    def by_mark(self) -> dict[str, tuple[Vessel, ...]]:
        """The vessels by letter."""
        return vessels_of(self.facts, self.recipes)

    @cached_property
    def every(self) -> dict[str, Vessel]:
        """The vessels by name."""
        return {vessel.name: vessel for some in self.by_mark.values() for vessel in some}

    @cached_property
    def dosed(self) -> dict[tuple[str, int], Dosed]:
        """What went in, by sample and number."""
        rows = self._rows("session_vessels")
        return {(row["sample_id"], row["vessel_no"]): Dosed(**row) for row in rows}

    @cached_property
    def steps(self) -> dict[tuple[str, int], dict[str, datetime]]:
        """What was done and when (UTC), by sample and number."""
        found: dict[tuple[str, int], dict[str, datetime]] = {}
        for row in self._rows("session_vessel_steps"):
            found.setdefault((row["sample_id"], row["vessel_no"]), {})[row["step"]] = row["done_at"]
        return found

    @cached_property
    def remarks(self) -> dict[str, list[str]]:
        """What was written down, by name of the vessel."""
        found: dict[str, list[str]] = {}
        for row in self._rows("session_vessel_remarks"):
            if row["remark"]:
                found.setdefault(f"{row['mark']}{row['vessel_no']}", []).append(row["remark"])
        return found

    @cached_property
    def levels(self) -> dict[tuple[str, int], float]:
        """What each dosed vessel with something in it held when it was dosed, multiples, total."""
        rows = self._rows("vessel_levels")
        return {(row["sample_id"], row["vessel_no"]): row["level"] for row in rows}

    def dose_in(self, vessel: Vessel) -> Dosed | None:
        """What went into a vessel; None if nothing is on record."""
        return self.dosed.get((vessel.sample_ids[0], vessel.number))

    def steps_of(self, vessel: Vessel) -> dict[str, datetime]:
        """What was done with a vessel besides, with its time."""
        return self.steps.get((vessel.sample_ids[0], vessel.number), {})

    def is_put_away(self, vessel: Vessel) -> bool:
        """Whether a vessel is not poured."""
        return "put_away" in self.steps_of(vessel)

    def _rows(self, query: str) -> list[dict]:  # type: ignore[type-arg]
        return self.facts.desk.store.rows(query, session_id=self.facts.head.session_id)


def preparing_sentence(facts: SessionFacts) -> str:
    """How far the vessels of a session are prepared; "" where nothing is dosed from the bench."""
    own = SessionVessels(facts)
    if not facts.is_open or not own.recipes:
        return ""
    vessels = list(own.every.values())
    poured = [vessel for vessel in vessels if not own.is_put_away(vessel)]
    waiting = sum(own.dose_in(vessel) is None for vessel in poured)
    if not waiting:
        return "Every vessel that is poured is dosed; levels are counted from what was ticked."
    return (
        f"{waiting} of {len(vessels)} vessels {'is' if waiting == 1 else 'are'} not ticked as dosed: their "
        "answers count at the planned level until they are."
    )
