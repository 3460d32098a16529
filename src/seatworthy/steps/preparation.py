"""The preparation of a session as the preparer reads it: every vessel, in the order of work."""

from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any

from seatworthy.sessions.doses.amounts import ul_words
from seatworthy.sessions.doses.recipe import work_order
from seatworthy.sessions.doses.stock import stock_fault
from seatworthy.steps.bench_facts import pipettes, stocks
from seatworthy.steps.desk import Desk
from seatworthy.steps.prepare_words import level_words, when_words
from seatworthy.steps.recipes import of_session
from seatworthy.steps.recipes_kept import KeptRecipe, Vessel, taken_words
from seatworthy.steps.sentences import joined, number_word, sentence_start
from seatworthy.steps.session_facts import SessionFacts, session_facts
from seatworthy.steps.session_parts import Sample
from seatworthy.steps.vessel_views import LetterToPrepare, PreparingView, VesselLine
from seatworthy.steps.vessels import Dosed, SessionVessels
from seatworthy.steps.views import Choice

SHEET = "Handle it as its safety data sheet says; after contact or inhalation do what its first-aid section says."


def preparation(desk: Desk, session_id: str) -> PreparingView | None:
    """Everything about preparing one session; None if there is none of this id, or it has no plan."""
    facts = session_facts(desk, session_id)
    if facts is None or facts.head.volume_ml is None:
        return None
    own = SessionVessels(facts)
    letters = _letters(own)
    answer, catch, lead = _sentences(facts, letters)
    asked = of_session(facts)
    return PreparingView(
        session_id=session_id,
        session_on=facts.head.session_on,
        label=facts.head.label,
        beer=facts.head.beer_label or "",
        starts=asked.starts,
        answer=answer,
        catch=catch,
        lead=lead,
        letters=letters,
        by_hand=(
            *(
                f"{s.mark}: {facts.compound_label(s.compound)}, "
                f"{s.addition or 'nothing is written of what is added'}."
                for s in asked.samples
                if s.mark not in own.recipes and s.compound is not None
            ),
            *(
                f"{s.mark}: {s.poured_label}, poured as it is."
                for s in facts.samples_at(facts.sittings[0].sitting_id)
                if s.is_poured_as_it_is
            ),
        ),
        notes=tuple(_notes(own)),
        is_open=facts.is_open,
        people=tuple(Choice(person, name) for person, name in facts.names.items()),
        pipettes=tuple(Choice(p.pipette_id, p.label) for p in pipettes(desk)),
    )


def ordered_marks(facts: SessionFacts, recipes: dict[str, KeptRecipe]) -> list[str]:
    """Letters in the order of work: blanks, then compound by compound, the weakest of each first."""
    samples = {s.mark: s for s in reversed(facts.samples_at(facts.sittings[0].sitting_id))}
    return list(
        work_order([(mark, samples[mark].compound, r.level) for mark, r in recipes.items()])
    )


def _letters(own: SessionVessels) -> tuple[LetterToPrepare, ...]:
    facts = own.facts
    samples = {s.mark: s for s in reversed(facts.samples_at(facts.sittings[0].sitting_id))}
    care = {row["compound"]: row for row in facts.desk.store.rows("compound_care")}
    found: list[LetterToPrepare] = []
    before: str | None = None
    for mark in ordered_marks(facts, own.recipes):
        sample = samples[mark]
        about = care.get(sample.compound or "", {})
        found.append(_letter(own, sample, about, sample.compound not in (None, before)))
        before = sample.compound
    return tuple(found)


def _letter(
    own: SessionVessels, sample: Sample, about: dict[str, Any], is_new_tip: bool
) -> LetterToPrepare:
    facts, recipe = own.facts, own.recipes[sample.mark]
    with_what = f" with {recipe.pipette}" if recipe.pipette else ""
    but_ethanol = f"nothing but {recipe.ethanol}" if recipe.ethanol else ""
    caution = sentence_start(about.get("safety", "")).rstrip(". ")
    return LetterToPrepare(
        mark=sample.mark,
        what=facts.compound_label(sample.compound),
        level=sample.given_level,
        real=level_words(recipe.level, recipe.level_off),
        take=f"{recipe.take}{with_what}" if recipe.take else but_ethanol,
        stock=recipe.stock,
        into=_into(recipe),
        when=_when(facts, own.by_mark[sample.mark], recipe, sample),
        caution=f"{caution}. {SHEET}" if caution else "",
        stocks=_other_lots(facts, sample, recipe, about),
        is_new_tip=is_new_tip,
        vessels=tuple(_line(own, vessel) for vessel in own.by_mark[sample.mark]),
    )


def _into(recipe: KeptRecipe) -> str:
    volume = f"{recipe.volume_ml.normalize():f} ml of beer in each"
    return f"{volume}; take out as much first" if recipe.is_out_first else volume


def _other_lots(
    facts: SessionFacts, sample: Sample, recipe: KeptRecipe, about: dict[str, Any]
) -> tuple[Choice, ...]:
    return tuple(
        Choice(stock.stock_id, stock.label)
        for stock in stocks(facts.desk)
        if stock.compound == sample.compound
        and stock.kind == recipe.stock_kind
        and not stock_fault(stock, facts.head.session_on, about.get("serve", "yes"))
    )


