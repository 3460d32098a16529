"""The recipes of a session as its papers show them, for each sample at each sitting."""

from decimal import Decimal

from seatworthy.sessions.doses.amounts import ul_words
from seatworthy.sessions.doses.window import prepare_window
from seatworthy.steps.paper_views import PaperRecipe
from seatworthy.steps.preparation import ordered_marks, starts_of
from seatworthy.steps.recipes_kept import KeptRecipe, Vessel
from seatworthy.steps.session_facts import SessionFacts
from seatworthy.steps.session_parts import Sample
from seatworthy.steps.vessels import SessionVessels

# A real level that differs from the wanted one by more than this is told; ours, no source.
_TOLD_SHARE = Decimal("0.05")


class PaperRecipes:
    """What goes into the vessels of one session, for its papers.

    Args:
        facts: The session.
    """

    def __init__(self, facts: SessionFacts) -> None:
        self._own = SessionVessels(facts)
        self._marks = ordered_marks(facts, self._own.recipes)

    def of(self, sample: Sample) -> PaperRecipe | None:
        """What goes into the vessels of one sample at its sitting; None where it is written by hand."""
        recipe = self._own.recipes.get(sample.mark)
        if recipe is None:
            return None
        vessels = [v for v in self._own.by_mark[sample.mark] if sample.sample_id in v.sample_ids]
        return _paper_recipe(self._own.facts, recipe, vessels, sample)

    def place(self, mark: str) -> tuple[bool, int, int, str]:
        """Where a letter stands in the order of work; what is written by hand comes after it."""
        is_known = mark in self._marks
        return not is_known, self._marks.index(mark) if is_known else 0, len(mark), mark

    def notes(self) -> tuple[str, ...]:
        """Which levels will not be what was wished for."""
        samples = {s.mark: s for s in self._own.facts.samples.values()}
        found = []
        for mark in self._marks:
            wished, real = samples[mark].given_level, self._own.recipes[mark].level
            if wished and real and abs(real - wished) > _TOLD_SHARE * wished:
                found.append(
                    f"{mark} is planned at {wished.normalize():f}× and will really be {real:.2f}×; "
                    "its answers count at what it really is."
                )
        return tuple(found)


def _paper_recipe(
    facts: SessionFacts, recipe: KeptRecipe, vessels: list[Vessel], sample: Sample
) -> PaperRecipe:
    starts = starts_of(facts, vessels)
    earliest, latest = (
        prepare_window(starts, recipe.container_kind, sample.keeps_h) if starts else (None, None)
    )
    shots = recipe.shots or 0
    return PaperRecipe(
        stock=_stock_words(recipe),
        pipette=recipe.pipette,
        take=recipe.take,
        total=f"{ul_words(recipe.amount)} in all" if shots > 1 else "",
        into_ml=recipe.volume_ml,
        vessels=tuple(vessel.name for vessel in vessels),
        is_shared=recipe.is_shared,
        level=recipe.level,
        level_off=None if recipe.level_off is None else float(recipe.level_off),
        ethanol=recipe.ethanol,
        takes_out_first=recipe.is_out_first,
        prepare_from=facts.local(earliest),
        prepare_until=facts.local(latest),
        keeps_h=sample.keeps_h,
    )


def _stock_words(recipe: KeptRecipe) -> str:
    """The stock with its lot, unless its label says it already."""
    lot = recipe.lot
    return recipe.stock if not lot or lot in recipe.stock else f"{recipe.stock}, lot {lot}"
