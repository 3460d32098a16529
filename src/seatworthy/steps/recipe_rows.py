"""Recipes as the rows of tables, and as the lines of a preview; nothing is written here."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from seatworthy.intake.tables import TableRow
from seatworthy.intake.words import fold
from seatworthy.phrases import multiple
from seatworthy.sessions.doses.amounts import ul_words
from seatworthy.sessions.doses.equipment import KEG, Container
from seatworthy.sessions.doses.recipe import Recipe, WorkedOut
from seatworthy.sessions.doses.vessels import glasses_in
from seatworthy.sessions.plan import Plan, PlannedSample
from seatworthy.sessions.wish import Wish
from seatworthy.steps.desk import Desk
from seatworthy.steps.dose_ethanol import ethanol_ul
from seatworthy.steps.prepare_words import level_words, when_words
from seatworthy.steps.recipes import container_on_bench, keeping_hours, of_plan
from seatworthy.steps.recipes_kept import taken_words
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.session_parts import NOTHING_ADDED
from seatworthy.steps.session_views import DoseLine
from seatworthy.store.ids import planned_sample_name, sitting_name

MOST_OFFERS = 3


def prepared_rows(
    desk: Desk, wish: Wish, plan: Plan, session_id: str, worked: WorkedOut | None
) -> Iterator[TableRow]:
    """The rows of a new session about its preparation: hours it keeps, recipes, how it is shared out."""
    container = container_on_bench(desk, wish.container) if wish.container else None
    hours = keeping_hours(desk, of_plan(desk, wish, plan), container.kind if container else None)
    for sitting in plan.sittings:
        sitting_id = sitting_name(wish.session_on, fold(wish.label), fold(sitting.label))
        yield from keeps_rows(sitting_id, hours)
    yield (
        "plan_flight",
        {"session_id": session_id, "flight": wish.flight, "strong_late": wish.strong_late},
    )
    if container and worked:
        sittings = [
            sitting_name(wish.session_on, fold(wish.label), fold(sitting.label))
            for sitting in plan.sittings
        ]
        yield from recipe_rows(session_id, container, worked, wish.volume_ml, sittings)


def keeps_rows(sitting_id: str, hours: dict[str, Decimal]) -> Iterator[TableRow]:
    """Hours that the samples of one sitting keep."""
    for mark, keeps_h in hours.items():
        sample_id = planned_sample_name(sitting_id, mark)
        yield "sample_keeps", {"sample_id": sample_id, "keeps_h": keeps_h}


def recipe_rows(
    session_id: str,
    container: Container,
    worked: WorkedOut,
    pour_ml: Decimal,
    sittings: Sequence[str],
) -> Iterator[TableRow]:
    """The rows in which recipes are kept, with the vessels that they fill.

    Args:
        session_id: The session.
        container: What is dosed.
        worked: The recipes.
        pour_ml: Beer in one glass.
        sittings: Ids of the sittings, in the order in which vessels were counted.
    """
    for recipe in worked.recipes:
        yield "recipe", _recipe_row(session_id, container, recipe, pour_ml)
        for number, sitting_id in enumerate(_served(container, recipe, sittings), start=1):
            row = {"session_id": session_id, "mark": recipe.need.mark, "vessel_no": number}
            yield "recipe_vessel", {**row, "sitting_id": sitting_id}


def _served(container: Container, recipe: Recipe, sittings: Sequence[str]) -> list[str | None]:
    """The sitting of each vessel; None for one that serves them all."""
    if container.kind == KEG:
        return [None] * sum(recipe.vessels)
    counts = zip(sittings, recipe.vessels, strict=True)
    return [sitting for sitting, count in counts for _ in range(count)]


def _recipe_row(
    session_id: str, container: Container, recipe: Recipe, pour_ml: Decimal
) -> dict[str, object]:
    off = recipe.level_off
    return {
        "session_id": session_id,
        "mark": recipe.need.mark,
        "container_id": container.container_id,
        "volume_ml": recipe.volume_ml,
        "stock_id": recipe.stock.stock_id if recipe.stock else None,
        **_shot_columns(recipe),
        "amount": recipe.amount,
        "solvent_ul": ethanol_ul(recipe),
        "is_out_first": recipe.takes_out_first,
        "gives": glasses_in(recipe.volume_ml, pour_ml, container),
        "is_shared": container.kind == KEG,
        "level": None if recipe.level is None else round(recipe.level, 9),
        "level_off": None if off is None else Decimal(f"{off:.9f}"),
    }


def _shot_columns(recipe: Recipe) -> dict[str, object]:
    shots = recipe.shots
    return {
        "pipette_id": shots.pipette.pipette_id if shots else None,
        "setting_ul": shots.setting_ul if shots else None,
        "shots": shots.count if shots else None,
    }


def dose_line(recipe: Recipe, starts: Sequence[datetime], kind: str, zone: ZoneInfo) -> DoseLine:
    """A recipe as a line of the preview.

    Args:
        recipe: What goes in.
        starts: Start of each sitting, in UTC.
        kind: Of vessel; a keg serves all of them.
        zone: The brewery's.
    """
    need, stock = recipe.need, recipe.stock
    count = sum(recipe.vessels)
    return DoseLine(
        mark=need.mark,
        what=need.label or NOTHING_ADDED,
        take=_taken(recipe) if stock else _blank_words(recipe),
        vessels=f"{count} {'vessel' if count == 1 else 'vessels'} of {recipe.volume_ml.normalize():f} ml",
        level=level_words(recipe.level, recipe.level_off),
        when=_when(recipe, starts, kind, zone),
        others=tuple(
            f"{taken_words('', o.total_ul, o.setting_ul, o.count)} with {o.pipette.label}"
            for o in recipe.offers[:MOST_OFFERS]
        ),
    )


def by_hand_line(sample: PlannedSample, label: str) -> DoseLine:
    """A sample whose addition is written by hand as a line of the preview."""
    level = "" if sample.level is None else multiple(float(sample.level))
    return DoseLine(
        sample.mark, in_sentence(label), f"{sample.addition}, by hand", "", level, "", ()
    )


def _when(recipe: Recipe, starts: Sequence[datetime], kind: str, zone: ZoneInfo) -> str:
    groups = [list(starts)] if kind == KEG else [[start] for start in starts]
    return "; ".join(when_words(group, kind, recipe.need.keeps_h, zone) for group in groups)


def _taken(recipe: Recipe) -> str:
    shots, stock = recipe.shots, recipe.stock
    kind = stock.kind if stock else ""
    what = taken_words(
        kind, recipe.amount, shots.setting_ul if shots else None, shots.count if shots else None
    )
    with_what = f" with {shots.pipette.label}" if shots else ""
    return f"{what}{with_what}, from {stock.label if stock else ''}"


def _blank_words(recipe: Recipe) -> str:
    return f"nothing but {ul_words(recipe.blank_ul)} of ethanol" if recipe.blank_ul else ""
