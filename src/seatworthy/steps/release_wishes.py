"""Wishes that start short: a release sitting, or whether people know a beer; with what the record knows."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from decimal import Decimal
from secrets import randbelow
from typing import Final

from seatworthy.sessions.wish import (
    AGED,
    OWN,
    SISTER,
    YES_NO,
    WantedSample,
    WantedSitting,
    Wish,
)
from seatworthy.steps.batches import Batch, batches
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.plan_choices import plan_choices
from seatworthy.steps.who_sits import who_sits

CHECK_LEVEL: Final = Decimal(3)
RANDOM_SEEDS: Final = 1_000_000  # short enough to be read aloud
_GLASS_ML: Final = Decimal(30)
_USUAL_ABV: Final = Decimal(5)
_START: Final = time(14)
_MONITORING: Final = "monitoring"


@dataclass(frozen=True)
class ShortWish:
    """What both short forms ask for.

    Attributes:
        session_on, label, sittings, volume_ml, spits, seed: As in `Wish`.
        container: Id of the kind of vessel that is dosed; None if what is added is written by hand.
    """

    session_on: date
    label: str
    sittings: tuple[WantedSitting, ...]
    volume_ml: Decimal = _GLASS_ML
    spits: bool = True
    seed: int = 0
    container: str | None = None


@dataclass(frozen=True)
class ReleaseStart:
    """What the form of a release sitting starts with.

    Attributes:
        batches: Ids of the batches to judge.
        people: Person ids of those who come.
        compound: Key of what the spiked check glass holds; None if nothing can be.
    """

    session_on: date
    label: str
    starts_at: time
    batches: tuple[str, ...]
    people: tuple[str, ...]
    compound: str | None
    seed: int


def with_batches(desk: Desk, wish: Wish) -> Wish:
    """The same wish, each batch with its beer, and as strong as the strongest that is poured.

    A batch that is not on record stays as it is: the plan refuses it.

    Args:
        desk: The open store.
        wish: Any wish; one that pours no other beer is given back as it is.
    """
    known = {one.batch_id: one for one in batches(desk)}
    samples = tuple(
        replace(sample, beer=known[sample.batch].beer) if sample.batch in known else sample
        for sample in wish.samples
    )
    poured = {sample.beer for sample in samples if sample.beer}
    if not poured:
        return wish
    strengths = _strengths(desk)
    strongest = max([wish.abv_percent, *(strengths[b] for b in poured if strengths.get(b))])
    return replace(wish, samples=samples, abv_percent=strongest)


def _strengths(desk: Desk) -> dict[str, Decimal]:
    """Alcohol by beer, percent, of those for which somebody stated it."""
    rows = desk.store.rows("beers_with_family")
    return {row["beer"]: row["abv_percent"] for row in rows if row["abv_percent"] is not None}


def first_release(
    desk: Desk, batch_id: str | None = None, people: Collection[str] = ()
) -> ReleaseStart:
    """What an empty release sitting starts with: today, the latest batch, who sits for its family.

    The check glass holds one of the family's critical compounds, another one each time.

    Args:
        desk: The open store.
        batch_id: The batch that the address names; None for the latest.
        people: Those that the address names; empty for who sits and did not make the batch.
    """
    every = batches(desk)
    chosen = next((one for one in every if one.batch_id == batch_id), None)
    chosen = chosen or next(iter(every), None)
    seed = randbelow(RANDOM_SEEDS)
    known = {person.person_id for person in plan_choices(desk).people}
    coming = [person for person in people if person in known]
    return ReleaseStart(
        session_on=desk.today(),
        label=f"Release, {chosen.label}" if chosen else "Release",
        starts_at=_START,
        batches=(chosen.batch_id,) if chosen else (),
        people=tuple(coming or _who_sits(desk, chosen, known)),
        compound=check_compound(desk, chosen.family, seed) if chosen else None,
        seed=seed,
    )


def _who_sits(desk: Desk, batch: Batch | None, known: Collection[str]) -> list[str]:
    """Who sits for a batch's family and did not make it; everybody else's, before anybody sits."""
    crew = set(batch.crew) if batch else set()
    free = [p.person_id for p in plan_choices(desk).people if p.person_id not in crew]
    judged = judge_day(desk)
    if batch is None or batch.family not in judged.families:
        return free
    sits = who_sits(desk, judged, batch.family)
    found = [person for person in judged.people if person in known and sits.sits(person)]
    return [person for person in found if person not in crew] or free


def check_compound(desk: Desk, family: str, seed: int) -> str | None:
    """A critical compound of a family that can be dosed, by the seed; None if there is none."""
    may = {
        choice.key
        for choice in plan_choices(desk).compounds
        if choice.serve != "no" and {family, ""} & set(choice.families)
    }
    rows = desk.store.rows("family_compounds")
    critical = {r["compound"] for r in rows if (r["family"], r["role"]) == (family, "critical")}
    critical = critical or {compound for item in desk.rulebook.critical for compound in item}
    found = sorted(critical & may) or sorted(may)
    return found[seed % len(found)] if found else None


def release_wish(
    desk: Desk,
    short: ShortWish,
    batch_ids: Sequence[str],
    *,
    check: tuple[str, Decimal, str] | None = None,
    has_plain: bool = True,
) -> Wish:
    """A release sitting: batches, and hidden among them a spiked and a plain check glass.

    Args:
        desk: The open store.
        short: Day, name, people and glasses.
        batch_ids: What is judged.
        check: Compound, level and what is added of the spiked check glass; None for none.
        has_plain: Whether a plain check glass is poured.
    """
    known = {one.batch_id: one for one in batches(desk)}
    first = known.get(batch_ids[0]) if batch_ids else None
    samples = [WantedSample(None, None, batch=batch_id) for batch_id in batch_ids]
    samples += [WantedSample(check[0], check[1], check[2])] if check else []
    samples += [WantedSample(None, None)] if has_plain else []
    beers = plan_choices(desk).beers
    beer = first.beer if first else next((one.key for one in beers), "")
    return with_batches(desk, _wish(desk, short, beer, tuple(samples), is_release=True))


def known_beer_wish(
    desk: Desk, short: ShortWish, beer: str, beside: Collection[str], sister: str | None, aged: str
) -> Wish:
    """A session that asks of every glass whether it is a certain beer.

    The beer itself is poured twice, everything else once.

    Args:
        desk: The open store.
        short: Day, name, people and glasses.
        beer: Key of the beer asked about.
        beside: What is poured beside it, of `wish.VARIANTS`.
        sister: Key of the sister brand; None if none is chosen.
        aged: How the aged one was aged, in words.
    """
    samples = [WantedSample(None, None, "", 2, YES_NO, knows=(beer, OWN))]
    for variant in beside:
        samples.append(
            WantedSample(
                None,
                None,
                aged if variant == AGED else "",
                1,
                YES_NO,
                knows=(beer, variant),
                beer=sister if variant == SISTER else None,
            )
        )
    return with_batches(desk, _wish(desk, short, beer, tuple(samples), is_release=False))


def _wish(
    desk: Desk, short: ShortWish, beer: str, samples: tuple[WantedSample, ...], *, is_release: bool
) -> Wish:
    return Wish(
        session_on=short.session_on,
        label=short.label,
        purpose=_MONITORING,
        beer=beer,
        abv_percent=_strengths(desk).get(beer, _USUAL_ABV),
        volume_ml=short.volume_ml,
        samples=samples,
        sittings=short.sittings,
        has_control=False,
        spits=short.spits,
        leaves_out=True,
        seed=short.seed,
        container=short.container,
        is_release=is_release,
    )


def sitting_at(day: date, starts_at: time, label: str, people: Sequence[str]) -> WantedSitting:
    """One sitting of a short form."""
    return WantedSitting(label, datetime.combine(day, starts_at), tuple(people))
