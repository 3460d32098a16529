"""What the papers of a planned session show: preparation, pouring, key and ballots."""

from dataclasses import replace
from datetime import datetime

from seatworthy.steps.chain_head import chain_head
from seatworthy.steps.desk import Desk
from seatworthy.steps.names_offered import name_and_word, names_offered
from seatworthy.steps.paper_recipes import PaperRecipes
from seatworthy.steps.paper_views import (
    PaperGlass,
    PaperOrder,
    PaperSample,
    PaperSetGlass,
    PaperSitting,
    PaperView,
)
from seatworthy.steps.session_care import alcohol_sentence, care_lines
from seatworthy.steps.session_facts import SessionFacts, session_facts
from seatworthy.steps.session_parts import Sample, SetPart, Sitting
from seatworthy.steps.session_rests import session_rests


def papers(desk: Desk, session_id: str) -> PaperView | None:
    """The papers of one planned session; None if there is none of this id, or it has no plan."""
    facts = session_facts(desk, session_id)
    if facts is None or facts.head.volume_ml is None:
        return None
    head = facts.head
    brewery = desk.store.rows("brewery")
    alcohol = alcohol_sentence(facts)
    recipes = PaperRecipes(facts)
    return PaperView(
        session_id=head.session_id,
        session_on=head.session_on,
        label=head.label,
        purpose=head.purpose or "",
        brewery=brewery[0]["label"] if brewery else "",
        beer=head.beer_label or "",
        family=head.family_label or "",
        volume_ml=head.volume_ml,
        control_ml=head.volume_ml * bool(head.has_control),
        sittings=tuple(_sitting(facts, sitting, recipes) for sitting in facts.sittings),
        names_offered=tuple(name_and_word(name) for name in names_offered(desk)),
        not_served=tuple(line for line in care_lines(facts) if line != alcohol),
        alcohol=alcohol,
        preparers=tuple(facts.names[person] for person in facts.preparers),
        printed_at=datetime.now(desk.time_zone).replace(tzinfo=None),
        record=chain_head(desk).words,
        bench_notes=recipes.notes(),
        rests=session_rests(facts),
        is_release=head.is_release,
    )


def _sitting(facts: SessionFacts, sitting: Sitting, recipes: PaperRecipes) -> PaperSitting:
    orders = [
        PaperOrder(facts.names[person], False, _glasses_of(facts, sitting.sitting_id, person))
        for person in facts.people_at(sitting.sitting_id)
    ]
    orders += [
        PaperOrder(
            f"Spare {number}",
            True,
            tuple(
                PaperGlass(
                    position=g.position,
                    code=g.blind_code,
                    mark=facts.samples[g.sample_id].mark,
                    method=facts.methods[g.sample_id],
                    asks=facts.asked_label(g.sample_id),
                    asks_beer=facts.asked_beer(g.sample_id),
                )
                for g in glasses
            ),
        )
        for number, glasses in facts.spares_at(sitting.sitting_id).items()
    ]
    orders = [order for order in orders if order.glasses]
    return PaperSitting(
        label=sitting.label,
        starts_at=facts.local(sitting.starts_at) or datetime.min,
        samples=tuple(_samples(facts, sitting, orders, recipes)),
        orders=tuple(orders),
    )


def _glasses_of(facts: SessionFacts, sitting_id: str, person: str) -> tuple[PaperGlass, ...]:
    return tuple(
        PaperGlass(
            position=g.position or 0,
            code=g.blind_code or "",
            mark=facts.samples[g.sample_id].mark,
            method=g.method,
            glasses=tuple(_in_set(facts, part) for part in g.parts),
            asks=facts.asked_label(g.planned_sample_id),
            asks_beer=facts.asked_beer(g.planned_sample_id),
        )
        for g in facts.glasses_of(sitting_id, person)
    )


def _in_set(facts: SessionFacts, part: SetPart) -> PaperSetGlass:
    mark = facts.samples[part.sample_id].mark
    return PaperSetGlass(part.place, part.code, mark, part.is_odd)


def _samples(
    facts: SessionFacts, sitting: Sitting, orders: list[PaperOrder], recipes: PaperRecipes
) -> list[PaperSample]:
    """What is prepared, in the order of work where doses are worked out, else by letter."""
    about = {row["compound"]: row for row in facts.desk.store.rows("compound_care")}
    glasses = [glass for order in orders for glass in order.glasses]
    poured = [one.mark for glass in glasses for one in glass.poured]
    in_sets = {one.mark for glass in glasses for one in glass.glasses}
    return [
        replace(
            _sample(facts, sample, poured.count(sample.mark), about.get(sample.compound or "", {})),
            is_asked_in_sets=sample.mark in in_sets,
            recipe=recipes.of(sample),
        )
        for sample in sorted(
            facts.samples_at(sitting.sitting_id), key=lambda sample: recipes.place(sample.mark)
        )
    ]


def _sample(
    facts: SessionFacts, sample: Sample, glasses: int, about: dict[str, str]
) -> PaperSample:
    return PaperSample(
        mark=sample.mark,
        label=facts.sample_label(sample),
        level=sample.given_level,
        addition=sample.addition,
        glasses=glasses,
        volume_ml=glasses * (facts.head.volume_ml or 0),
        caution=about.get("safety", ""),
        keeping=about.get("keeping", ""),
        compound=sample.compound or "",
    )
