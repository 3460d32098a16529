"""Hands the evidence to the ability model, with the numbers that the rulebook sets."""

from dataclasses import replace
from datetime import date

from seatworthy.evidence import Evidence, day_number
from seatworthy.rules.rulebook import Rulebook
from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.followed import Followed
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.settings import Settings

OUTLOOK_DAYS = tuple(range(14, 210, 14))  # fortnight by fortnight to beyond the longest term


def estimate(evidence: Evidence, as_of: date, book: Rulebook) -> Followed:
    """Everybody's estimates on every day touched, on the day asked, and in the weeks ahead."""
    settings = replace(
        Settings(),
        reference_level=book.compound.reference_level,
        p_min=book.compound.named_right,
        insensitive_level=book.insensitive.threshold_above,
    )
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
    blanks = Blanks(evidence.blank_day, evidence.blank_person, evidence.blank_called)
    today = day_number(as_of)
    return follow(glasses, blanks, evidence.shape, today, settings, OUTLOOK_DAYS)
