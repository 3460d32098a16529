"""Ethanol that comes with the doses, counted with the alcohol of the beer for everybody who tastes."""

from collections import Counter
from collections.abc import Mapping
from decimal import Decimal

from seatworthy.sessions.alcohol import alcohol_g, taken_g
from seatworthy.sessions.doses.recipe import Recipe, WorkedOut
from seatworthy.sessions.plan import Plan
from seatworthy.sessions.wish import Wish
from seatworthy.sessions.wording import plain
from seatworthy.steps.session_facts import SessionFacts

_PURE_PERCENT = Decimal(100)


def ethanol_ul(recipe: Recipe) -> Decimal:
    """Pure ethanol in one vessel, with its dose or given to a blank, microlitres."""
    return recipe.blank_ul if recipe.stock is None else recipe.solvent_ul


def most_ethanol_ml(wish: Wish, plan: Plan, worked: WorkedOut) -> Decimal:
    """Pure ethanol that somebody gets at most with the doses of all their glasses, millilitres."""
    shares = {r.need.mark: ethanol_ul(r) / 1000 / r.volume_ml for r in worked.recipes}
    orders = [
        order
        for sitting in plan.sittings
        for order in (*(seat.glasses for seat in sitting.seats), *sitting.spares)
    ]
    poured = [
        Counter(one.mark for glass in order for one in glass.glasses or (glass,))
        for order in orders
    ]
    return max((ethanol_in(marks, shares, wish.volume_ml) for marks in poured), default=Decimal(0))


def ethanol_in(
    marks: Mapping[str, int], shares: Mapping[str, Decimal], pour_ml: Decimal
) -> Decimal:
    """Pure ethanol in some glasses, millilitres.

    Args:
        marks: Glasses by letter.
        shares: Ethanol of the doses in a millilitre of each letter's beer, millilitres.
        pour_ml: Beer in one glass.
    """
    return sum(
        (count * pour_ml * shares.get(mark, Decimal(0)) for mark, count in marks.items()),
        Decimal(0),
    )


def with_doses_g(wish: Wish, plan: Plan, worked: WorkedOut | None) -> tuple[Decimal, Decimal]:
    """Grams of alcohol as counted and as swallowed, the ethanol of the doses included."""
    if worked is None:
        return plan.alcohol_g, plan.swallowed_g
    pure_ml = most_ethanol_ml(wish, plan, worked)
    share = wish.limits.spat_share if wish.spits else Decimal(1)
    counted = plan.alcohol_g + taken_g(pure_ml, _PURE_PERCENT, share)
    return counted, plan.swallowed_g + alcohol_g(pure_ml, _PURE_PERCENT)


def ethanol_fault(wish: Wish, plan: Plan, worked: WorkedOut) -> str:
    """Why the doses bring too much alcohol, and what to do; "" if they don't."""
    counted, _ = with_doses_g(wish, plan, worked)
    limit = wish.limits.alcohol_g
    if counted <= limit:
        return ""
    return _too_much(counted - plan.alcohol_g, counted, limit)


def _too_much(more: Decimal, counted: Decimal, limit: Decimal) -> str:
    return (
        f"The doses bring {more:.1f} g of ethanol for one person, {counted:.1f} g with the beer, above "
        f"the limit of {plain(limit)} g: take stocks in water or stronger ones, or pour less."
    )


def dosed_ethanol_ml(facts: SessionFacts) -> Decimal:
    """Pure ethanol that somebody gets at most with the doses of a session on record, millilitres."""
    rows = facts.desk.store.rows("session_recipes", session_id=facts.head.session_id)
    return _most_ml(
        facts, {row["mark"]: row["solvent_ul"] / 1000 / row["volume_ml"] for row in rows}
    )


def ethanol_fault_of(facts: SessionFacts, worked: WorkedOut) -> str:
    """Why doses worked out for a session on record bring too much alcohol; "" if they don't."""
    head = facts.head
    shares = {r.need.mark: ethanol_ul(r) / 1000 / r.volume_ml for r in worked.recipes}
    share = (head.spat_share or Decimal(0)) if head.spits else Decimal(1)
    poured = Counter((g.sitting_id, g.person_id) for g in facts.glasses for _ in g.poured_from)
    glasses = max(poured.values(), default=0) + bool(head.has_control)
    beer_ml = glasses * (head.volume_ml or Decimal(0))
    more = taken_g(_most_ml(facts, shares), _PURE_PERCENT, share)
    counted = taken_g(beer_ml, head.abv_percent or Decimal(0), share) + more
    limit = head.alcohol_limit_g
    return "" if limit is None or counted <= limit else _too_much(more, counted, limit)


def _most_ml(facts: SessionFacts, shares: Mapping[str, Decimal]) -> Decimal:
    marks: dict[tuple[str, str], Counter[str]] = {}
    for glass in facts.glasses if shares else ():
        own = marks.setdefault((glass.sitting_id, glass.person_id), Counter())
        own.update(facts.samples[sample].mark for sample in glass.poured_from)
    pour_ml = facts.head.volume_ml or Decimal(0)
    return max((ethanol_in(own, shares, pour_ml) for own in marks.values()), default=Decimal(0))
