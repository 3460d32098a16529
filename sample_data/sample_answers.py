"""How the invented people answer: a threshold a compound, signal detection, names mixed up.

A flavour at x (log2 of the multiple that is in the glass) before somebody with threshold theta has

    d'(x) = d0 * 2^(x - theta)

Naming: somebody who calls something in a share f of blanks keeps the criterion z = -Phi^-1(f), and
perceives the flavour with D = (1 - lapse) (Phi(d'(x - shift) - z) - f) / (1 - f). What is perceived
is named right with chance c; what is not perceived may still be called, with chance f. Forced
choices follow Thurstone: the odd glass is found by the difference from the base beer.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from math import erf, log2, pi, sqrt
from statistics import NormalDist
from typing import Any

import numpy as np
from numpy.typing import NDArray
from sample_draws import Draws, pick
from sample_plan import Glass, background_level

NOTHING, SOMETHING = "nothing", "something"
_REFERENCE = log2(3)


@dataclass(frozen=True)
class Taster:
    """One panellist as he or she truly is.

    Attributes:
        truth: The whole of brewery.toml.
        number: Place in its list of people.
    """

    truth: Mapping[str, Any]
    number: int

    @property
    def facts(self) -> Mapping[str, Any]:
        """The person's own table in brewery.toml."""
        return self.truth["people"][self.number]

    @property
    def false_calls(self) -> float:
        """Chance to call something in a glass where nothing is perceived."""
        return float(self.facts["false_calls"])

    def threshold(self, compound: str, day: date) -> float:
        """Log2 multiple of the working threshold, on that day."""
        own = self.facts.get("thresholds", {}).get(compound)
        if own is None:
            place = list(self.truth["compounds"]).index(compound)
            own = self.truth["compounds"][compound]["mean"] + self.facts["effect"]
            spread = self.truth["model"]["cell_sd"]
            own += spread * Draws(self.truth["seed"], 4, self.number, place).bell()
        if drift := self.facts.get("drifts", {}).get(compound):
            done = (day - drift["from"]) / (drift["to"] - drift["from"])
            own += drift["by"] * min(max(done, 0.0), 1.0)
        return float(own)

    def named_right(self, compound: str) -> float:
        """Chance to name the compound once it is perceived."""
        return float(self.facts.get("naming", {}).get(compound, self.facts["named_right"]))

    def perceives(self, compound: str, level: float, day: date) -> float:
        """Chance that a flavour at that total multiple is perceived in a glass to be named."""
        if level <= 0:
            return 0.0
        model, f = self.truth["model"], self.false_calls
        above = log2(level) - model["naming_shift"] - self.threshold(compound, day)
        found = _normal(model["d_at_threshold"] * 2**above + NormalDist().inv_cdf(f))
        return float((1 - model["lapse"]) * (found - f) / (1 - f))

    def rate_at_reference(self, compound: str, day: date) -> float:
        """Chance to name the compound right at 3 times threshold, lucky guesses included."""
        perceived = self.perceives(compound, 2**_REFERENCE, day)
        guess = self.truth["guessing"]
        is_name = 1 - guess["something"] - guess["own_words"]
        lucky = self.false_calls * is_name / len(self.truth["compounds"])
        return perceived * self.named_right(compound) + (1 - perceived) * lucky

    def answer(self, glass: Glass) -> str:
        """What the person writes down for a glass or a forced-choice set."""
        draws = Draws(self.truth["seed"], 5, glass.session.number, self.number, glass.position)
        chances = [draws.chance() for _ in range(5)]
        if glass.sample.method == "naming":
            return self._name(glass, chances)
        return "right" if chances[0] < self.finds_odd(glass) else "wrong"

    def finds_odd(self, glass: Glass) -> float:
        """Chance to pick the right glass of a forced-choice set."""
        model, sample = self.truth["model"], glass.sample
        compound, family = str(sample.compound), glass.session.family
        theta = self.threshold(compound, glass.session.held_on)
        there = background_level(self.truth, compound, family)
        more = model["d_at_threshold"] * 2**-theta * max(sample.actual - there, 0)
        right = _three_choice(more) if sample.method == "3afc" else _triangle(more)
        return float(model["lapse"] / 3 + (1 - model["lapse"]) * right)

    def _name(self, glass: Glass, chances: Sequence[float]) -> str:
        day = glass.session.held_on
        for turn, (compound, level) in enumerate(self._flavours(glass)):
            if chances[turn] < self.perceives(compound, level, day):
                return self._words(compound, chances[3], chances[4])
        if chances[2] < self.false_calls:
            return self._guess(glass, chances[3], chances[4])
        return NOTHING

    def _flavours(self, glass: Glass) -> list[tuple[str, float]]:
        """What is in the glass with its multiple: what was dosed first, then the base beer's own."""
        family, dosed = glass.session.family, glass.sample.compound
        found = [(dosed, glass.sample.actual)] if dosed else []
        kin = self.truth["families"][family]
        for row in kin["backgrounds"]:
            compound = row["compound"]
            there = background_level(self.truth, compound, family)
            is_noticed = there >= self.truth["model"]["noticed_from"]
            if is_noticed and compound not in (dosed, *kin["expected"]):
                found.append((compound, there))
        return found

    def _words(self, compound: str, chance: float, which: float) -> str:
        """What is said for a flavour that is perceived."""
        facts, right = self.truth["compounds"][compound], self.named_right(compound)
        if chance < right:
            return _one_of(facts["says"], which)
        if mixed := self.facts.get("mixes_up", {}).get(compound):
            return str(self.truth["compounds"][mixed]["says"][0])
        shares, left = self.truth["misnaming"], (chance - right) / (1 - right)
        if left < shares["something"]:
            return SOMETHING
        if left < shares["something"] + shares["own_words"]:
            return _one_of(facts["own_words"], which)
        return str(self.truth["compounds"][_one_of(facts["taken_for"], which)]["says"][0])

    def _guess(self, glass: Glass, chance: float, which: float) -> str:
        """What is said where nothing is perceived but something is called."""
        guess = self.truth["guessing"]
        if chance < guess["something"]:
            return SOMETHING
        if chance < guess["something"] + guess["own_words"]:
            return _one_of(guess["nonsense"], which)
        expected = self.truth["families"][glass.session.family]["expected"]
        names = [
            facts["says"][0]
            for key, facts in self.truth["compounds"].items()
            if key not in expected
        ]
        return str(names[int(which * len(names))])


