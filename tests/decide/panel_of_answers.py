"""Invented answers and the ground they make, for tests of what to pour next."""

import numpy as np

from seatworthy.decide.gaps import Ground
from seatworthy.decide.jugs import Asked
from seatworthy.stats.ability.glasses import NAMING, Blanks, Glasses
from seatworthy.stats.ability.next_answers import next_answers
from seatworthy.stats.ability.present import Present

TODAY = 400
RIGHT, WRONG, NOTHING = 0, 1, 2


def glasses_of(answers):
    """Naming glasses at 3 times threshold from (person, compound, outcome), a day apart."""
    person, compound, outcome = np.array(answers, dtype=np.int64).reshape(-1, 3).T
    number = person.size
    return Glasses(
        day=TODAY - number + np.arange(number),
        person=person,
        compound=compound,
        family=np.zeros(number, dtype=np.int64),
        method=np.full(number, NAMING),
        level=np.full(number, 3.0),
        background=np.zeros(number),
        outcome=outcome,
    )


def no_blanks():
    """Nobody had a blank."""
    nothing = np.zeros(0, dtype=np.int64)
    return Blanks(nothing, nothing, np.zeros(0, dtype=np.bool_))


def ahead_of(answers, people, compounds, most=2):
    """What further answers would say after these."""
    present = Present((people, compounds, 1))
    present.take_in(glasses_of(answers), no_blanks())
    return next_answers(present, np.arange(people), np.arange(compounds), TODAY, 0, most)


def ground_of(answers, people, compounds, **changed):
    """A ground on which nobody is met, insensitive or kept from anything, unless changed."""
    shape = (people, compounds)
    glasses = np.zeros(shape, dtype=np.int64)
    for person, compound, _ in answers:
        glasses[person, compound] += 1
    parts = {
        "ahead": ahead_of(answers, people, compounds),
        "is_met": np.zeros(shape, dtype=np.bool_),
        "is_insensitive": np.zeros(shape, dtype=np.bool_),
        "glasses": glasses,
        "days_left": np.full(shape, np.inf),
        "days_since": np.where(glasses > 0, 10.0, np.inf),
        "may_taste": np.ones(shape, dtype=np.bool_),
        "is_nose": np.ones(people, dtype=np.bool_),
        "guesses": np.zeros(people),
        "taken_for": np.zeros((*shape, compounds)),
        "threshold": np.zeros(shape),
        "items": tuple((k,) for k in range(compounds)),
    }
    return Ground(**{**parts, **changed})


def asked_for(compounds, **changed):
    """Eight glasses, half told, everything pourable up to ten times, unless changed."""
    parts = {
        "glasses": 8,
        "tells": 0.5,
        "turn": 0,
        "reference_level": 3.0,
        "can_pour": np.ones(compounds, dtype=np.bool_),
        "highest": np.full(compounds, 10.0),
    }
    return Asked(**{**parts, **changed})


def some_answers(rng, people, compounds, each, right=0.7):
    """So many answers a cell, right, another name or nothing by chance."""
    chances = (right, (1 - right) / 3, 2 * (1 - right) / 3)
    return [
        (person, compound, int(rng.choice(3, p=chances)))
        for person in range(people)
        for compound in range(compounds)
        for _ in range(each)
    ]