def starts_of(facts: SessionFacts, vessels: Sequence[Vessel]) -> list[datetime]:
    """Starts of the sittings that vessels serve (UTC), the earliest first."""
    served = {facts.samples[s].sitting_id for vessel in vessels for s in vessel.sample_ids}
    found = [s.starts_at for s in facts.sittings if s.sitting_id in served]
    return sorted(start for start in found if start)


def _when(
    facts: SessionFacts, vessels: Sequence[Vessel], recipe: KeptRecipe, sample: Sample
) -> str:
    """Earliest and latest time, for each sitting where each has vessels of its own."""
    now = datetime.now(UTC).replace(tzinfo=None) if facts.is_open else None
    groups = [vessels] if recipe.is_shared else _by_sample(vessels)
    return "; ".join(
        when_words(starts, recipe.container_kind, sample.keeps_h, facts.desk.time_zone, now)
        for starts in (starts_of(facts, group) for group in groups)
        if starts
    )


def _by_sample(vessels: Sequence[Vessel]) -> list[list[Vessel]]:
    found: dict[tuple[str, ...], list[Vessel]] = {}
    for vessel in vessels:
        found.setdefault(vessel.sample_ids, []).append(vessel)
    return list(found.values())


def _line(own: SessionVessels, vessel: Vessel) -> VesselLine:
    facts, dose = own.facts, own.dose_in(vessel)
    sittings = {s.sitting_id: s.label for s in facts.sittings}
    served = [sittings[facts.samples[sample].sitting_id] for sample in vessel.sample_ids]
    steps = own.steps_of(vessel)
    return VesselLine(
        key=vessel.name,
        where=joined(served),
        dosed=_dosed_words(own, dose) if dose else "",
        level=own.levels.get((vessel.sample_ids[0], vessel.number)),
        steps=tuple(step for step in steps if step != "put_away"),
        is_put_away=own.is_put_away(vessel),
        remarks=tuple(own.remarks.get(vessel.name, ())),
    )


def _dosed_words(own: SessionVessels, dose: Dosed) -> str:
    facts = own.facts
    at = facts.local(dose.dosed_at)
    what = taken_words(dose.stock_kind, dose.amount, dose.setting_ul, dose.shots) or "nothing added"
    lot = f" of lot {dose.lot}" if dose.lot else ""
    by = f" by {facts.names[dose.person_id]}" if dose.person_id else ""
    return f"{what}{lot}, {at:%H:%M}{by}" if at else f"{what}{lot}{by}"


def _notes(own: SessionVessels) -> list[str]:
    """What differs from the plan, what a lot's end brings, what is left to say of ethanol."""
    facts = own.facts
    notes = []
    for sample in facts.samples.values():
        if sample.unfit:
            notes.append(
                f"{sample.mark}: {sample.unfit} by the time it is served, so its answers are kept and not "
                "for qualification."
            )
    ethanol = [recipe.mark for recipe in own.recipes.values() if recipe.solvent_ul]
    if ethanol:
        most = max(own.recipes[mark].solvent_ul for mark in ethanol)
        notes.append(
            f"Blanks get up to {ul_words(most)} of food-grade ethanol, as much as the doses bring."
        )
    return list(dict.fromkeys(notes))


def _sentences(facts: SessionFacts, letters: Sequence[LetterToPrepare]) -> tuple[str, str, str]:
    vessels = [vessel for letter in letters for vessel in letter.vessels]
    if not vessels:
        return (
            "Nothing here is worked out from the bench",
            "",
            "What is added was written by hand; state the levels as they really were on the session's page.",
        )
    dosed = sum(bool(vessel.dosed) for vessel in vessels)
    away = sum(vessel.is_put_away for vessel in vessels)
    ready = sum(not v.is_put_away and not v.next_step for v in vessels)
    lead = (
        "Blanks first, then the weakest of each compound; a new tip for every compound. The level of "
        "every answer is counted from what is ticked here."
    )
    if not facts.is_open:
        number = sentence_start(number_word(dosed)) if dosed else "None"
        verb = "was" if dosed < 2 else "were"
        closed = (
            "The session takes no more answers, so nothing is ticked any more; what isn't ticked counts "
            "at the planned level."
        )
        return f"{number} of {len(vessels)} vessels {verb} ticked as dosed", "", closed
    if dosed == 0:
        number = sentence_start(number_word(len(vessels)))
        what = "vessel" if len(vessels) == 1 else "vessels"
        return f"{number} {what} to prepare", "none is dosed yet.", lead
    if ready + away == len(vessels):
        unfit = sorted({s.mark for s in facts.samples.values() if s.unfit})
        verb = "is" if len(unfit) == 1 else "are"
        catch = f"{joined(unfit)} {verb} not for qualification." if unfit else ""
        return "Every vessel is dosed, capped, tight and chilled", catch, lead
    left = len(vessels) - ready - away
    if dosed == len(vessels):
        return (
            f"All {number_word(len(vessels))} vessels are dosed"
            if dosed > 1
            else "The vessel is dosed",
            f"{left} still {'waits' if left == 1 else 'wait'} to be capped, found tight or chilled.",
            lead,
        )
    verb = "is" if dosed == 1 else "are"
    return (
        f"{sentence_start(number_word(dosed))} of {len(vessels)} vessels {verb} dosed",
        f"{left} still {'waits' if left == 1 else 'wait'} for a step.",
        lead,
    )
