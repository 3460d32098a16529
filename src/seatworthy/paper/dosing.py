"""The table of doses in the order of work: vessels, what is taken, into what, and what really was."""

from collections.abc import Iterator, Sequence
from typing import Final

from seatworthy.paper.ledger import Column, Ledger
from seatworthy.paper.lettering import COLUMN, LETTER, NOTE, PLAIN, STRONG
from seatworthy.paper.sheet import Sheet
from seatworthy.paper.stacked import Part, draw_stack, stack_height
from seatworthy.paper.vessel_names import run_of
from seatworthy.paper.wording import millilitres
from seatworthy.phrases import level_range, multiple
from seatworthy.steps.paper_views import PaperRecipe, PaperSample
from seatworthy.steps.sentences import in_sentence

_COLUMNS: Final = (
    Column("box", "", 6),
    Column("vessels", "vessels", 16.5),
    Column("what", "compound, stock", 0),
    Column("level", "level", 22, "R"),
    Column("take", "take, for each", 36),
    Column("into", "into", 13),
    Column("really", "really dosed", 19.5),
    Column("lot", "lot", 13),
    Column("time", "at", 11),
    Column("who", "by", 9),
)
_TO_WRITE: Final = ("really", "lot", "time", "who")
_LEAST_ROW: Final = 13.0
_TIP: Final = 5.2  # the strip that says that the tip is changed


def draw_doses(sheet: Sheet, samples: Sequence[PaperSample]) -> None:
    """The table, in the order in which the samples come.

    Args:
        sheet: Where it stands, at its present height.
        samples: Samples with a recipe; others are left out.
    """
    ledger = Ledger(sheet, _COLUMNS)
    is_started = False
    for sample, recipe, tip in _with_tips(samples):
        cells = _cells(sample, recipe)
        height = max(_LEAST_ROW, *(stack_height(sheet, ledger, *cell) for cell in cells.items()))
        height += _TIP if tip else 0
        if not is_started:
            ledger.start(height)
            is_started = True
        ledger.open_row(height)
        _draw_row(sheet, ledger, cells, tip)


def _with_tips(
    samples: Sequence[PaperSample],
) -> Iterator[tuple[PaperSample, PaperRecipe, str]]:
    """Each sample with a recipe, and what is to be said of the tip before it, or ""."""
    touched = None
    for sample in samples:
        recipe = sample.recipe
        if recipe is None:
            continue
        is_dosed = bool(recipe.take or recipe.ethanol)
        is_other = is_dosed and touched is not None and touched != sample.compound
        yield sample, recipe, _new_tip(sample, recipe) if is_other else ""
        touched = sample.compound if is_dosed else touched


def _new_tip(sample: PaperSample, recipe: PaperRecipe) -> str:
    tool = "a new tip" if recipe.pipette else "a clean measure"
    return f"From here on {tool}: {in_sentence(sample.label)}."


def _cells(sample: PaperSample, recipe: PaperRecipe) -> dict[str, tuple[Part, ...]]:
    return {
        "vessels": ((run_of(recipe.vessels), LETTER.at(11.5)),),
        "what": ((sample.label, STRONG), (recipe.stock, NOTE)),
        "level": _level(recipe),
        "take": (
            (recipe.take or recipe.ethanol or "nothing", STRONG),
            (recipe.total, NOTE),
            (f"pipette {recipe.pipette}" if recipe.pipette else "", NOTE),
            ("take out as much beer first" if recipe.takes_out_first else "", NOTE),
        ),
        "into": (
            (millilitres(recipe.into_ml), PLAIN),
            ("each" if len(recipe.vessels) > 1 else "", NOTE),
        ),
    }


def _level(recipe: PaperRecipe) -> tuple[Part, ...]:
    """``3.1×`` over ``between 2.8 and 3.2×``."""
    if recipe.level is None:
        return ()
    level = float(recipe.level)
    off = recipe.level_off
    lowest, highest = level_range(level, off) if off else ("", "")
    between = f"between {lowest} and {highest}×" if off else ""
    return (multiple(level), PLAIN), (between, COLUMN)


def _draw_row(sheet: Sheet, ledger: Ledger, cells: dict[str, tuple[Part, ...]], tip: str) -> None:
    top, _ = ledger.row
    if tip:
        x, _ = ledger.cell("vessels")
        sheet.put(tip, (x, top + 0.4, sheet.right - x, _TIP - 0.8), NOTE)
        sheet.rule(top + _TIP, 0.1)
    start = top + (_TIP if tip else 0)
    sheet.tick_box(ledger.cell("box")[0], start + 2.0)
    for key, parts in cells.items():
        draw_stack(sheet, ledger, key, parts, start, "R" if key == "level" else "L")
    for key in _TO_WRITE:
        ledger.put_line(key)
