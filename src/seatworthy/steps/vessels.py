"""The vessels of a session as they stand on record: what went in, what was done, what was noted."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from functools import cached_property
from itertools import count
from typing import Any

from seatworthy.steps.recipes import of_session
from seatworthy.steps.recipes_kept import KeptRecipe, Vessel, kept_recipes
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
        """The vessels by letter: those of the recipe, those dosed besides, those still needed.

        A vessel keeps its number for good. Where one was put away, or somebody came besides, another
        is added with the next free number.
        """
        needed = {sample.mark: sample.glasses for sample in of_session(self.facts).samples}
        return {
            mark: (*known, *self._further(recipe, known, needed.get(mark, ())))
            for mark, recipe in self.recipes.items()
            for known in [self._known(recipe)]
        }

    @cached_property
    def _filled(self) -> list[dict[str, Any]]:
        """The vessels that the recipes fill."""
        return self._rows("session_recipe_vessels")

    def _known(self, recipe: KeptRecipe) -> tuple[Vessel, ...]:
        """The vessels of a letter that are on record, by number."""
        found = {
            row["vessel_no"]: self._samples(recipe.mark, row["sitting_id"])
            for row in self._filled
            if row["mark"] == recipe.mark
        }
        for sample_id, number in (*self.dosed, *self.steps):
            sample = self.facts.samples[sample_id]
            if sample.mark == recipe.mark:
                sitting = None if recipe.is_shared else sample.sitting_id
                found.setdefault(number, self._samples(recipe.mark, sitting))
        return tuple(Vessel(recipe.mark, number, found[number]) for number in sorted(found))

    def _further(
        self, recipe: KeptRecipe, known: Sequence[Vessel], glasses: Sequence[int]
    ) -> Iterator[Vessel]:
        """What is needed besides, since the vessels that are poured don't give every glass."""
        groups = (
            [(None, 1)]
            if recipe.is_shared
            else [
                (sitting.sitting_id, -(-wanted // recipe.gives))
                for sitting, wanted in zip(self.facts.sittings, glasses, strict=True)
            ]
        )
        free = (number for number in count(1) if number not in {v.number for v in known})
        missing = [
            (when, samples)
            for sitting_id, needed in groups
            for samples in [self._samples(recipe.mark, sitting_id)]
            for when in self._missing(known, samples, needed)
        ]
        for _, samples in sorted(missing, key=lambda one: one[0]):
            yield Vessel(recipe.mark, next(free), samples)

    def _missing(
        self, known: Sequence[Vessel], samples: tuple[str, ...], needed: int
    ) -> list[datetime]:
        """For each vessel that is missing, since when: where one was put away, else last of all."""
        own = [vessel for vessel in known if vessel.sample_ids == samples]
        away = sorted(steps["put_away"] for v in own if "put_away" in (steps := self.steps_of(v)))
        short = max(0, needed - (len(own) - len(away)))
        latest = away[-short:] if short else []
        return [*latest, *[datetime.max] * (short - len(latest))]

    def _samples(self, mark: str, sitting_id: str | None) -> tuple[str, ...]:
        """Samples of a letter at one sitting, or at all of them, in their order."""
        return tuple(
            sample.sample_id
            for sitting in self.facts.sittings
            if sitting_id in (None, sitting.sitting_id)
            for sample in self.facts.samples_at(sitting.sitting_id)
            if sample.mark == mark
        )

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

    def _rows(self, query: str) -> list[dict[str, Any]]:
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
        f"{waiting} of {len(vessels)} vessels {'is' if waiting == 1 else 'are'} not ticked as dosed: a jug "
        "counts at what its ticked vessels hold, at the planned level where none is ticked. After the close "
        "nothing is ticked any more."
    )
