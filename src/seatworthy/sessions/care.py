"""Care for those who taste: what they are not to be served, and how much alcohol they take."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Final

from seatworthy.sessions.alcohol import alcohol_g, taken_g
from seatworthy.sessions.asking import Asking
from seatworthy.sessions.wording import counted, listed, plain

SMALLEST_ML: Final = Decimal(5)
LARGEST_ML: Final = Decimal(200)
STRONGEST_PERCENT: Final = Decimal(30)
# A limit above this limits nothing; ours, no source.
HIGHEST_LIMIT_G: Final = Decimal(100)


def care_faults(asking: Asking) -> Iterator[str]:
    """What somebody is not to be served, and alcohol above the limit."""
    for person in asking.comers:
        yield from _refusal_faults(asking, person)
    amounts = tuple(_amount_faults(asking))
    yield from amounts
    if not amounts:
        yield from _alcohol_faults(asking)


def volume_each_ml(asking: Asking) -> Decimal:
    """Beer in a whole order, the control included; nobody gets more, also not from a spare one."""
    return (asking.glasses + asking.wish.has_control) * asking.wish.volume_ml


def counted_g(asking: Asking) -> Decimal:
    """Grams of alcohol that count as swallowed: the spat share if everybody spits, else whole."""
    wish = asking.wish
    share = wish.limits.spat_share if wish.spits else Decimal(1)
    return taken_g(volume_each_ml(asking), wish.abv_percent, share)


def left_out_sentences(asking: Asking, poured: Mapping[str, int]) -> tuple[str, ...]:
    """One sentence for each person who does not get what they are not to be served.

    Args:
        asking: A wish that has no fault.
        poured: Glasses of each person, those in sets included.
    """
    found = []
    for person in asking.comers:
        refused = asking.refused_here(person)
        if refused:
            what = listed([asking.inside(compound) for compound in refused])
            left = counted(poured[person], "glass")
            found.append(f"{asking.name(person)} gets no {what} and tastes {left}.")
    return tuple(found)


def _refusal_faults(asking: Asking, person: str) -> Iterator[str]:
    facts = asking.people.get(person)
    if facts is None:
        return
    for beer in asking.beers:
        if beer in facts.refused_beers:
            every = "which is in every glass" if len(asking.beers) == 1 else "which is poured"
            yield (
                f"{facts.name} is not to be served {asking.beer_label(beer)}, {every}: "
                f"leave {facts.name} out, or choose another beer."
            )
    refused = asking.refused_here(person)
    if not refused:
        return
    what = listed([asking.inside(compound) for compound in refused])
    if asking.kept_glasses(person) == 0:
        yield (
            f"{facts.name} is not to be served {what}, and there is nothing else: leave "
            f"{facts.name} out, or add another sample."
        )
    elif not asking.wish.leaves_out and asking.kept_places(person) < (
        asking.flight or asking.places
    ):
        yield (
            f"{facts.name} is not to be served {what}: let such glasses be left out, leave "
            f"{facts.name} out, or take it out of the session."
        )


def _amount_faults(asking: Asking) -> Iterator[str]:
    wish, limits = asking.wish, asking.wish.limits
    if not _between(wish.volume_ml, SMALLEST_ML, LARGEST_ML):
        yield (
            f"A glass holds {plain(wish.volume_ml)} ml: choose {SMALLEST_ML} to {LARGEST_ML} ml."
        )
    if not _between(wish.abv_percent, Decimal(0), STRONGEST_PERCENT):
        yield (
            f"The base beer has {plain(wish.abv_percent)}% alcohol: choose 0 to "
            f"{STRONGEST_PERCENT}%."
        )
    if not _between(limits.spat_share, Decimal(0), Decimal(1)):
        share = limits.spat_share
        percent = plain(share * 100 if share.is_finite() else share)
        yield f"{percent}% of a spat glass counts as swallowed: choose 0 to 100%."
    if not _between(limits.alcohol_g, Decimal(0), HIGHEST_LIMIT_G):
        limit = plain(limits.alcohol_g)
        yield f"The alcohol limit is {limit} g: choose 0 to {plain(HIGHEST_LIMIT_G)} g."


def _between(number: Decimal, low: Decimal, high: Decimal) -> bool:
    return number.is_finite() and low <= number <= high


def _alcohol_faults(asking: Asking) -> Iterator[str]:
    wish, counts, limit = asking.wish, counted_g(asking), asking.wish.limits.alcohol_g
    if counts <= limit:
        return
    glasses = f"{plain(volume_each_ml(asking))} ml at {plain(wish.abv_percent)}%"
    if not wish.spits:
        yield (
            f"Swallowed, {glasses} are {counts} g of alcohol for one person, above the limit of "
            f"{plain(limit)} g: let everybody spit, pour less, or take samples out."
        )
        return
    whole = alcohol_g(volume_each_ml(asking), wish.abv_percent)
    yield (
        f"{glasses} hold {whole} g of alcohol for one person; even if everybody spits, {counts} g "
        f"count as swallowed, above the limit of {plain(limit)} g: pour less, or take samples out."
    )
