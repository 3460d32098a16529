"""What came of each sample of a closed session, and whether its bottle is to be suspected."""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterator
from statistics import median

from seatworthy.steps.judging import Judged
from seatworthy.steps.reveal_views import Rated, SampleResult
from seatworthy.steps.session_facts import SessionFacts
from seatworthy.steps.session_parts import Glass, Sample
from seatworthy.steps.suspicion import Suspicion, suspicion_words, suspicions


def sample_results(facts: SessionFacts, judged: Judged) -> Iterator[SampleResult]:
    """Every preparation, sitting by sitting, by letter; beers poured as they are left out.

    Args:
        facts: The closed session.
        judged: The standings that its answers are part of.
    """
    found = suspicions(judged.evidence, _kin(facts), judged.rulebook)
    for sitting in facts.sittings:
        for sample in facts.samples_at(sitting.sitting_id):
            if sample.is_poured_as_it_is:
                continue  # there is no right answer to it, or it is told apart
            yield _result(facts, sample, sitting.label, found.get(sample.sample_id))


def counted_glasses(facts: SessionFacts, sample: Sample) -> list[Glass]:
    """Answered glasses of one sample that count; own words without a meaning do not yet.

    Ratings, which have no outcome, are not among them.
    """
    return [
        glass for glass in _fit_glasses(facts, sample) if facts.outcome(glass) not in (None, "open")
    ]


def rated_glasses(facts: SessionFacts, sample: Sample) -> list[Glass]:
    """Glasses of one sample that were rated, for the compound that it asks about."""
    return [
        glass
        for glass in _fit_glasses(facts, sample)
        if glass.is_rated and facts.samples[glass.planned_sample_id].asks == sample.asks
    ]


def rated_as(glasses: Collection[Glass]) -> Rated | None:
    """Median and range of some ratings; None where there is none."""
    ratings = [glass.rating for glass in glasses if glass.rating is not None]
    if not ratings:
        return None
    return Rated(len(ratings), median(ratings), min(ratings), max(ratings))


def _fit_glasses(facts: SessionFacts, sample: Sample) -> list[Glass]:
    """Glasses of one sample that nothing keeps from counting."""
    return [
        glass
        for glass in facts.glasses
        if glass.sample_id == sample.sample_id
        and not glass.is_aside
        and not sample.unfit
        and not facts.prepares_own(glass.person_id)
    ]


def _result(
    facts: SessionFacts, sample: Sample, sitting: str, suspicion: Suspicion | None
) -> SampleResult:
    outcomes = Counter(_came_to(facts, glass) for glass in counted_glasses(facts, sample))
    answers = outcomes.total()
    return SampleResult(
        sample_id=sample.sample_id,
        sitting=sitting,
        mark=sample.mark,
        label=facts.compound_label(sample.compound),
        level=sample.level,
        answers=answers,
        named_right=outcomes["right"],
        missed=outcomes["missed"],
        other_names=outcomes["wrong"],
        unnamed=outcomes["noticed"],
        is_aside=sample.is_aside,
        unfit=sample.unfit,
        is_suspect=suspicion is not None,
        sentence=suspicion_words(suspicion, answers, outcomes["right"], facts.labels)
        if suspicion
        else "",
        asks=facts.asked_label(sample.sample_id),
        rated=rated_as(rated_glasses(facts, sample)),
    )


def _came_to(facts: SessionFacts, glass: Glass) -> str | None:
    """A wrong pick names nothing: what was in the set was missed."""
    outcome = facts.outcome(glass)
    return "missed" if glass.parts and outcome == "wrong" else outcome


def _kin(facts: SessionFacts) -> Iterator[list[str]]:
    """Samples that may have come from one jug: those under one letter at several sittings.

    Those set aside are left out; blanks stand alone, since a taint is that of one jug.
    """
    by_mark: dict[str, list[str]] = defaultdict(list)
    for sample in facts.samples.values():
        if sample.is_aside or sample.is_poured_as_it_is:
            continue
        if sample.compound is None:
            yield [sample.sample_id]
        else:
            by_mark[sample.mark].append(sample.sample_id)
    yield from by_mark.values()
