"""What of the shelf and the bench can be poured next in one beer family, and why the rest cannot."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from types import MappingProxyType

from seatworthy.decide.lessons import RUNGS
from seatworthy.sessions.alcohol import taken_g
from seatworthy.sessions.plan import CompoundFacts
from seatworthy.sessions.wish import Wish
from seatworthy.steps.bench_facts import containers, stocks
from seatworthy.steps.desk import Desk
from seatworthy.steps.panel import PanelPerson
from seatworthy.steps.plan_choices import plan_choices
from seatworthy.steps.plan_shelf import shelf_facts
from seatworthy.steps.planning import first_wish
from seatworthy.steps.recipes import Preparation, ToPrepare, worked_out

Level = tuple[str, Decimal]  # compound and multiple


@dataclass(frozen=True)
class Pourable:
    """What a session of the next days may be made of.

    Attributes:
        wish: A wish without compounds: day, beer, people, limits, vessels.
        is_stocked: Whether the shelf itself rules out less than every compound.
        reasons: Why a compound can't be poured at the reference level, by compound; those that
            can be are absent.
        ceilings: Strongest level that may be served, by compound.
        cannot: Compounds and levels of ladders that can't be dosed in these vessels.
        most_glasses: How many glasses everybody may get within the limits on glasses and alcohol.
    """

    wish: Wish
    is_stocked: bool
    reasons: Mapping[str, str]
    ceilings: Mapping[str, float]
    cannot: frozenset[tuple[str, float]]
    most_glasses: int


def pourable(
    desk: Desk,
    family: str,
    people: Sequence[PanelPerson],
    compounds: Sequence[str],
    level: Decimal,
) -> Pourable | None:
    """Look through shelf and bench.

    Args:
        desk: The open store.
        family: Beer family's key.
        people: Who is to taste.
        compounds: Keys of the compounds that are looked for.
        level: The multiple at which they would be poured.

    Returns:
        None where no beer of the family is on the shelf.
    """
    wish = _base(desk, family, people)
    if wish is None:
        return None
    facts = shelf_facts(desk, wish.beer, wish.session_on).compounds
    reasons = {c: why for c in compounds if (why := _shelf_reason(facts.get(c)))}
    asked = [(c, level) for c in compounds if c not in reasons]
    wish, undosed = _best_vessels(desk, family, wish, asked)
    reasons.update({compound: why for (compound, _), why in undosed.items()})
    return Pourable(
        wish=wish,
        is_stocked=bool(asked),
        reasons=MappingProxyType(reasons),
        ceilings={c: float(f.ceiling) for c, f in facts.items() if f.ceiling is not None},
        cannot=_cannot_at_rungs(desk, family, wish, [c for c in compounds if c not in reasons]),
        most_glasses=_most_glasses(wish),
    )


def _cannot_at_rungs(
    desk: Desk, family: str, wish: Wish, compounds: Sequence[str]
) -> frozenset[tuple[str, float]]:
    """Levels of ladders that no pipette, unit or background allows; what is left is not asked."""
    asked = [(compound, Decimal(str(rung))) for compound in compounds for rung in RUNGS]
    undosed = cannot_dose(desk, family, wish, asked, with_what_is_left=False)
    return frozenset((compound, float(level)) for compound, level in undosed)


def cannot_dose(
    desk: Desk,
    family: str,
    wish: Wish,
    asked: Sequence[Level],
    *,
    with_what_is_left: bool = True,
) -> dict[Level, str]:
    """Which levels the vessels of a wish can't be dosed to, with the reason; {} by hand.

    Args:
        desk: The open store.
        family: Beer family's key.
        wish: Day, beer, people and vessels.
        asked: Compounds and levels.
        with_what_is_left: Whether a lot must hold enough for all that is asked, poured together.
    """
    if wish.container is None or not asked:
        return {}
    samples = [
        ToPrepare(f"S{n}", compound, level, "", tuple(len(s.people) for s in wish.sittings))
        for n, (compound, level) in enumerate(asked)
    ]
    starts = tuple(sitting.starts_at for sitting in wish.sittings)
    preparation = Preparation(
        wish.beer, family, wish.session_on, wish.volume_ml, starts, tuple(samples)
    )
    found = worked_out(desk, preparation, wish.container)
    made = {recipe.need.mark for recipe in found.recipes}
    lots = {stock.stock_id: (stock.compound, stock.label) for stock in stocks(desk)}
    reasons = {}
    for sample in samples:
        labels = [label for compound, label in lots.values() if compound == sample.compound]
        said = [fault for fault in found.faults if _is_about(fault, sample.mark, labels)]
        is_short = with_what_is_left and any(_names(fault, sample.mark) for fault in said)
        if sample.mark not in made or is_short:
            why = said[0] if said else "nothing on the bench doses it."
            reasons[str(sample.compound), Decimal(sample.level or 0)] = _without_mark(why)
    return reasons


def _base(desk: Desk, family: str, people: Sequence[PanelPerson]) -> Wish | None:
    """The next session without its samples: a beer of the family, and who may drink it."""
    beers = [b for b in plan_choices(desk).beers if b.family == family]
    if not beers:
        return None
    beer = next((b for b in beers if b.abv_percent is not None), beers[0])
    first = first_wish(desk)
    who = tuple(person.person_id for person in people if beer.key not in person.refused_beers)
    sitting = replace(first.sittings[0], people=who)
    return replace(
        first,
        beer=beer.key,
        abv_percent=beer.abv_percent or first.abv_percent,
        sittings=(sitting,),
        samples=(),
        leaves_out=True,
    )


def _shelf_reason(facts: CompoundFacts | None) -> str:
    """Why the shelf itself rules a compound out; "" if it doesn't."""
    if facts is None:
        return "it is not on the shelf."
    if facts.serve == "no":
        return "it is not to be served."
    return "" if facts.has_threshold else "it has no working threshold for these beers yet."


def _best_vessels(
    desk: Desk, family: str, wish: Wish, asked: Sequence[Level]
) -> tuple[Wish, dict[Level, str]]:
    """The kind of vessel in which most can be dosed; none where no stock is kept."""
    if not stocks(desk):
        return wish, {}
    tried = []
    for vessel in containers(desk):
        with_vessel = replace(wish, container=vessel.container_id)
        tried.append((with_vessel, cannot_dose(desk, family, with_vessel, asked)))
    return min(tried, key=lambda one: len(one[1]), default=(wish, {}))


def _most_glasses(wish: Wish) -> int:
    """Glasses within the limits; a control goes off the alcohol alone."""
    share = wish.limits.spat_share if wish.spits else Decimal(1)
    each = taken_g(wish.volume_ml, wish.abv_percent, share)
    if each <= 0:
        return wish.limits.most_glasses
    most = int(wish.limits.alcohol_g / each) - int(wish.has_control)
    return max(0, min(wish.limits.most_glasses, most))


def _is_about(fault: str, mark: str, labels: Sequence[str]) -> bool:
    folded = fault.casefold()
    return _names(fault, mark) or any(label.casefold() in folded for label in labels)


def _names(fault: str, mark: str) -> bool:
    return re.search(rf"\b{mark}\b", fault) is not None


def _without_mark(fault: str) -> str:
    """The fault without the letter, which is known to nobody yet."""
    return re.sub(r"^Sample S\d+:? ?", "", fault)
