"""What came of each sample of a closed session, and whether its bottle is to be suspected."""

from collections import Counter
from collections.abc import Iterator

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
    suspects = _suspects(facts, judged)
    for sitting in facts.sittings:
        for sample in facts.samples_at(sitting.sitting_id):
            yield _result(facts, sample, sitting.label, is_suspect=sample.sample_id in suspects)


def counted_glasses(facts: SessionFacts, sample: Sample) -> list[Glass]:
    """Answered glasses of one sample that count; own words without a meaning do not yet."""
    return [
        glass
        for glass in facts.glasses
        if glass.sample_id == sample.sample_id
        and facts.outcome(glass) not in (None, "open")
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
        other_names=outcomes["wrong"],
        unnamed=outcomes["noticed"],
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


def _suspects(facts: SessionFacts, judged: Judged) -> set[str]:
    """Samples that nearly everybody missed though they usually find such a one.

    A sample is looked at by itself, and together with those under its letter at other sittings,
    which may have come from one keg; their log factors add up.
    """
    spiked = [s for s in facts.samples.values() if s.compound is not None and not s.is_aside]
    number = {sample.sample_id: place for place, sample in enumerate(spiked)}
    asked = np.array([number.get(str(s), -1) for s in judged.evidence.sample], dtype=np.int64)
    if not (asked >= 0).any():
        return set()
    check = look_at_samples(judged.evidence, asked, judged.rulebook)
    factors = {
        spiked[place].sample_id: float(factor)
        for place, factor in zip(check.sample, check.log_not_dosed, strict=True)
    }
    tasters = {sample.sample_id: _tasters(facts, sample) for sample in spiked}
    found = set()
    for sample in spiked:
        kin = [s.sample_id for s in spiked if s.mark == sample.mark and s.sample_id in factors]
        own, together = factors.get(sample.sample_id, 0.0), sum(factors[s] for s in kin)
        by_all = _is_suspect(sum(tasters[s] for s in kin), together)
        if own > 0 and (_is_suspect(tasters[sample.sample_id], own) or by_all):
            found.add(sample.sample_id)
    return found


def _tasters(facts: SessionFacts, sample: Sample) -> int:
    return len({glass.person_id for glass in counted_glasses(facts, sample)})


def _is_suspect(tasters: int, log_factor: float) -> bool:
    for least, limit in SUSPECT_ABOVE:
        if tasters >= least:
            return log_factor > limit
    return False
