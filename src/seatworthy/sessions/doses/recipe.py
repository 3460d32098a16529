"""A recipe: what goes into the vessels of one sample, and what the level then really is."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from seatworthy.sessions.doses.equipment import Container, Pipette
from seatworthy.sessions.doses.stock import Stock


@dataclass(frozen=True)
class Shots:
    """Some strokes of one pipette at one setting.

    Attributes:
        pipette: Which.
        setting_ul: What it is set to.
        count: How many strokes, 1 or more.
    """

    pipette: Pipette
    setting_ul: Decimal
    count: int

    @property
    def total_ul(self) -> Decimal:
        """What they deliver together, microlitres."""
        return self.setting_ul * self.count


@dataclass(frozen=True)
class Need:
    """One sample that is to be prepared.

    Attributes:
        mark: Its letter.
        compound: Compound key; None for a blank.
        label: The compound's label inside a sentence; "" for a blank.
        level: Wanted multiple of the working threshold, total; None for a blank.
        glasses: Glasses poured of it at each sitting, spare orders included.
        threshold_ug_l: Working threshold in force; None for a blank.
        background_ug_l: What the base beer holds already; None if nobody knows.
        serve: "yes", "prediluted" or "no", as in the vocabulary.
        keeps_h: Hours from dosing to serving in these vessels at this level; None for a blank.
    """

    mark: str
    compound: str | None
    label: str
    level: Decimal | None
    glasses: tuple[int, ...]
    threshold_ug_l: Decimal | None = None
    background_ug_l: Decimal | None = None
    serve: str = "yes"
    keeps_h: Decimal | None = None


@dataclass(frozen=True)
class Recipe:
    """What goes into each vessel of one sample.

    Attributes:
        need: What was wanted.
        stock: What the dose is taken from; None for a blank.
        shots: How it is pipetted; None for units, for a blank that gets nothing, and where no
            pipette stands on the bench (then `amount` is measured by other means).
        offers: Other ways to pipette about the same, best first.
        amount: Microlitres, or whole units, into each vessel; 0 for a blank.
        volume_ml: Beer in each vessel with the dose.
        vessels: How many for each sitting; one number if the same vessel serves them all.
        background_level: What the base beer holds already, multiples; 0 if nobody knows.
        level: What the level really will be, total, multiples; None for a blank.
        level_off: Half the width of the range that holds the real level with a chance of about
            95%, multiples (expanded uncertainty, k = 2); None where nothing is known of the errors.
        solvent_ul: Pure ethanol that a vessel gets with the dose, microlitres.
        blank_ul: For a blank: ethanol that it gets so that it equals the strongest dose of solvent.
        takes_out_first: Whether as much beer is taken out of the vessel first.
        needed: Taken from the stock for all vessels together, without what stays in the vial.
        counts: Whether its level counts for a seat; None if no rulebook is asked, or for a blank.
        prepare_from: Earliest local time to prepare it for the last sitting; None if it keeps any time.
        prepare_until: Latest local time to prepare it for the first sitting.
    """

    need: Need
    stock: Stock | None
    shots: Shots | None
    offers: tuple[Shots, ...]
    amount: Decimal
    volume_ml: Decimal
    vessels: tuple[int, ...]
    background_level: Decimal
    level: Decimal | None
    level_off: float | None
    solvent_ul: Decimal
    blank_ul: Decimal
    takes_out_first: bool
    needed: Decimal
    counts: bool | None
    prepare_from: datetime | None
    prepare_until: datetime | None


@dataclass(frozen=True)
class Bench:
    """Everything that a session's doses may be made with.

    Attributes:
        stocks: Every lot on record, used up and expired ones too (to say why they are not taken).
        pipettes: Those in use; none is the simple way, and then no uncertainty is stated.
        container: What the beer is dosed in.
        pour_ml: Beer in one glass.
        starts: Local start of each sitting, in the order of `Need.glasses`.
        counted_levels: Lowest and highest level that counts for a seat; None if no rulebook is asked.
    """

    stocks: tuple[Stock, ...]
    pipettes: tuple[Pipette, ...]
    container: Container
    pour_ml: Decimal
    starts: tuple[datetime, ...]
    counted_levels: tuple[Decimal, Decimal] | None = None


@dataclass(frozen=True)
class WorkedOut:
    """Recipes of a session.

    Attributes:
        recipes: In the order of work: blanks first, then the weakest of each compound first; every
            need that has no fault.
        faults: Why a dose can't be made, and what to do: a finished sentence each.
        notes: What the trainer should know and may overrule.
    """

    recipes: tuple[Recipe, ...]
    faults: tuple[str, ...]
    notes: tuple[str, ...]


def in_order_of_work(recipes: Sequence[Recipe]) -> tuple[Recipe, ...]:
    """Blanks first, then compound by compound (weakest first), so that a tip serves one compound."""
    by_mark = {recipe.need.mark: recipe for recipe in recipes}
    letters = work_order([(r.need.mark, r.need.compound, r.level) for r in recipes])
    return tuple(by_mark[mark] for mark in letters)


def work_order(samples: Sequence[tuple[str, str | None, Decimal | None]]) -> tuple[str, ...]:
    """Letters in the order of work.

    Args:
        samples: Letter, compound key (None for a blank) and level of each.

    Returns:
        Blanks first; then the compound with the weakest sample, its own from weak to strong, and so
        on, so that each compound needs one tip.
    """
    weakest: dict[str, Decimal] = {}
    for _, compound, level in samples:
        if compound is not None:
            known = level or Decimal(0)
            weakest[compound] = min(known, weakest.get(compound, known))

    def turn(
        sample: tuple[str, str | None, Decimal | None],
    ) -> tuple[bool, Decimal, str, Decimal, int, str]:
        mark, compound, level = sample
        key = compound or ""
        first = weakest.get(key, Decimal(0))
        return compound is not None, first, key, level or Decimal(0), len(mark), mark

    return tuple(mark for mark, _, _ in sorted(samples, key=turn))
