"""A decision judged again: by the record as it stood when it was signed, and by today's."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from seatworthy.errors import PanelError
from seatworthy.phrases import STANDING_WORDS
from seatworthy.rules.compound import day_text
from seatworthy.stats.ability.settings import MODEL_VERSION
from seatworthy.steps.decision_views import Recomputed
from seatworthy.steps.desk import Desk, InForce
from seatworthy.steps.facts_text import facts_digest
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.seats import SignedDecision, signed_decisions
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.views import RuleLine

_UNSEEN = "no_glasses"
ALTERED = (
    "The facts on record at that moment no longer have the digest that was signed: something was "
    "altered or taken away. Run: seatworthy verify."
)


def recomputed(desk: Desk, decision_id: str) -> Recomputed:
    """Judge the day of a decision again, with the rulebook it names; the decision stays.

    Args:
        desk: The open store.
        decision_id: Which decision.

    Raises:
        PanelError: if there is no such decision.
    """
    row = _decision(desk, decision_id)
    book = _rulebook_named(desk, row)
    then = judge_day(desk, row.as_of_on, row.recorded_at, supposed_book=book)
    now = judge_day(desk, row.as_of_on, supposed_book=book)
    again = _Again(desk, row, then, now)
    return Recomputed(
        matches=again.matches,
        corrected_since=again.corrected_since,
        verdict_then=_line(then, row.stated_id, row.family, "As the record stood"),
        verdict_now=_line(now, row.person_id, row.family, "By today's record"),
        changed=tuple(again.changed()),
        sentence=again.sentence(),
    )


@dataclass(frozen=True)
class _Again:
    """One decision beside its day judged twice."""

    desk: Desk
    row: SignedDecision
    then: Judged
    now: Judged

    @property
    def matches(self) -> bool:
        row = self.row
        known_at = row.recorded_at
        found = facts_digest(self.desk, row.stated_id, row.family, row.as_of_on, known_at)
        return found == row.facts_digest

    @property
    def corrected_since(self) -> bool:
        """Whether today's record tells of that day otherwise; a merged spelling does too."""
        row = self.row
        return facts_digest(self.desk, row.person_id, row.family, row.as_of_on) != row.facts_digest

    def sentence(self) -> str:
        if not self.matches:
            return ALTERED
        parts = ["The facts are those that were signed.", self._about_model()]
        if not self.corrected_since:
            parts.append("Nothing about that day was recorded since.")
        elif self._says(self.then, self.row.stated_id) == self._says(self.now, self.row.person_id):
            parts.append("What was recorded since about that day leaves the verdict as it was.")
        else:
            was = STANDING_WORDS[self._says(self.then, self.row.stated_id)]
            is_now = STANDING_WORDS[self._says(self.now, self.row.person_id)]
            parts.append(
                f"By what was recorded since about {day_text(self.row.as_of_on)} the seat rule "
                f"would be “{is_now}” in place of “{was}”. The decision stays as it was signed."
            )
        return " ".join(part for part in parts if part)

    def changed(self) -> Iterator[str]:
        """Compounds that stand otherwise than was signed, by the record of then or of now."""
        then = _standings(self.then, self.row.stated_id, self.row.family)
        now = _standings(self.now, self.row.person_id, self.row.family)
        for compound, signed in self._signed().items():
            label = self.now.labels.get(compound, compound)
            if then.get(compound, _UNSEEN) != signed:
                yield _changed(label, signed, then.get(compound, _UNSEEN), "by the model of today")
            elif now.get(compound, _UNSEEN) != signed:
                yield _changed(label, signed, now.get(compound, _UNSEEN), "by today's record")

    def _about_model(self) -> str:
        if self.row.model_version == MODEL_VERSION:
            return ""
        return (
            f"It was signed on the model “{self.row.model_version}”; today's is “{MODEL_VERSION}”, "
            "which may judge otherwise."
        )

    def _says(self, judged: Judged, person_id: str) -> str:
        seat = judged.seats.get((person_id, self.row.family))
        return str(seat.verdict.standing) if seat else _UNSEEN

    def _signed(self) -> Mapping[str, str]:
        own = self.row.decision_id
        rows = self.desk.store.rows("decision_compounds")
        return {row["compound"]: row["standing"] for row in rows if row["decision_id"] == own}


def _decision(desk: Desk, decision_id: str) -> SignedDecision:
    for row in signed_decisions(desk):
        if row.decision_id == decision_id:
            return row
    message = f"There is no decision {decision_id} on record."
    raise PanelError(message)


def _rulebook_named(desk: Desk, row: SignedDecision) -> InForce:
    for book in desk.rulebooks():
        if book.digest == row.rulebook_digest:
            return book
    message = (
        f"The rulebook that the decision {row.decision_id} names is not on record. "
        "Run: seatworthy verify."
    )
    raise PanelError(message)


def _standings(judged: Judged, person_id: str, family: str) -> Mapping[str, str]:
    return {
        compound: str(verdict.standing)
        for (person, compound, beers), verdict in judged.cells.items()
        if (person, beers) == (person_id, family)
    }


def _line(judged: Judged, person_id: str, family: str, title: str) -> RuleLine:
    seat = judged.seats.get((person_id, family))
    if seat is None:
        return RuleLine(title, "too_little", "The record holds nothing about this seat.", "")
    verdict = seat.verdict
    return RuleLine(title, str(verdict.standing), verdict.sentence, verdict.change)


def _changed(label: str, signed: str, found: str, how: str) -> str:
    return (
        f"{label}: {in_sentence(STANDING_WORDS[signed])} when it was signed, "
        f"{STANDING_WORDS[found]} {how}."
    )