def _one_of(words: Sequence[str], chance: float) -> str:
    """One of several words; the first is twice as common as the rest together."""
    rest = max(len(words) - 1, 1)
    return pick(chance, [(word, 1 / rest if place else 2.0) for place, word in enumerate(words)])


def _normal(x: float) -> float:
    return 0.5 * (1 + erf(x / sqrt(2)))


_STEP = 0.005
_HALF = (np.arange(1600) + 0.5) * _STEP  # middles of narrow strips from 0 to 8
_Z = np.concatenate([-_HALF[::-1], _HALF])


@cache
def _three_choice(d_prime: float) -> float:
    """Chance that the strongest of three is the right one: mean of Phi(z + d')^2."""
    return _mean(_Z, [_normal(z + d_prime) ** 2 for z in _Z])


@cache
def _triangle(d_prime: float) -> float:
    """Chance to find the odd one of three (Ennis 1993, J. Sens. Stud. 8:353-370)."""
    ahead = d_prime * sqrt(2 / 3)
    found = [_normal(-z * sqrt(3) + ahead) + _normal(-z * sqrt(3) - ahead) for z in _HALF]
    return 2 * _mean(_HALF, found)


def _mean(z: NDArray[np.float64], values: Sequence[float]) -> float:
    """Integral of values times the normal density over strips whose middles are z."""
    density = np.exp(-(z**2) / 2) / sqrt(2 * pi)
    return float(np.sum(density * np.array(values)) * _STEP)
