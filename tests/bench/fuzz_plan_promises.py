"""What every plan promises, checked without what lays it out."""

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import timedelta
from decimal import Decimal
from typing import Final

from fuzz_clear import check_all
from fuzz_plan_wishes import COMPOUNDS, METHODS, TODAY

from seatworthy.sessions.plan import PersonFacts, Plan, PlannedGlass, PlannedSeat
from seatworthy.sessions.wish import Wish

_SETS: Final = {"3afc": 3, "triangle": 3, "2afc": 2}


def judge(wish: Wish, plan: Plan, facts: Mapping[str, PersonFacts], taken: set[str]) -> None:
    """Raise where a plan breaks a promise; independent of how it is laid out."""
    check_all([*_day(wish), *_codes(plan, taken), *_care(wish, plan, facts), *_amounts(wish)])
    check_all([*_samples(wish, plan), *_seats(wish, plan, facts)])


def _orders(plan: Plan) -> list[tuple[PlannedGlass, ...]]:
    own = [seat.glasses for sitting in plan.sittings for seat in sitting.seats]
    return own + [order for sitting in plan.sittings for order in sitting.spares]


def _poured(order: tuple[PlannedGlass, ...]) -> int:
    return sum(len(glass.glasses) or 1 for glass in order)


def _day(wish: Wish) -> Iterator[str]:
    if not TODAY <= wish.session_on <= TODAY + timedelta(days=366):
        yield f"day {wish.session_on}"
    if any(sitting.starts_at.date() != wish.session_on for sitting in wish.sittings):
        yield "a sitting on another day"
    if wish.purpose not in ("training", "qualification", "monitoring") or not wish.label.strip():
        yield f"purpose {wish.purpose!r}, label {wish.label!r}"
    labels = [" ".join(sitting.label.split()).casefold() for sitting in wish.sittings]
    if not all(labels) or len(set(labels)) < len(labels) or not labels:
        yield f"sittings {labels}"


def _codes(plan: Plan, taken: set[str]) -> Iterator[str]:
    codes = [one.code for order in _orders(plan) for g in order for one in (g.glasses or (g,))]
    if len(set(codes)) < len(codes) or taken & set(codes):
        yield "a code twice, or one that rests"
    if not all(len(code) == 3 and code.isascii() and code.isdigit() for code in codes):
        yield "a code that is none"


def _care(wish: Wish, plan: Plan, facts: Mapping[str, PersonFacts]) -> Iterator[str]:
    inside = {sample.mark: sample for sample in plan.samples}
    for sitting in plan.sittings:
        for seat in sitting.seats:
            person = facts[seat.person_id]
            for mark in {one.mark for g in seat.glasses for one in (g, *g.glasses)}:
                if inside[mark].compound in person.refused_compounds:
                    yield f"{person.name} is served {inside[mark].compound}"
                if (inside[mark].beer or wish.beer) in person.refused_beers:
                    yield f"{person.name} is served a beer they are not to be served"
            grams = _grams(wish, _poured(seat.glasses))
            if grams > wish.limits.alcohol_g + Decimal("0.005"):
                yield f"{grams} g of alcohol for {person.name}"
            if _poured(seat.glasses) > min(24, wish.limits.most_glasses):
                yield f"{_poured(seat.glasses)} glasses for {person.name}"


def _grams(wish: Wish, glasses: int) -> Decimal:
    share = wish.limits.spat_share if wish.spits else Decimal(1)
    volume = (glasses + wish.has_control) * wish.volume_ml
    return volume * wish.abv_percent / 100 * Decimal("0.789") * share


def _amounts(wish: Wish) -> Iterator[str]:
    limits = wish.limits
    for what, number, low, high in (
        ("volume", wish.volume_ml, 5, 200), ("abv", wish.abv_percent, 0, 30),
        ("share", limits.spat_share, 0, 1), ("limit", limits.alcohol_g, 0, 100),
        ("glasses", Decimal(limits.most_glasses), 1, 24), ("spares", Decimal(wish.spares), 0, 4),
    ):  # fmt: skip
        if not (number.is_finite() and low <= number <= high):
            yield f"{what} {number}"


def _samples(wish: Wish, plan: Plan) -> Iterator[str]:
    if len(plan.samples) != len(wish.samples) or not plan.samples:
        yield "samples were lost"
    for sample in plan.samples:
        level, facts = sample.level, COMPOUNDS.get(sample.compound or "")
        if (sample.compound is None) != (level is None) or (sample.compound and facts is None):
            yield f"{sample}"
        if level is not None and not (level.is_finite() and Decimal("0.01") <= level <= 100):
            yield f"level {level}"
        if facts and (
            facts.serve == "no" or not facts.has_threshold or level > (facts.ceiling or 100)
        ):
            yield f"{sample.compound} at {level}"
        if sample.glasses not in (0, 1, 2) or sample.method not in METHODS[:6]:
            yield f"{sample}"
        if (sample.method in ("a_not_a", "intensity")) != bool(sample.asks or sample.knows):
            yield f"{sample.method} asks {sample.asks}, {sample.knows}"
        if sample.batch and not wish.is_release:
            yield "a batch is judged in a session"
    kinds = Counter((s.compound, s.level, s.method, s.asks) for s in plan.samples if s.compound)
    if any(count > 1 for count in kinds.values()):
        yield "one preparation under two letters"


def _seats(wish: Wish, plan: Plan, facts: Mapping[str, PersonFacts]) -> Iterator[str]:
    come = [seat.person_id for sitting in plan.sittings for seat in sitting.seats]
    if come != [who for sitting in wish.sittings for who in sitting.people] or not come:
        yield "not everybody who comes has a seat"
    if len(set(come)) < len(come) or set(come) <= set(wish.preparers):
        yield "somebody sits twice, or only who prepares tastes"
    for sitting in plan.sittings:
        if len(sitting.spares) != wish.spares:
            yield "spare orders are missing"
        for seat in sitting.seats:
            yield from _seat(wish, plan, seat, facts[seat.person_id])


def _seat(wish: Wish, plan: Plan, seat: PlannedSeat, person: PersonFacts) -> Iterator[str]:
    wanted = Counter({s.mark: s.glasses for s in plan.samples
                      if s.compound not in person.refused_compounds and s.glasses})  # fmt: skip
    own = Counter(glass.mark for glass in seat.glasses)
    if [glass.position for glass in seat.glasses] != list(range(1, len(seat.glasses) + 1)):
        yield "places are not numbered from 1"
    everything = sum(s.glasses for s in plan.samples)
    if wish.flight in (None, everything):
        if own != wanted:
            yield f"{person.name} gets {dict(own)} of {dict(wanted)}"
    elif sum(own.values()) > wish.flight or own - wanted or not own:
        yield f"{person.name} gets {dict(own)} in a flight of {wish.flight} of {dict(wanted)}"
    for glass in seat.glasses:
        size = _SETS.get(glass.method, 0)
        if len(glass.glasses) != size or (size and sum(one.is_odd for one in glass.glasses) != 1):
            yield f"a set of {len(glass.glasses)} in {glass.method}"
        if (own[glass.mark] > 1) != (glass.duplicate_mark is not None):
            yield f"{glass.mark} stands {own[glass.mark]} times, marked {glass.duplicate_mark}"
