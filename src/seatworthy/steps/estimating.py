"""Hands the evidence to the ability model, with the numbers that the rulebook sets."""

from dataclasses import replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from seatworthy.evidence import Evidence, day_number
from seatworthy.rules.rulebook import Rulebook
from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.followed import Followed
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.sample_check import SampleCheck, check_samples
from seatworthy.stats.ability.settings import Settings

OUTLOOK_DAYS = tuple(range(14, 210, 14))  # fortnight by fortnight to beyond the longest term


def estimate(evidence: Evidence, as_of: date, book: Rulebook) -> Followed:
    """Everybody's estimates on every day touched, on the day asked, and in the weeks ahead."""
    today = day_number(as_of)
    return follow(*_arrays(evidence), evidence.shape, today, _settings(book), OUTLOOK_DAYS)


def look_at_samples(evidence: Evidence, sample: NDArray[np.int64], book: Rulebook) -> SampleCheck:
    """Whether samples were made as stated, going by what their tasters usually find.

    Args:
        evidence: Every answer up to the day the samples were poured.
        sample: Number of the preparation each glass came from, below 0 for those not asked of.
        book: The rulebook whose numbers the model takes.
    """
    return check_samples(*_arrays(evidence), sample, evidence.shape, _settings(book))


def _settings(book: Rulebook) -> Settings:
    return replace(
        Settings(),
        reference_level=book.compound.reference_level,
        p_min=book.compound.named_right,
        insensitive_level=book.insensitive.threshold_above,
    )


def _arrays(evidence: Evidence) -> tuple[Glasses, Blanks]:
    glasses = Glasses(
        day=evidence.day,
        person=evidence.person,
        compound=evidence.compound,
        family=evidence.family,
        method=evidence.method,
        level=evidence.level,
        background=evidence.background,
        outcome=evidence.outcome,
    )
    return glasses, Blanks(evidence.blank_day, evidence.blank_person, evidence.blank_called)
