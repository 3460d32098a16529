"""What is to be prepared for a session, and its doses worked out from what stands on the bench."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal

from seatworthy.errors import PlanRefused
from seatworthy.sessions.doses.equipment import Container
from seatworthy.sessions.doses.keeping import keeps_h
from seatworthy.sessions.doses.recipe import Bench, Need, WorkedOut
from seatworthy.sessions.doses.work_out import work_out
from seatworthy.sessions.plan import Plan, PlannedGlass, PlannedSeat
from seatworthy.sessions.wish import Wish
from seatworthy.sessions.wording import plain
from seatworthy.steps.bench_facts import (
    containers,
    highest_level,
    limits_on,
    pipettes,
    stocks,
)
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.session_facts import SessionFacts

_CAPPED = "bottle"
# A pipette's step may lift a level so much above its ceiling; ours, no source.
_CEILING_SLACK = Decimal("0.02")


@dataclass(frozen=True)
class ToPrepare:
    """One sample as it is to be prepared.

    Attributes:
        mark: Its letter.
        compound: Compound key; None for a blank.
        level: Wanted multiple, total; None for a blank.
        addition: What is added by hand; "" where the bench decides.
        glasses: Glasses poured of it at each sitting.
    """

    mark: str
    compound: str | None
    level: Decimal | None
    addition: str
    glasses: tuple[int, ...]


@dataclass(frozen=True)
class Preparation:
    """Everything that is to be prepared for a session.

    Attributes:
        beer: Key of the base beer.
        family: Key of its family.
        on: The day.
        pour_ml: Beer in one glass.
        starts: Local start of each sitting.
        samples: In the order of their letters.
    """

    beer: str
    family: str
    on: date
    pour_ml: Decimal
    starts: tuple[datetime, ...]
    samples: tuple[ToPrepare, ...]


def of_plan(desk: Desk, wish: Wish, plan: Plan) -> Preparation:
    """What a plan asks for that is not recorded yet."""
    counts = [Counter(_poured(sitting.seats, sitting.spares)) for sitting in plan.sittings]
    families = {row["beer"]: row["family"] for row in desk.store.rows("beers_with_family")}
    return Preparation(
        beer=wish.beer,
        family=families.get(wish.beer, ""),
        on=wish.session_on,
        pour_ml=wish.volume_ml,
        starts=tuple(sitting.starts_at for sitting in wish.sittings),
        samples=tuple(
            ToPrepare(s.mark, s.compound, s.level, s.addition, tuple(c[s.mark] for c in counts))
            for s in plan.samples
            if s.compound is not None or s.is_blank
        ),
    )


def _poured(
    seats: Sequence[PlannedSeat], spares: Sequence[tuple[PlannedGlass, ...]]
) -> Iterator[str]:
    """The letter of every glass that is poured, those of sets one by one."""
    orders = [*(seat.glasses for seat in seats), *spares]
    for glass in (glass for order in orders for glass in order):
        yield from (one.mark for one in glass.glasses) if glass.glasses else (glass.mark,)


def of_session(facts: SessionFacts) -> Preparation:
    """What a planned session on record asks for, spare orders that nobody took included."""
    head = facts.head
    counts = [_served(facts, sitting.sitting_id) for sitting in facts.sittings]
    samples = facts.samples_at(facts.sittings[0].sitting_id)
    return Preparation(
        beer=head.beer or "",
        family=head.family or "",
        on=head.session_on,
        pour_ml=head.volume_ml or Decimal(0),
        starts=tuple(
            facts.local(sitting.starts_at) or datetime.combine(head.session_on, datetime.min.time())
            for sitting in facts.sittings
        ),
        samples=tuple(
            ToPrepare(
                s.mark, s.compound, s.given_level, s.addition, tuple(c[s.mark] for c in counts)
            )
            for s in samples
            if not s.is_poured_as_it_is
        ),
    )


def _served(facts: SessionFacts, sitting_id: str) -> Counter[str]:
    """How many glasses of each letter are poured at one sitting."""
    marks = {sample.sample_id: sample.mark for sample in facts.samples.values()}
    counts: Counter[str] = Counter()
    for glass in facts.glasses:
        if glass.sitting_id == sitting_id:
            poured = [part.sample_id for part in glass.parts] or [glass.planned_sample_id]
            counts.update(marks[sample] for sample in poured)
    for spares in facts.spares_at(sitting_id).values():
        counts.update(marks[glass.sample_id] for glass in spares)
    return counts


def worked_out(desk: Desk, asked: Preparation, container_id: str) -> WorkedOut:
    """Doses of every sample for which nothing is written by hand.

    Raises:
        PlanRefused: if there is no such kind of vessel on the bench.
    """
    container = container_on_bench(desk, container_id)
    needs = _needs(desk, asked, container.kind)
    counting = desk.rulebook.counted
    bench = Bench(
        stocks=stocks(desk),
        pipettes=pipettes(desk),
        container=container,
        pour_ml=asked.pour_ml,
        starts=asked.starts,
        counted_levels=(
            Decimal(str(counting.lowest_level)),
            Decimal(str(counting.highest_level)),
        ),
    )
    found = work_out(needs, bench)
    return replace(found, faults=(*found.faults, *_above_ceiling(desk, asked.on, found)))


def _above_ceiling(desk: Desk, on: date, found: WorkedOut) -> Iterator[str]:
    """Doses that can only be made stronger than they may be served."""
    limits = limits_on(desk, on)
    for recipe in found.recipes:
        ceiling = highest_level(limits.get(recipe.need.compound or ""))
        if recipe.level is not None and recipe.level > ceiling * (1 + _CEILING_SLACK):
            yield (
                f"Sample {recipe.need.mark} ({recipe.need.label}) would really be "
                f"{recipe.level:.3g}×, above its ceiling of {plain(ceiling)}×: plan it weaker, take another stock, or "
                "raise the ceiling on the bench."
            )


def container_on_bench(desk: Desk, container_id: str) -> Container:
    """A kind of vessel in use.

    Raises:
        PlanRefused: if there is none of that id.
    """
    found = {container.container_id: container for container in containers(desk)}
    if container_id not in found:
        message = (
            "That kind of vessel isn't on the bench any more: choose another, or write what is "
            "added by hand."
        )
        raise PlanRefused([message])
    return found[container_id]


def _needs(desk: Desk, asked: Preparation, kind: str) -> tuple[Need, ...]:
    care = {row["compound"]: row for row in desk.store.rows("compound_care")}
    thresholds = {
        row["compound"]: row["threshold_ug_l"]
        for row in desk.store.rows("thresholds_on", family=asked.family, on_day=asked.on)
    }
    backgrounds = {
        row["compound"]: row["background_ug_l"]
        for row in desk.store.rows("shelf_backgrounds", on_day=asked.on)
        if row["beer"] == asked.beer
    }
    keeps = keeping_hours(desk, asked, kind)
    needs = []
    for sample in asked.samples:
        if sample.addition or (sample.compound is not None and sample.level is None):
            continue
        about = care.get(sample.compound or "", {})
        needs.append(
            Need(
                mark=sample.mark,
                compound=sample.compound,
                label=in_sentence(short_label(about["label"])) if about else "",
                level=sample.level,
                glasses=sample.glasses,
                threshold_ug_l=thresholds.get(sample.compound or ""),
                background_ug_l=backgrounds.get(sample.compound or ""),
                serve=about.get("serve", "yes"),
                keeps_h=keeps.get(sample.mark),
            )
        )
    return tuple(needs)


def keeping_hours(desk: Desk, asked: Preparation, kind: str | None) -> dict[str, Decimal]:
    """Hours that each spiked sample keeps, by its letter.

    Args:
        desk: The open store.
        asked: What is to be prepared.
        kind: Of vessel; None if nobody says, and then the hours of a capped bottle hold.
    """
    care = {row["compound"]: row for row in desk.store.rows("compound_care")}
    limits = limits_on(desk, asked.on)
    hours = {}
    for sample in asked.samples:
        if sample.compound is None or sample.level is None or sample.compound not in care:
            continue
        own = limits.get(sample.compound)
        hours[sample.mark] = keeps_h(
            care[sample.compound]["keeping"],
            sample.level,
            kind or _CAPPED,
            (own.keeps_h, own.keeps_weak_h) if own else (None, None),
        )
    return hours
