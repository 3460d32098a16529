"""Weighed calls on record, and whether they keep their word: of calls given about so much, how many were right."""

from collections.abc import Iterable, Mapping
from typing import Any, Final

import numpy as np

from seatworthy.decide.calls_kept import LEAST_CALLS, Band, bands_of
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_release_words import NOTHING
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import number_word, sentence_start
from seatworthy.steps.weigh_views import BandLine, KeptLine, KeptView
from seatworthy.steps.weigh_words import confirmed_sentence
from seatworthy.steps.weighing_rows import (
    compound_labels,
    family_labels,
    found_words,
    weighing_chances,
    weighing_rows,
    weighing_words,
)

ANYTHING: Final = "anything"  # what a call is about in which no compound was named


def kept_weighings(desk: Desk) -> KeptView:
    """Every weighed call on record, and how many of them were confirmed."""
    labels, families = compound_labels(desk), family_labels(desk)
    chances, words = weighing_chances(desk), weighing_words(desk)
    lines = tuple(
        _line(row, chances[row["weighing_id"]], words[row["weighing_id"]], labels, families)
        for row in weighing_rows(desk)
    )
    known = [line for line in lines if line.is_confirmed is not None]
    bands = bands_of(
        np.array([line.chance for line in known], dtype=float),
        np.array([bool(line.is_confirmed) for line in known], dtype=np.bool_),
    )
    return KeptView(lines, tuple(map(_band_line, bands)), _sentence(len(lines), len(known), bands))


def _line(
    row: Mapping[str, Any],
    chances: Mapping[str, float],
    words: Iterable[Mapping[str, Any]],
    labels: Mapping[str, str],
    families: Mapping[str, str],
) -> KeptLine:
    what, chance = _about(chances, words)
    outcome = row["outcome"]
    is_confirmed = (
        None if not outcome else outcome != NOTHING if what == ANYTHING else outcome == what
    )
    return KeptLine(
        weighing_id=row["weighing_id"],
        weighed_on=row["weighed_on"],
        label=row["label"],
        family_label=families.get(row["family"], row["family"]),
        what="Something wrong" if what == ANYTHING else short_label(labels.get(what, what)),
        chance=chance,
        outcome=found_words(outcome, labels) if outcome else "",
        is_confirmed=is_confirmed,
    )


def _about(chances: Mapping[str, float], words: Iterable[Mapping[str, Any]]) -> tuple[str, float]:
    """The likeliest of what was named; where nothing was named, any fault."""
    named = {word["compound"] for word in words if word["compound"] in chances}
    if not named:
        return ANYTHING, 1 - chances.get(NOTHING, 0.0)
    what = max(sorted(named), key=lambda compound: chances[compound])
    return what, chances[what]


def _band_line(band: Band) -> BandLine:
    given = None if np.isnan(band.given) else band.given
    sentence = confirmed_sentence(band.calls, band.given, band.confirmed, band.limits)
    head = f"{100 * band.low:.0f} to {100 * band.high:.0f}%"
    return BandLine(head, given, band.calls, band.confirmed, band.limits, sentence)


def _sentence(kept: int, known: int, bands: Iterable[Band]) -> str:
    if not kept:
        return "No weighed call is kept yet."
    calls = (
        "One weighed call is"
        if kept == 1
        else f"{sentence_start(number_word(kept))} weighed calls are"
    )
    if known < LEAST_CALLS:
        truth = "none" if not known else number_word(known)
        return f"{calls} on record, {truth} with its truth known: too few yet to say how far to trust them."
    full = [band for band in bands if band.limits is not None]
    off = [b for b in full if b.limits and not b.limits[0] <= b.given <= b.limits[1]]
    if not full:
        return f"{calls} on record, {known} with their truth known, and no kind of chance often enough to say more."
    if not off:
        return f"{calls} on record, {known} with their truth known; so far they keep their word."
    return f"{calls} on record, {known} with their truth known; some kinds don't keep their word, see below."
