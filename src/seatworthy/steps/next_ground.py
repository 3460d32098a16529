"""What the choice of the next session rests on: everybody's standing, as arrays with their labels."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.forecast import Until, glasses_until
from seatworthy.decide.gaps import Gaps, Ground, find_gaps
from seatworthy.decide.jugs import Limits
from seatworthy.evidence import day_number
from seatworthy.rules.compound_rules import ChanceRule
from seatworthy.rules.rulebook import Item, Rulebook
from seatworthy.rules.verdict import Standing
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.next_answers import FEW, NextAnswers, next_answers
from seatworthy.stats.ability.present import Present
from seatworthy.steps.desk import Desk
from seatworthy.steps.estimating import arrays, model_settings
from seatworthy.steps.judging import Judged
from seatworthy.steps.next_mix_ups import taken_for
from seatworthy.steps.panel import PanelPerson, people_of_panel
from seatworthy.steps.seen import Seen
from seatworthy.steps.who_sits import WhoSits, who_sits

KEPT: Final = 12  # grounds, and what `steps.next_session` keeps beside them
FAR: Final = 20  # further glasses of a critical compound that a forecast looks at

Places = NDArray[np.intp]


@dataclass(frozen=True)
class Panel:
    """Everybody on the list and every compound that could be poured, in one beer family.

    Attributes:
        judged: The day judged.
        family: Beer family's key.
        people: Those on the panel, by name; labels of the person axis.
        compounds: Compound keys, labels of the compound axis.
        critical: Critical items of the family.
        ground: The arrays.
        gaps: What is lacking, of which kind, what it costs.
        limits: The rule for compounds; our own numbers where the rulebook counts glasses instead.
        until: Further glasses of critical compounds until the rule says something, up to `FAR`.
        far_at: Places of those compounds; the compound axis of `until`.
        has_noses: Whether anybody sits; if nobody does, everybody counts as a nose.
        sessions: Days on which anybody tasted.
    """

    judged: Judged
    family: str
    people: tuple[PanelPerson, ...]
    compounds: tuple[str, ...]
    critical: tuple[Item, ...]
    ground: Ground
    gaps: Gaps
    limits: Limits
    until: Until
    far_at: Places
    has_noses: bool
    sessions: int


def panel_ground(desk: Desk, judged: Judged, family: str) -> Panel:
    """Read it, or find it among the few that are kept.

    Args:
        desk: The open store.
        judged: The day judged.
        family: Beer family's key, of the record or of the shelf.
    """
    asked = (desk.version, judged.as_of, judged.rulebook_digest, family)
    if asked not in desk.grounds:
        desk.grounds[asked] = _Reading(desk, judged, family).panel()
        while len(desk.grounds) > KEPT:
            desk.grounds.popitem(last=False)
    return desk.grounds[asked]


def limits_of(book: Rulebook) -> Limits:
    """The numbers of a rule by chance; ours where the rulebook counts glasses."""
    rule = book.compound
    if not isinstance(rule, ChanceRule):
        return Limits()
    return Limits(rule.met_when_sure, rule.glasses, rule.not_met_when_below, rule.not_met_glasses)


class _Reading:
    """One panel in the making."""

    def __init__(self, desk: Desk, judged: Judged, family: str) -> None:
        self.desk, self.judged, self.family = desk, judged, family
        on_panel = [person for person in people_of_panel(desk) if person.is_panellist]
        self.people = tuple(sorted(on_panel, key=lambda person: person.name.casefold()))
        self.critical = judged.critical.get(family) or self._critical_of_shelf()
        self.compounds = self._compounds()
        self.shape = (len(self.people), len(self.compounds))
        self.settings = model_settings(judged.rulebook)
        self.families = tuple(dict.fromkeys((*judged.evidence.families, family)))

    def panel(self) -> Panel:
        present = self._present()
        asked_of = {compound for item in self.critical for compound in item}
        far_at = np.array([k for k, c in enumerate(self.compounds) if c in asked_of], dtype=np.intp)
        sits = self._sits()
        ground = self._ground(self._ahead(present, np.arange(self.shape[1]), FEW), sits)
        far, limits = self._ahead(present, far_at, FAR), limits_of(self.judged.rulebook)
        return Panel(
            judged=self.judged,
            family=self.family,
            people=self.people,
            compounds=self.compounds,
            critical=self.critical,
            ground=ground,
            gaps=find_gaps(ground),
            limits=limits,
            until=glasses_until(far, ground.glasses[:, far_at], limits),
            far_at=far_at,
            has_noses=sits.any(),
            sessions=len(np.unique(self.judged.evidence.day)),
        )

    def _critical_of_shelf(self) -> tuple[Item, ...]:
        """The list of a family in which nobody has tasted anything yet."""
        seen = Seen(self.desk, self.judged.as_of, self.judged.known_at, self.judged.rulebook)
        return seen.critical([self.family])[self.family]

    def _compounds(self) -> tuple[str, ...]:
        """Whatever was tasted, is critical, or has a working threshold in this family."""
        stated = self.desk.store.rows("thresholds_on", family=self.family, on_day=self.judged.as_of)
        asked = {compound for item in self.critical for compound in item}
        every = {*self.judged.evidence.compounds, *asked, *(row["compound"] for row in stated)}
        return tuple(sorted(every))

    def _sits(self) -> NDArray[np.bool_]:
        """Who sits today; shape (P,)."""
        if self.family not in self.judged.families:
            return np.zeros(self.shape[0], dtype=np.bool_)
        sits: WhoSits = who_sits(self.desk, self.judged, self.family)
        known = self.judged.people
        found = [p.person_id in known and sits.sits(p.person_id) for p in self.people]
        return np.array(found, dtype=np.bool_)

    def _present(self) -> Present:
        """All answers of those on the panel, on the axes of this reading."""
        evidence = self.judged.evidence
        who = _places(evidence.people, [person.person_id for person in self.people])
        what = _places(evidence.compounds, self.compounds)
        glasses, blanks = arrays(evidence)
        present = Present((*self.shape, len(self.families)), self.settings)
        present.take_in(_moved(glasses, who, what), _moved_blanks(blanks, who))
        return present

    def _ahead(self, present: Present, compounds: Places, most: int) -> NextAnswers:
        today, beers = day_number(self.judged.as_of), self.families.index(self.family)
        return next_answers(present, np.arange(self.shape[0]), compounds, today, beers, most)

    def _ground(self, ahead: NextAnswers, sits: NDArray[np.bool_]) -> Ground:
        cells = [self._cell(p.person_id, c) for p in self.people for c in self.compounds]
        met, insensitive, glasses, left = (
            np.array(column).reshape(self.shape) for column in _columns(cells)
        )
        book = self.judged.rulebook
        return Ground(
            ahead=ahead,
            is_met=met.astype(np.bool_),
            is_insensitive=insensitive.astype(np.bool_),
            glasses=glasses.astype(np.int64),
            days_left=left.astype(np.float64),
            days_since=self._days_since(),
            may_taste=self._may_taste(),
            is_nose=sits if sits.any() else np.ones_like(sits),
            guesses=np.array([self._guesses(p.person_id) for p in self.people], dtype=np.float64),
            taken_for=taken_for(self.desk, self.judged, self._who(), self.compounds),
            threshold=self._thresholds(),
            items=tuple(
                tuple(self.compounds.index(compound) for compound in item) for item in self.critical
            ),
            noses_asked=book.panel.people_per_compound,
            notice_days=book.seat.notice_days,
        )

    def _who(self) -> tuple[str, ...]:
        return tuple(person.person_id for person in self.people)

    def _cell(self, person: str, compound: str) -> tuple[bool, bool, int, float]:
        """Met, insensitive, counted glasses, days left."""
        verdict = self.judged.cells.get((person, compound, self.family))
        if verdict is None:
            return False, False, 0, np.inf
        day = self.judged.days[person, compound, self.family]
        left = (verdict.until - self.judged.as_of).days if verdict.until else np.inf
        standing = verdict.standing
        return standing is Standing.MET, standing is Standing.INSENSITIVE, day.glasses, left

    def _guesses(self, person: str) -> float:
        counts = self.judged.blanks.get(person)
        return 1 - counts.chance_within if counts and counts.blanks else 0.0

    def _may_taste(self) -> NDArray[np.bool_]:
        refused = [[c in p.refused_compounds for c in self.compounds] for p in self.people]
        return ~np.array(refused, dtype=np.bool_).reshape(self.shape)

    def _days_since(self) -> NDArray[np.float64]:
        """Days since the last glass, in any beer."""
        evidence = self.judged.evidence
        last = np.full((len(evidence.people), len(evidence.compounds)), -np.inf)
        np.maximum.at(last, (evidence.person, evidence.compound), evidence.day.astype(np.float64))
        return day_number(self.judged.as_of) - self._spread(last, -np.inf)

    def _thresholds(self) -> NDArray[np.float64]:
        """Own thresholds, log2 multiples; nought, the working threshold, where nothing is known."""
        evidence = self.judged.evidence
        if self.family not in evidence.families:
            return np.zeros(self.shape)
        column = evidence.families.index(self.family)
        return self._spread(self.judged.followed.today.threshold_mean_own[:, :, column], 0.0)

    def _spread(self, values: NDArray[np.float64], other: float) -> NDArray[np.float64]:
        """Values on the evidence's axes, brought to these axes; `other` where they have no place."""
        who = _places(self._who(), self.judged.evidence.people)
        what = _places(self.compounds, self.judged.evidence.compounds)
        padded = np.pad(values, ((0, 1), (0, 1)), constant_values=other)
        return padded[who][:, what]


def _places(labels: Sequence[str], among: Sequence[str]) -> Places:
    """Place of each label among others, -1 where it has none."""
    at = {label: n for n, label in enumerate(among)}
    return np.array([at.get(label, -1) for label in labels], dtype=np.intp)


def _columns(cells: list[tuple[bool, bool, int, float]]) -> tuple[Sequence[float], ...]:
    return tuple(zip(*cells, strict=True)) if cells else ((), (), (), ())


def _moved(glasses: Glasses, who: Places, what: Places) -> Glasses:
    """Glasses of people who are still on the panel, on other axes."""
    kept = glasses.where(who[glasses.person] >= 0) if glasses.person.size else glasses
    if not kept.person.size:
        return kept
    parts = {**vars(kept), "person": who[kept.person], "compound": what[kept.compound]}
    return Glasses(**parts)


def _moved_blanks(blanks: Blanks, who: Places) -> Blanks:
    if not blanks.person.size:
        return blanks
    at = who[blanks.person] >= 0
    return Blanks(blanks.day[at], who[blanks.person[at]], blanks.is_false_call[at])
