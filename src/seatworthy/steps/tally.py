"""What came of each sample of a closed session, and whether its bottle is to be suspected."""

from collections import Counter, defaultdict
from collections.abc import Iterator

from seatworthy.steps.judging import Judged
from seatworthy.steps.reveal_views import SampleResult
from seatworthy.steps.session_facts import SessionFacts
from seatworthy.steps.session_parts import Glass, Sample
from seatworthy.steps.suspicion import Suspicion, suspicion_words, suspicions


def sample_results(facts: SessionFacts, judged: Judged) -> Iterator[SampleResult]:
    """Every sample, sitting by sitting, by letter.

    Args:
        facts: The closed session.
        judged: The standings that its answers are part of.
    """
    found = suspicions(judged.evidence, _kin(facts), judged.rulebook)
    for sitting in facts.sittings:
        for sample in facts.samples_at(sitting.sitting_id):
            yield _result(facts, sample, sitting.label, found.get(sample.sample_id))


def counted_glasses(facts: SessionFacts, sample: Sample) -> list[Glass]:
    """Answered glasses of one sample that count; own words without a meaning do not yet."""
    return [
        glass
        for glass in facts.glasses
        if glass.sample_id == sample.sample_id
        and facts.outcome(glass) not in (None, "open")
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
        if sample.is_aside:
            continue
        if sample.compound is None:
            yield [sample.sample_id]
        else:
            by_mark[sample.mark].append(sample.sample_id)
    yield from by_mark.values()
