"""What to pour next: the gaps of a panel or a person, a session that mends them, and how long it takes."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

import numpy as np

from seatworthy.decide.choosing import Asked, Chosen, Jug, choose, people_decided
from seatworthy.decide.gaps import Gaps, Ground, Kind
from seatworthy.decide.telling import is_settled
from seatworthy.rules.compound_rules import ChanceRule
from seatworthy.sessions.wish import WantedSample, Wish
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.next_ahead import ahead_lines, glasses_ahead
from seatworthy.steps.next_gaps import dearest, gaps_by_compound, is_all_new
from seatworthy.steps.next_ground import Panel, panel_ground
from seatworthy.steps.next_session_views import NextView
from seatworthy.steps.next_session_words import (
    ALL_ALIKE,
    COUNTS_INSTEAD,
    LEAD,
    NO_BEER,
    NO_LIST,
    NO_THRESHOLD,
    NOBODY,
    NOBODY_SITS,
    RESTS_ON,
    jug_lines,
    missing_sentences,
    mixed_sentence,
    top_sentence,
)
from seatworthy.steps.next_shelf import Pourable, pourable
from seatworthy.steps.panel import PanelPerson
from seatworthy.steps.plan_choices import plan_choices
from seatworthy.steps.views import Choice

USUAL_MIX: Final = 0.6  # between what teaches and what tells, until somebody slides it; ours
NOTHING: Final = Chosen((), 0.0, 0.0, 0.0, 0.0)
FEWEST: Final = 3  # glasses below which no session is proposed


@dataclass(frozen=True)
class Question:
    """What is asked of the next session.

    Attributes:
        family: Beer family's key; None, or one that is not known, for the most tasted.
        who: A person's id; None, or nobody's, for the panel.
        glasses: Glasses for each person; None for as many as may be.
        tells: 0 for what teaches most, 1 for what tells most.
    """

    family: str | None = None
    who: str | None = None
    glasses: int | None = None
    tells: float = USUAL_MIX


def next_session(desk: Desk, question: Question) -> NextView:
    """Propose what to pour next, and say why.

    Args:
        desk: The open store.
        question: For whom, how many glasses, which mix.
    """
    judged = judge_day(desk)
    families = _families(desk, judged)
    if not families:
        return _hindered((), NO_BEER, "shelf")
    family = next((f for f in families if f.key == question.family), families[0])
    panel = panel_ground(desk, judged, family.key)
    if not panel.people:
        return _hindered(families, NOBODY, "people")
    kitchen = _kitchen(desk, panel)
    if kitchen is None:
        return _hindered(families, NO_BEER, "shelf")
    if not kitchen.is_stocked:
        return _hindered(families, NO_THRESHOLD, "shelf")
    return _Proposal(panel, kitchen, question, families, family).view()


def _families(desk: Desk, judged: Judged) -> tuple[Choice, ...]:
    """Beer families of the record, the most tasted first, then those of beers on the shelf."""
    asked = ("families", desk.version, judged.as_of)
    if asked not in desk.grounds:
        found = dict(judged.families)
        for beer in plan_choices(desk).beers:
            found.setdefault(beer.family, beer.family_label)
        desk.grounds[asked] = tuple(Choice(key, label) for key, label in found.items())
    return desk.grounds[asked]


def _kitchen(desk: Desk, panel: Panel) -> Pourable | None:
    """What can be poured for the whole panel; kept beside the ground it belongs to."""
    asked = ("pourable", desk.version, desk.today(), panel.family)
    if asked not in desk.grounds:
        level = Decimal(str(panel.judged.rulebook.asked.reference_level))
        desk.grounds[asked] = pourable(desk, panel.family, panel.people, panel.compounds, level)
    return desk.grounds[asked]


def _hindered(families: tuple[Choice, ...], sentence: str, place: str) -> NextView:
    family = families[0] if families else Choice("", "")
    return NextView(family, families, (), None, sentence, "", "", start_at=place)


class _Proposal:
    """One proposal in the making."""

    def __init__(
        self,
        panel: Panel,
        kitchen: Pourable,
        question: Question,
        families: tuple[Choice, ...],
        family: Choice,
    ) -> None:
        self.panel, self.kitchen, self.families, self.family = panel, kitchen, families, family
        ids = [person.person_id for person in panel.people]
        self.who = question.who if question.who in ids else None
        self.at = np.array([ids.index(self.who)] if self.who else range(len(ids)), dtype=np.intp)
        self.ground: Ground = panel.ground.of(self.at)
        self.gaps: Gaps = panel.gaps.of(self.at)
        most = kitchen.most_glasses
        self.glasses = min(question.glasses or most, most)
        self.asked = self._asked(question)
        self.chosen: Chosen = self._chosen()

    def view(self) -> NextView:
        panel, names = self.panel, [person.name for person in self._people]
        decided = people_decided(self.ground, self.chosen, self.asked)
        missing = missing_sentences(panel, self.gaps, self.kitchen.reasons)
        wish = self._wish()
        answer, catch = top_sentence(
            panel,
            self.chosen,
            decided,
            wish.session_on,
            missing,
            self.ground,
            names,
            is_open=self._open(),
            can_pour=bool(self.asked.can_pour.any()) and self.glasses >= FEWEST,
        )
        ahead = glasses_ahead(panel)
        return NextView(
            family=self.family,
            families=self.families,
            people=tuple(Choice(p.person_id, p.name) for p in panel.people),
            who=self.who,
            answer=answer,
            catch=catch,
            lead=LEAD,
            jugs=jug_lines(panel, self.chosen, self.ground, self.gaps, names),
            missing=missing,
            mixed=mixed_sentence(self.chosen),
            dearest=dearest(panel, self.at, ahead, only_dearest=self.who is None),
            all_alike=ALL_ALIKE if is_all_new(panel) and not self.who else "",
            gaps=() if self.who else gaps_by_compound(panel),
            ahead=ahead_lines(panel, self.at, ahead, self._per_session(), with_panel=not self.who),
            notes=self._notes(),
            most_glasses=self.kitchen.most_glasses,
            glasses=self.glasses,
            wish=wish if self.chosen.jugs else None,
        )

    @property
    def _people(self) -> list[PanelPerson]:
        return [self.panel.people[n] for n in self.at]

    def _chosen(self) -> Chosen:
        if self.glasses < FEWEST:
            return NOTHING
        chosen = choose(self.ground, self.gaps, self.asked)
        return chosen if any(jug.compound is not None for jug in chosen.jugs) else NOTHING

    def _asked(self, question: Question) -> Asked:
        panel, kitchen, book = self.panel, self.kitchen, self.panel.judged.rulebook
        place = {compound: n for n, compound in enumerate(panel.compounds)}
        return Asked(
            glasses=self.glasses,
            tells=min(max(question.tells, 0.0), 1.0),
            turn=panel.sessions,
            reference_level=book.asked.reference_level,
            can_pour=np.array([c not in kitchen.reasons for c in panel.compounds], dtype=np.bool_),
            highest=np.array([kitchen.ceilings.get(c, np.inf) for c in panel.compounds]),
            cannot=frozenset((place[c], level) for c, level in kitchen.cannot if c in place),
            blanks_missing=self._lacks_blanks(),
            limits=panel.limits,
        )

    def _lacks_blanks(self) -> bool:
        """Whether somebody has too few blanks for the rule about calls in them, or guesses."""
        if (self.gaps.kind == Kind.GUESSES).any():
            return True
        rule, blanks = self.panel.judged.rulebook.false_calls, self.panel.judged.blanks
        if rule is None:
            return False
        counts = [blanks.get(person.person_id) for person in self._people]
        return any(one is None or one.blanks < rule.blanks for one in counts)

    def _open(self) -> bool:
        """Whether any critical compound is open for anybody, so that glasses could decide it."""
        ground = self.ground
        closed = ground.is_met | ground.is_insensitive | ~ground.may_taste
        settled = is_settled(ground.chance, ground.glasses, self.panel.limits)
        return bool((ground.is_asked & ~closed & ~settled).any())

    def _per_session(self) -> int:
        """Glasses of the proposal that stand at the reference level, by which verdicts are told."""
        level = self.asked.reference_level
        return sum(jug.glasses for jug in self.chosen.jugs if jug.level == level)

    def _notes(self) -> tuple[str, ...]:
        by_chance = isinstance(self.panel.judged.rulebook.compound, ChanceRule)
        said = [
            "" if by_chance else COUNTS_INSTEAD,
            "" if self.panel.critical else NO_LIST,
            "" if self.panel.has_noses else NOBODY_SITS,
            RESTS_ON,
        ]
        return tuple(filter(None, said))

    def _wish(self) -> Wish:
        """The wish that the plan starts from."""
        base = self.kitchen.wish
        if self.who:
            own = tuple(person for person in base.sittings[0].people if person == self.who)
            base = replace(base, sittings=(replace(base.sittings[0], people=own),))
        teaches = self.chosen.jugs and not self._per_session()
        return replace(
            base,
            samples=tuple(_samples(self.chosen.jugs, self.panel.compounds)),
            purpose="training" if teaches else base.purpose,
        )


def _samples(jugs: Sequence[Jug], compounds: Sequence[str]) -> list[WantedSample]:
    """The jugs as a plan wants them."""
    return [
        WantedSample(
            None if jug.compound is None else compounds[jug.compound],
            None if jug.level is None else Decimal(f"{jug.level:g}"),
            glasses=jug.glasses,
        )
        for jug in jugs
    ]
