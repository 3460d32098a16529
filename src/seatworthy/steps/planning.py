"""From a wish to a plan on record: samples, codes and orders, checked before anything is kept."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from secrets import randbelow
from typing import Any

from seatworthy.errors import PanelError, PlanRefused
from seatworthy.intake.words import Unreadable, fold, read_label, read_text
from seatworthy.rules.verdict import counted
from seatworthy.sessions.doses.recipe import WorkedOut
from seatworthy.sessions.layout import lay_out
from seatworthy.sessions.plan import PersonFacts, Plan
from seatworthy.sessions.wish import Limits, WantedSample, WantedSitting, Wish
from seatworthy.steps.bench_facts import containers
from seatworthy.steps.closing import call_off
from seatworthy.steps.desk import Desk
from seatworthy.steps.dose_ethanol import ethanol_fault, with_doses_g
from seatworthy.steps.labels import short_label
from seatworthy.steps.panel import people_of_panel
from seatworthy.steps.past_flights import past_flights
from seatworthy.steps.plan_choices import plan_choices
from seatworthy.steps.plan_rows import plan_rows
from seatworthy.steps.plan_shelf import shelf_facts
from seatworthy.steps.recipe_rows import by_hand_line, dose_line, prepared_rows
from seatworthy.steps.recipes import container_on_bench, of_plan, worked_out
from seatworthy.steps.release_wishes import with_batches
from seatworthy.steps.resting_codes import resting_codes
from seatworthy.steps.sentences import number_word, sentence_start
from seatworthy.steps.session_facts import SessionFacts, session_facts
from seatworthy.steps.session_parts import NOTHING_ADDED
from seatworthy.steps.session_views import DoseLine, PlanPreview
from seatworthy.store.ids import session_name

__all__ = ["call_off", "first_wish", "plan_choices", "preview", "record_plan", "wish_again"]

ADDITION_LENGTH = 120
SEEDS = 2**31
RANDOM_SEEDS = 1_000_000  # short enough to be read aloud
_THURSDAY = 3
_AGAIN_AFTER = timedelta(weeks=4)


def first_wish(desk: Desk) -> Wish:
    """What an empty plan starts with: the next Thursday, everybody, two blanks and no compound."""
    choices = plan_choices(desk)
    today = desk.today()
    day = today + timedelta(days=(_THURSDAY - today.weekday()) % 7)
    beer = choices.beers[0] if choices.beers else None
    people = tuple(person.person_id for person in choices.people)
    return Wish(
        session_on=day,
        label="Taste panel",
        purpose="qualification",
        beer=beer.key if beer else "",
        abv_percent=(beer.abv_percent if beer else None) or Decimal(5),
        volume_ml=Decimal(30),
        samples=(WantedSample(None, None, glasses=2),),
        sittings=(WantedSitting("Sitting 1", datetime.combine(day, time(14)), people),),
        seed=randbelow(RANDOM_SEEDS),
    )


def preview(desk: Desk, wish: Wish) -> PlanPreview:
    """Lay a plan out without recording it.

    Raises:
        PlanRefused: with everything that stands in its way.
    """
    wish = with_batches(desk, wish)
    plan = _laid_out(desk, wish)
    doses = _doses(desk, wish, plan)
    counted_g, swallowed_g = with_doses_g(wish, plan, doses)
    return PlanPreview(
        answer=_plan_sentence(plan),
        alcohol_g=counted_g,
        swallowed_g=swallowed_g,
        left_out=plan.left_out,
        notes=(*_about_spitting(wish, swallowed_g), *plan.notes, *(doses.notes if doses else ())),
        doses=_dose_lines(desk, wish, plan, doses) if doses else (),
        rests=plan.rests,
    )


def _dose_lines(desk: Desk, wish: Wish, plan: Plan, doses: WorkedOut) -> tuple[DoseLine, ...]:
    """Doses in the order of work; what is written by hand comes after them."""
    starts = [sitting.starts_at for sitting in plan.sittings]
    kind = container_on_bench(desk, wish.container or "").kind
    labels = {row["compound"]: short_label(row["label"]) for row in desk.store.rows("compounds")}
    by_hand = [s for s in plan.samples if s.addition]
    return (
        *(dose_line(recipe, starts, kind, desk.time_zone) for recipe in doses.recipes),
        *(by_hand_line(s, labels.get(s.compound or "", NOTHING_ADDED)) for s in by_hand),
    )


def _about_spitting(wish: Wish, swallowed_g: Decimal) -> Iterator[str]:
    if swallowed_g > wish.limits.alcohol_g:
        yield (
            f"Swallowed, these glasses hold {swallowed_g:.1f} g of alcohol, more than the limit of "
            f"{wish.limits.alcohol_g:g} g: everybody must spit."
        )


def _plan_sentence(plan: Plan) -> str:
    people = sum(len(sitting.seats) for sitting in plan.sittings)
    glasses = sum(
        len(glass.glasses) or 1
        for sitting in plan.sittings
        for seat in sitting.seats
        for glass in seat.glasses
    )
    sittings = len(plan.sittings)
    return (
        f"{sentence_start(number_word(people))} {'person' if people == 1 else 'people'} at "
        f"{number_word(sittings)} {'sitting' if sittings == 1 else 'sittings'}, "
        f"{counted(glasses, 'glass')} from {counted(len(plan.samples), 'jug')}"
    )


def record_plan(desk: Desk, wish: Wish) -> str:
    """Record a plan; its codes are drawn anew against what is on record at that moment.

    Returns:
        The session's id.

    Raises:
        PlanRefused: with everything that stands in its way.
    """
    with desk.store.recording("plan") as act:
        tidy = _tidied(with_batches(desk, wish))
        plan = _laid_out(desk, tidy)
        session_id = session_name(tidy.session_on, fold(tidy.label))
        if desk.store.rows("session", session_id=session_id):
            fault = (
                f"There is a session “{tidy.label}” on {tidy.session_on.isoformat()} already, held or "
                "called off. Give this one another name."
            )
            raise PlanRefused([fault])
        act.add_all(plan_rows(tidy, plan, session_id))
        act.add_all(prepared_rows(desk, tidy, plan, session_id, _doses(desk, tidy, plan)))
    return session_id


def _tidied(wish: Wish) -> Wish:
    """The same wish with its labels and texts as they are kept.

    Raises:
        PlanRefused: if one of them can't be kept.
    """
    faults: list[str] = []

    def kept(what: str, text: str, *, is_label: bool = True) -> str:
        try:
            return read_label(text) if is_label else read_text(text, ADDITION_LENGTH)
        except Unreadable as fault:
            faults.append(f"{what} {fault}")
            return text

    if wish.seed >= SEEDS:
        faults.append(f"The seed is a whole number from 0 to {SEEDS - 1}, got {wish.seed}.")
    tidy = replace(
        wish,
        preparers=tuple(dict.fromkeys(wish.preparers)),
        label=kept("The name of the session", wish.label),
        sittings=tuple(
            replace(s, label=kept("The name of a sitting", s.label)) for s in wish.sittings
        ),
        samples=tuple(
            replace(
                s,
                level=_as_stored(s.level),
                addition=kept("What will be added", s.addition, is_label=False),
            )
            for s in wish.samples
        ),
    )
    if not fold(tidy.label):
        faults.append("The session has no name; give it one, such as Thursday panel.")
    if faults:
        raise PlanRefused(faults)
    return tidy


def _as_stored(level: Decimal | None) -> Decimal | None:
    """A level with the nine decimals that the store keeps; what is no number stays for the plan."""
    if level is None or not level.is_finite():
        return level
    return round(level, 9).normalize() if abs(level) < 10**6 else level


def _laid_out(desk: Desk, wish: Wish) -> Plan:
    return lay_out(
        wish,
        shelf_facts(desk, wish.beer, wish.session_on),
        _people_facts(desk),
        resting_codes(desk, wish.session_on),
        desk.today(),
        desk.time_zone,
        label_key=fold,
        past=past_flights(desk, wish.session_on),
    )


def _doses(desk: Desk, wish: Wish, plan: Plan) -> WorkedOut | None:
    """Doses from the bench; None where everything is written by hand.

    Raises:
        PlanRefused: with every reason why one can't be made.
    """
    if wish.container is None:
        return None
    worked = worked_out(desk, of_plan(desk, wish, plan), wish.container)
    faults = [*worked.faults, *filter(None, [ethanol_fault(wish, plan, worked)])]
    if faults:
        raise PlanRefused(faults)
    return worked


def _people_facts(desk: Desk) -> dict[str, PersonFacts]:
    return {
        person.person_id: PersonFacts(person.name, person.refused_compounds, person.refused_beers)
        for person in people_of_panel(desk)
    }


def wish_again(desk: Desk, session_id: str) -> Wish:
    """The same plan four weeks later, with a fresh seed and therefore fresh codes and orders.

    Raises:
        PanelError: if there is no such session, or it has no plan.
    """
    facts = session_facts(desk, session_id)
    if facts is None or facts.head.volume_ml is None:
        message = "That session has no plan that could be repeated."
        raise PanelError(message)
    head = facts.head
    day = max(head.session_on + _AGAIN_AFTER, desk.today())
    spares = {(spare.sitting_id, spare.spare_no) for spare in facts.spares}
    return Wish(
        session_on=day,
        label=head.label,
        purpose=head.purpose or "",
        beer=head.beer or "",
        abv_percent=head.abv_percent or Decimal(0),
        volume_ml=head.volume_ml,
        samples=tuple(_samples_again(facts)),
        sittings=tuple(_sittings_again(facts, day)),
        has_control=bool(head.has_control),
        spits=bool(head.spits),
        preparers=facts.preparers,
        spares=len(spares) // max(1, len(facts.sittings)),
        leaves_out=True,
        seed=randbelow(RANDOM_SEEDS),
        limits=Limits(
            head.most_glasses or 0,
            head.alcohol_limit_g or Decimal(0),
            head.spat_share or Decimal(0),
        ),
        repeats=session_id,
        is_release=head.is_release,
        **_flight_again(facts),
    )


def _flight_again(facts: SessionFacts) -> dict[str, Any]:
    """How it was shared out, and what was dosed if that is still on the bench."""
    desk, session_id = facts.desk, facts.head.session_id
    flights = desk.store.rows("session_flight", session_id=session_id)
    used = {
        row["container_id"] for row in desk.store.rows("session_recipes", session_id=session_id)
    }
    there = {container.container_id for container in containers(desk)}
    return {
        "flight": flights[0]["flight"] if flights else None,
        "strong_late": bool(flights[0]["strong_late"]) if flights else True,
        "container": next(iter(used & there), None),
    }


def _samples_again(facts: SessionFacts) -> Iterator[WantedSample]:
    for sample in facts.samples_at(facts.sittings[0].sitting_id):
        own = [g for g in facts.glasses if g.planned_sample_id == sample.sample_id]
        counts = Counter(glass.person_id for glass in own)
        yield WantedSample(
            sample.compound,
            sample.given_level,
            sample.addition,
            max(counts.values(), default=1 if sample.compound or sample.batch_id else 0),
            facts.methods[sample.sample_id],
            sample.asks,
            sample.batch_id,
            (sample.asks_beer, sample.variant) if sample.asks_beer and sample.variant else None,
            sample.beer if sample.beer != facts.head.beer else None,
        )


def _sittings_again(facts: SessionFacts, day: date) -> Iterator[WantedSitting]:
    on_panel = {p.person_id for p in people_of_panel(facts.desk) if p.is_panellist}
    for sitting in facts.sittings:
        starts = facts.local(sitting.starts_at)
        people = [p for p in facts.people_at(sitting.sitting_id) if p in on_panel]
        at = starts.time() if starts else time(14)
        yield WantedSitting(sitting.label, datetime.combine(day, at), tuple(people))
