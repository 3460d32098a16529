"""One thing to smell next, from what got past somebody or was taken for something else."""

from collections import Counter
from collections.abc import Sequence
from typing import Any

from seatworthy.steps.labels import describing_word
from seatworthy.steps.sentences import in_sentence, sentence_start
from seatworthy.steps.session_facts import SessionFacts
from seatworthy.steps.session_parts import Glass


def smell_next(facts: SessionFacts, own: Sequence[Glass], past: Sequence[dict[str, Any]]) -> str:
    """One or two sentences; "" if nothing stands out.

    The pair that was mixed up most (this session weighs more than the months before), else the
    compound that was missed most, else a call in a blank.

    Args:
        facts: The closed session.
        own: The person's answered glasses in it.
        past: Their spiked naming glasses of the twelve months before.
    """
    told = _Told(facts)
    wrong = [(g, facts.samples[g.sample_id].compound) for g in own if facts.outcome(g) != "right"]
    pairs = Counter(
        (compound, g.named_compound) for g, compound in wrong if compound and g.named_compound
    )
    if pairs:
        older = Counter((r["compound"], r["said"]) for r in past if r["outcome"] == "wrong")
        was, said = max(pairs, key=lambda pair: (pairs[pair], older[pair], pair))
        return told.pair(was, said)
    missed = Counter(compound for _, compound in wrong if compound)
    if missed:
        older = Counter(r["compound"] for r in past if r["outcome"] != "right")
        return told.single(max(missed, key=lambda c: (missed[c], older[c], c)))
    if any(compound is None for _, compound in wrong):
        return (
            "Smell the plain beer on its own for a minute before the next session, so that you "
            "know what is there already. A plain glass is an answer too."
        )
    return ""


class _Told:
    """Compounds as one tells a colleague of them."""

    def __init__(self, facts: SessionFacts) -> None:
        self.facts = facts
        self.about = {row["compound"]: row for row in facts.desk.store.rows("compound_care")}

    def pair(self, was: str, said: str) -> str:
        """Two that were mixed up."""
        one, other = self._name(was), self._name(said)
        words = [self._word(c) for c in (was, said)]
        told = (
            f" {sentence_start(one)} is the {words[0]} one, {other} the {words[1]} one."
            if all(words) and words[0] != words[1]
            else ""
        )
        return f"Smell {one} and {other} side by side, ten breaths apart.{told} {ASK}"

    def single(self, compound: str) -> str:
        """One that was not noticed or had no name."""
        word = self._word(compound)
        told = f" Look for {word}." if word else ""
        return f"Smell {self._name(compound)} beside the plain beer, ten breaths apart.{told} {ASK}"

    def _name(self, compound: str) -> str:
        return in_sentence(self.facts.compound_label(compound))

    def _word(self, compound: str) -> str:
        row = self.about.get(compound, {"label": "", "descriptors": ""})
        return describing_word(row["label"], row["descriptors"])


ASK = "Ask the panel leader for a glass; it takes five minutes."
