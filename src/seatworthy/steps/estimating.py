"""Hands the evidence to the ability model, with the numbers that the rulebook sets."""

from collections import OrderedDict
from dataclasses import fields, replace
from datetime import date
from hashlib import blake2b
from typing import Final

import numpy as np

from seatworthy.evidence import Evidence, day_number
from seatworthy.rules.rulebook import Rulebook
from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.followed import Followed
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.settings import Settings

OUTLOOK_DAYS = tuple(range(14, 210, 14))  # fortnight by fortnight to beyond the longest term
KEPT: Final = 4

Asked = tuple[bytes, int, Settings]


def estimate(
    evidence: Evidence, as_of: date, book: Rulebook, kept: OrderedDict[Asked, Followed]
) -> Followed:
    """Everybody's estimates on every day touched, on the day asked, and in the weeks ahead.

    Args:
        evidence: Every answer up to the day asked.
        as_of: The day asked.
        book: The rulebook whose numbers the model takes.
        kept: Earlier estimates; most acts of recording leave the evidence as it was.
    """
    today, settings = day_number(as_of), model_settings(book)
    asked = (_fingerprint(evidence), today, settings)
    if asked not in kept:
        kept[asked] = follow(*arrays(evidence), evidence.shape, today, settings, OUTLOOK_DAYS)
        while len(kept) > KEPT:
            kept.popitem(last=False)
    kept.move_to_end(asked)
    return kept[asked]


def _fingerprint(evidence: Evidence) -> bytes:
    digest = blake2b(digest_size=16)
    for field in fields(evidence):
        value = getattr(evidence, field.name)
        digest.update(value.tobytes() if isinstance(value, np.ndarray) else repr(value).encode())
        digest.update(b"|")
    return digest.digest()


def model_settings(book: Rulebook) -> Settings:
    """The model's numbers, with those that the rulebook sets."""
    settings = replace(
        Settings(), reference_level=book.asked.reference_level, p_min=book.asked.named_right
    )
    if book.insensitive is None:
        return settings
    return replace(settings, insensitive_level=book.insensitive.threshold_above)


def arrays(evidence: Evidence) -> tuple[Glasses, Blanks]:
    """The evidence as the model reads it."""
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
