"""Glasses and blanks for the tests of the ability model."""

from dataclasses import dataclass

import numpy as np
import pytest

from seatworthy.stats.ability.glasses import Blanks, Glasses


@dataclass(frozen=True)
class Panel:
    """An invented panel's answers."""

    glasses: Glasses
    blanks: Blanks
    shape: tuple[int, int, int]
    today: int


def pour_glasses(rows):
    """Rows of day, person, compound, family, method, level, background, outcome."""
    columns = list(zip(*rows, strict=True)) or [()] * 8
    kinds = (int, int, int, int, np.str_, float, float, int)
    return Glasses(*(np.array(c, dtype=kind) for c, kind in zip(columns, kinds, strict=True)))


def pour_blanks(rows):
    """Rows of day, person, whether something was called."""
    columns = list(zip(*rows, strict=True)) or [()] * 3
    kinds = (int, int, bool)
    return Blanks(*(np.array(c, dtype=kind) for c, kind in zip(columns, kinds, strict=True)))


@pytest.fixture(name="pour_glasses")
def _pour_glasses():
    return pour_glasses


@pytest.fixture(name="pour_blanks")
def _pour_blanks():
    return pour_blanks


@pytest.fixture(name="name_glasses")
def _name_glasses():
    """Naming glasses of one person, compound and family: rows of day, level, outcome."""
    return lambda rows: pour_glasses(
        [(day, 0, 0, 0, "naming", level, 0.0, outcome) for day, level, outcome in rows]
    )


@pytest.fixture(name="invent_panel")
def _invent_panel():
    return invent_panel


def invent_panel(seed=1, people=4, compounds=3, families=2, sessions=8, per_session=3):
    """Weekly sessions, two blanks each, answers of chance; a third of the glasses are 3-AFC."""
    draw = np.random.default_rng(seed)
    glasses, blanks = [], []
    for session in range(sessions):
        day, family = 19_000 + 7 * session, int(draw.integers(families))
        for compound in draw.choice(compounds, min(per_session, compounds), replace=False):
            method = "3afc" if draw.random() < 1 / 3 else "naming"
            for person in range(people):
                outcome = draw.choice(4, p=[0.6, 0.1, 0.25, 0.05])
                outcome = min(outcome, 1) if method == "3afc" else outcome
                level = draw.choice([1.5, 2, 3, 4])
                glasses.append((day, person, compound, family, method, level, 0.25, outcome))
        blanks += [(day, person, draw.random() < 0.2) for person in range(people) for _ in "ab"]
    shape = (people, compounds, families)
    return Panel(pour_glasses(glasses), pour_blanks(blanks), shape, 19_000 + 7 * sessions)
