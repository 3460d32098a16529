"""A brewery that pours, seats and releases as the pages propose. P people, K compounds."""

from typing import Final

import numpy as np
from two_breweries_kept import Answers
from two_breweries_rotation import GLASSES, LEVEL, PANEL, QUORUM, Release, Tasting, in_turn
from two_breweries_signed import Judged, Office, day_of
from two_breweries_truth import COMPOUNDS, CRITICAL, PEOPLE, TAINT, Flags, Pour, Whole

from seatworthy.decide.choosing import Asked, Chosen, Limits, choose
from seatworthy.decide.gaps import Ground, find_gaps
from seatworthy.decide.noses import Noses, named_mean
from seatworthy.decide.priors import CRITICAL_SHARE, OTHER_SHARE, History, shares_from_history
from seatworthy.decide.said import SOMETHING
from seatworthy.decide.said import likelihoods as likelihoods_of
from seatworthy.decide.seating import Candidates, Needs, best_panel
from seatworthy.decide.weighing import Prior, chances_after
from seatworthy.rules.person_rules import FalseCallRule
from seatworthy.rules.verdict import Standing
from seatworthy.stats.ability.glasses import NOTHING
from seatworthy.stats.ability.next_answers import next_answers
from seatworthy.stats.false_calls import chance_false_calls_within

HOLD_FROM: Final = 0.50  # chance of a fault
POUR_AGAIN_FROM: Final = 0.10
HIGHEST: Final = 10.0
USUAL: Final = np.where(np.arange(COMPOUNDS) < CRITICAL, CRITICAL_SHARE, OTHER_SHARE)


