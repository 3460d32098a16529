"""What is asked of a session and what is poured in it: the words that the choice is made in."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np
from numpy.typing import NDArray

TWICE: Final = 2  # most glasses of one jug for one person

Part = tuple[int, float]  # compound and level
Basket = dict[Part, int]  # glasses of each


@dataclass(frozen=True)
class Limits:
    """By which chance and how many counted glasses the rule says met, or not met.

    Attributes:
        met_when_sure: Chance from which on a compound is met.
        met_glasses: Counted glasses without which nothing is met.
        not_met_below: Chance up to which it is not met.
        not_met_glasses: Counted glasses without which nothing is not met.
    """

    met_when_sure: float = 0.85
    met_glasses: int = 4
    not_met_below: float = 0.05
    not_met_glasses: int = 6


class Why(StrEnum):
    """Why a jug is in the session."""

    TELLS = "tells"
    PAIR = "pair"
    LADDER = "ladder"
    LONG_AGO = "long_ago"
    HIDDEN_PAIR = "hidden_pair"  # in turns of what is uniform; a jug says it by `is_hidden_pair`
    BLANK = "blank"


@dataclass(frozen=True)
class Jug:
    """One preparation of the session.

    Attributes:
        compound: Place on the compound axis; None for a blank.
        level: Multiple of the working threshold; None for a blank.
        glasses: How many of it everybody gets, 1 or 2.
        why: What it is there for first.
        other: The compound it stands beside in a pair.
        bits: What it tells of the verdicts, summed over the people, not weighed; 0 for a blank.
        decides: Expected number of people whose verdict on it these glasses would settle.
        is_hidden_pair: Whether its second glass is there to see whether people agree with themselves.
    """

    compound: int | None
    level: float | None
    glasses: int
    why: Why
    other: int | None = None
    bits: float = 0.0
    decides: float = 0.0
    is_hidden_pair: bool = False


@dataclass(frozen=True)
class Asked:
    """What the leader asks of a session.

    Attributes:
        glasses: How many everybody gets, 1 or more.
        tells: 0 for what teaches most, 1 for what tells most.
        turn: Number of the session, so that what is uniform takes turns.
        reference_level: Multiple at which compounds are told.
        can_pour: Whether a jug of a compound can be made at the reference level; shape (K,).
        highest: Strongest level that may be served of it; shape (K,).
        cannot: Compounds and levels of a ladder that can't be made all the same.
        blanks_missing: Whether somebody still needs blanks for the rule about calls in them.
        limits: The rule for compounds.
    """

    glasses: int
    tells: float
    turn: int
    reference_level: float
    can_pour: NDArray[np.bool_]
    highest: NDArray[np.float64]
    cannot: frozenset[Part] = frozenset()
    blanks_missing: bool = False
    limits: Limits = Limits()
