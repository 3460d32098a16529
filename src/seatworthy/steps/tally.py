"""What came of each sample of a closed session, and whether its bottle is to be suspected."""

from collections import Counter
from collections.abc import Iterator, Sequence

import numpy as np

from seatworthy.steps.estimating import look_at_samples
from seatworthy.steps.judging import Judged
from seatworthy.steps.reveal_views import SampleResult
from seatworthy.steps.sentences import number_word, sentence_start
from seatworthy.steps.session_facts import SessionFacts
from seatworthy.steps.session_parts import Glass, Sample

# Log Bayes factor "nothing was added" against "as stated" above which a bottle is suspect, by the
# least number of tasters; see `stats.ability.sample_check.SampleCheck` for what it was tried on.
SUSPECT_ABOVE = ((4, 2.0), (3, 3.0))


def sample_results(facts: SessionFacts, judged: Judged) -> Iterator[SampleResult]:
    """Every sample, sitting by sitting, by letter.

    Args:
        facts: The closed session.
        judged: The standings that its answers are part of.
    """
    suspects = _suspect_marks(facts, judged)
    for sitting in facts.sittings:
        for sample in facts.samples_at(sitting.sitting_id):
            yield _result(facts, sample, sitting.label, is_suspect=sample.mark in suspects)


def counted_glasses(facts: SessionFacts, sample: Sample) -> list[Glass]:
    """Answered glasses of one sample that count."""
    return [
        glass
        for glass in facts.glasses
        if glass.sample_id == sample.sample_id
        and facts.outcome(glass) is not None
        and not glass.is_aside
        and not facts.prepares_own(glass.person_id)
    ]


def _result(facts: SessionFacts, sample: Sample, sitting: str, *, is_suspect: bool) -> SampleResult:
    outcomes = Counter(facts.outcome(glass) for glass in counted_glasses(facts, sample))
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
        other_names=answers - outcomes["right"] - outcomes["missed"],
        is_aside=sample.is_aside,
        is_suspect=is_suspect,
        sentence=_suspicion(answers, outcomes["right"]) if is_suspect else "",
    )


def _suspicion(answers: int, right: int) -> str:
    missed = answers - right
    who = "Everybody" if not right else f"{sentence_start(number_word(missed))} of {answers}"
    return (
        f"{who} missed it, and most usually find it. Look at the bottle before you look at the "
        "panel: what was really added, when, and from which stock? If it was bad, set it aside."
    )


def _suspect_marks(facts: SessionFacts, judged: Judged) -> set[str]:
    """Letters of vessels that nearly everybody missed though they usually find such a one."""
    marks = sorted({s.mark for s in facts.samples.values() if s.compound is not None})
    number = {
        sample.sample_id: marks.index(sample.mark)
        for sample in facts.samples.values()
        if sample.compound is not None and not sample.is_aside
    }
    asked = np.array([number.get(str(s), -1) for s in judged.evidence.sample], dtype=np.int64)
    if not (asked >= 0).any():
        return set()
    check = look_at_samples(judged.evidence, asked, judged.rulebook)
    return {
        marks[sample]
        for sample, factor in zip(check.sample, check.log_not_dosed, strict=True)
        if _is_suspect(_tasters(facts, marks[sample]), float(factor))
    }


def _tasters(facts: SessionFacts, mark: str) -> Sequence[str]:
    samples = [sample for sample in facts.samples.values() if sample.mark == mark]
    return sorted({g.person_id for s in samples for g in counted_glasses(facts, s)})


def _is_suspect(tasters: Sequence[str], log_factor: float) -> bool:
    for least, limit in SUSPECT_ABOVE:
        if len(tasters) >= least:
            return log_factor > limit
    return False