class Guided:
    """The brewery.

    Args:
        tells: How much a session is to tell, 0 to 1; people here learn nothing from a lesson.
        has_start_up: Whether the rulebook's start of a panel holds.
    """

    def __init__(self, *, tells: float = 1.0, has_start_up: bool = True) -> None:
        self._answers, self._tells = Answers(), tells
        self._office = Office(self._answers.counts, has_start_up=has_start_up)
        self._last: np.ndarray = np.full((PEOPLE, COMPOUNDS), -np.inf)
        self._judged: Judged | None = None
        self._noses: Noses | None = None
        self._panels: dict[tuple[int, ...], Whole] = {}
        self._past = History(0, np.zeros(COMPOUNDS), 0)
        self._first = 0

    def pour(self, week: int, day: int, glasses: int = GLASSES) -> Pour:
        """The session that is proposed on the evidence of all weeks before."""
        ground = self._ground(max(week - 1, 0), day)
        blanks = self._answers.counts.in_year(self._answers.counts.blanks, week)
        rule, met = self._office.book.false_calls, self._office.book.compound
        asked = Asked(
            glasses=glasses,
            tells=self._tells,
            turn=week,
            reference_level=LEVEL,
            can_pour=np.ones(COMPOUNDS, np.bool_),
            highest=np.full(COMPOUNDS, HIGHEST),
            blanks_missing=bool(rule is not None and (blanks < rule.blanks).any()),
            limits=Limits(
                met.met_when_sure, met.glasses, met.not_met_when_below, met.not_met_glasses
            ),
        )
        return _poured(choose(ground, find_gaps(ground), asked))

    def take_in(self, week: int, day: int, pour: Pour, said: Whole, is_here: Flags) -> None:
        """Keep a session."""
        self._answers.take_in(week, day, pour, said, is_here)
        spiked = np.unique(pour.compound[pour.compound != NOTHING])
        self._last[np.ix_(is_here, spiked)] = day

    def seat(self, week: int, day: int) -> Flags:
        """Who holds a seat once what is proposed is signed; shape (P,)."""
        self._panels.clear()
        reading = self._answers.read(day)
        self._noses = self._answers.noses(reading)
        self._judged = self._office.judge(week, day, reading)
        return self._office.sign(week, day, self._judged)

    def panel(self, seated: Flags, is_here: Flags) -> Whole:
        """The five who miss least of those who sit and are here, others only to make up four."""
        turn = in_turn(self._first)
        self._first = (self._first + 1) % PEOPLE
        sits = np.flatnonzero(seated & is_here)
        if sits.size > PANEL:
            sits = self._proposed(sits)
        others = [p for p in turn if not seated[p] and is_here[p]]
        return np.array([*sits, *others[: max(QUORUM - len(sits), 0)]], dtype=np.int64)

    def release(self, panel: Whole, taste: Tasting) -> Release:
        """Held by the chance that something is wrong; poured again where that is not clear."""
        words = taste(0)[panel]
        first = last = self._fault_chance(panel, words)
        pours = 1
        if POUR_AGAIN_FROM <= first < HOLD_FROM:
            pours, both = 2, np.concatenate([panel, panel])
            last = self._fault_chance(both, np.concatenate([words, taste(1)[panel]]))
        return Release(last >= HOLD_FROM, pours, first, last)

    def hear(self, tanks: Whole) -> None:
        """Count what earlier tanks had."""
        found = np.bincount(tanks[tanks != NOTHING], minlength=TAINT + 1)
        past, taints = self._past, int(found[TAINT])
        self._past = History(
            past.beers + tanks.size, past.found + found[:COMPOUNDS], past.unlisted + taints
        )

    def _prior(self) -> Prior:
        return Prior(*shares_from_history(self._past, USUAL))

    def _fault_chance(self, panel: Whole, words: Whole) -> float:
        words = np.where(words >= COMPOUNDS, SOMETHING, words)
        likely = likelihoods_of(self._noses.of(panel), words)
        return float(1 - chances_after(likely, self._prior())[0])

    def _proposed(self, sits: Whole) -> Whole:
        """The panel proposed from more people than it takes, looked for once a week."""
        who = tuple(sits)
        if who not in self._panels:
            self._panels[who] = self._best(sits)
        return self._panels[who]

    def _best(self, sits: Whole) -> Whole:
        named = named_mean(self._noses, [LEVEL])[sits, :, 0] * self._noses.is_tested[sits]
        met = self._judged.stands(Standing.MET)[sits, :CRITICAL]
        items = tuple((k,) for k in range(CRITICAL))
        candidates = Candidates(named, items, met, np.ones(sits.size, np.bool_))
        rule = self._office.book.panel
        needs = Needs(callers=rule.callers_for_fault, quorum=rule.quorum)
        found = best_panel(candidates, needs, PANEL)
        return sits[list(found.people)]

    def _ground(self, week: int, day: int) -> Ground:
        counts, rule = self._answers.counts, self._office.book.false_calls
        ceiling = rule.ceiling if isinstance(rule, FalseCallRule) else 1.0
        calls, blanks = counts.in_year(counts.calls, week), counts.in_year(counts.blanks, week)
        shape, judged = (PEOPLE, COMPOUNDS), self._judged
        nowhere = np.zeros(shape, np.bool_)
        noses = self._noses or self._answers.noses(self._answers.read(day))
        return Ground(
            ahead=next_answers(
                self._answers.present, np.arange(PEOPLE), np.arange(COMPOUNDS), day, 0
            ),
            is_met=judged.stands(Standing.MET) if judged else nowhere,
            is_insensitive=judged.stands(Standing.INSENSITIVE) if judged else nowhere,
            glasses=counts.in_year(counts.glasses, week),
            days_left=judged.days_left(day_of(day)) if judged else np.full(shape, np.inf),
            days_since=day - self._last,
            may_taste=np.ones(shape, np.bool_),
            is_nose=np.ones(PEOPLE, np.bool_),
            guesses=1 - chance_false_calls_within(calls, blanks, ceiling),
            taken_for=np.zeros((*shape, COMPOUNDS)),
            threshold=noses.abilities.threshold_draws[0],
            items=tuple((k,) for k in range(CRITICAL)),
            noses_asked=self._office.book.panel.people_per_compound,
            notice_days=self._office.book.seat.notice_days,
        )


def _poured(chosen: Chosen) -> Pour:
    """The jugs as glasses."""
    compound, level = [], []
    for jug in chosen.jugs:
        compound += [NOTHING if jug.compound is None else jug.compound] * jug.glasses
        level += [jug.level or 0.0] * jug.glasses
    return Pour(np.array(compound, dtype=np.int64), np.array(level))
