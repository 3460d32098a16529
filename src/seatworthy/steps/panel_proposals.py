"""Who should sit: the smallest and the best panel of those who are here, and who would mend a gap."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

import numpy as np

from seatworthy.decide.missing import with_one_more
from seatworthy.decide.noses import Floats
from seatworthy.decide.seating import (
    Candidates,
    Needs,
    Proposal,
    best_panel,
    missed_by,
    smallest_panel,
)
from seatworthy.rules.rulebook import PanelRule
from seatworthy.steps.labels import item_label
from seatworthy.steps.miss_sentences import Names, times
from seatworthy.steps.miss_views import ProposalLine
from seatworthy.steps.panel_figures import FamilyNoses
from seatworthy.steps.sentences import in_sentence, joined, number_word, sentence_start

_ROUNDED = 0.00499  # a chance counts by the hundredth that is shown
_WORTH = 0.05  # who brings a gap down by less mends nothing; ours


@dataclass(frozen=True)
class Proposing:
    """What is asked for of a panel, and of whom.

    Attributes:
        known: Everybody in the beer family.
        here: Person ids of those who may sit and are here.
        crew: Person ids of those who made the batch.
        rule: The rulebook's panel rule.
        callers: Independent callers that make a fault call.
        limit: How often a critical compound may slip past.
        names: First name by person id.
    """

    known: FamilyNoses
    here: Sequence[str]
    crew: Sequence[str]
    rule: PanelRule
    callers: int
    limit: Decimal
    names: Names

    @property
    def needs(self) -> Needs:
        """The same for the search."""
        return Needs(
            callers=self.callers,
            quorum=self.rule.quorum,
            from_others=self.rule.from_other_crews if self.crew else 0,
            people_per_item=self.rule.people_per_compound,
            limit=float(self.limit) + _ROUNDED,
        )

    def candidates(self) -> Candidates:
        """Those who are here, with the critical items alone."""
        at = self.known.where(self.here)
        items = self.known.items[: self.known.critical]
        meets = np.stack([self.known.meets(item) for item in items], axis=1)[at]
        return Candidates(
            named=self._named()[at],
            items=tuple(self.known.places(item) for item in items),
            meets=meets,
            is_other=np.array([person not in self.crew for person in self.here], dtype=np.bool_),
        )

    def _named(self) -> Floats:
        return self.known.named(self.known.judged.rulebook.asked.reference_level)

    def proposals(self, size: int) -> tuple[ProposalLine, ...]:
        """The smallest panel that meets everything, and the best of a size.

        Args:
            size: People of the best one.
        """
        if not self.here or not self.known.critical:
            return ()
        candidates = self.candidates()
        return (self._smallest(candidates), self._best(candidates, size))

    def _smallest(self, candidates: Candidates) -> ProposalLine:
        found = smallest_panel(candidates, self.needs)
        if found is None:
            words = " ".join(self.in_the_way(candidates))
            return ProposalLine(
                "smallest", (), f"No panel of those here has all that is asked. {words}"
            )
        head = f"The smallest, {number_word(len(found.people))}"
        return self._line("smallest", head, candidates, found)

    def _best(self, candidates: Candidates, size: int) -> ProposalLine:
        size = min(size, len(self.here))
        found, head = best_panel(candidates, self.needs, size), f"The best of {number_word(size)}"
        if found is None:
            found = best_panel(candidates, replace(self.needs, people_per_item=0), size)
            head = f"{head}, though without the cover asked for"
        if found is None:
            words = f"No {number_word(size)} of those here are independent enough of the batch."
            return ProposalLine("best", (), words)
        return self._line("best", head, candidates, found)

    def _line(self, kind: str, head: str, candidates: Candidates, found: Proposal) -> ProposalLine:
        people = tuple(self.here[i] for i in found.people)
        label = self._label(int(found.missed.argmax())) if len(found.missed) else ""
        proved = "" if found.is_proved else " The search was ended; a better one may exist."
        sentence = (
            f"{head}: {joined([self.names[p] for p in people])}. Weakest on {label}, which would slip "
            f"past {times(found.worst)}.{proved}"
        )
        return ProposalLine(kind, people, sentence)

    def in_the_way(self, candidates: Candidates) -> list[str]:
        """Why not even all who are here are enough, a sentence each."""
        needs, said = self.needs, []
        count, others = len(self.here), int(candidates.is_other.sum())
        if count < needs.quorum:
            who = f"{number_word(count)} {'is' if count < 2 else 'are'}"
            said.append(f"{sentence_start(who)} here, {number_word(needs.quorum)} are asked for.")
        if others < needs.from_others:
            verb = "is" if others < 2 else "are"
            said.append(
                f"{sentence_start(number_word(others))} of them {verb} independent of the batch, "
                f"{number_word(needs.from_others)} are asked for."
            )
        thin = np.flatnonzero(candidates.meets.sum(axis=0) < needs.people_per_item)
        if len(thin):
            words = joined([self._label(int(i)) for i in thin])
            asked = number_word(needs.people_per_item)
            verb = "has" if len(thin) == 1 else "have"
            noses = "sure nose" if needs.people_per_item == 1 else "sure noses"
            said.append(f"{sentence_start(words)} {verb} fewer than {asked} {noses}.")
        missed = missed_by(candidates, range(count), needs.callers)
        over = [int(i) for i in np.argsort(-missed, kind="stable") if missed[i] > needs.limit]
        if over:
            words = joined([f"{self._label(i)} {times(float(missed[i]))}" for i in over])
            said.append(f"Even all of them together would miss {words}.")
        return said

    def menders(
        self, sits: Sequence[str], weak: Sequence[int], seated: Sequence[str]
    ) -> tuple[str, ...]:
        """Who would mend each weak item best, a sentence each.

        Args:
            sits: Person ids of the panel.
            weak: Which critical items are weak, by place.
            seated: Person ids of all who may sit, here or not.
        """
        others = [person for person in self.known.noses.people if person not in sits]
        named = self._named()
        items = [self.known.places(self.known.items[i]) for i in weak]
        if not items or not others or not sits:
            return ()
        panel, more = named[self.known.where(sits)], named[self.known.where(others)]
        with_them = with_one_more(panel, more, items, self.callers)
        now = with_one_more(panel, np.zeros((1, named.shape[1])), items, self.callers)[0]
        return tuple(
            self._mender(self._label(i), now[n], with_them[:, n], others, seated)
            for n, i in enumerate(weak)
        )

    def _mender(
        self,
        label: str,
        now: float,
        with_them: Floats,
        others: Sequence[str],
        seated: Sequence[str],
    ) -> str:
        """Somebody here before somebody away, and both before somebody without a seat."""
        for who in (self.here, seated, others):
            able = [i for i, person in enumerate(others) if person in who]
            best = min(able, key=lambda i: (with_them[i], i), default=None)
            if best is not None and now - with_them[best] >= _WORTH:
                return self._with(label, others[best], float(with_them[best]), seated)
        return f"Nobody else on record would mend {label} alone: put it in the next glasses."

    def _with(self, label: str, person: str, chance: float, seated: Sequence[str]) -> str:
        name, often = self.names[person], times(chance)
        if person in self.here:
            return f"With {name}, who is here, {label} would slip past {often}."
        if person in seated:
            return f"With {name}, who isn't here today, {label} would slip past {often}."
        return (
            f"With {name} {label} would slip past {often}, but {name} has no seat for these beers."
        )

    def _label(self, number: int) -> str:
        return in_sentence(item_label(self.known.items[number], self.known.judged.labels))
