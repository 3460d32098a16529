"""Weighed calls as they stand in the store."""

from collections import defaultdict
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from seatworthy.steps.desk import Desk
from seatworthy.steps.history_release_words import NOTHING, UNLISTED
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import in_sentence


def weighing_rows(desk: Desk) -> list[dict[str, Any]]:
    """Weighed calls with what was found, the latest first."""
    return desk.store.rows("weighings")


def weighing_words(desk: Desk, known_at: datetime | None = None) -> dict[str, list[dict[str, Any]]]:
    """What was said, by weighed call, of people as they were known then (UTC); None for now."""
    words: dict[str, list[dict[str, Any]]] = defaultdict(list)
    for row in desk.store.rows("weighed_words", known_at):
        words[row["weighing_id"]].append(row)
    return words


def weighing_chances(desk: Desk) -> dict[str, dict[str, float]]:
    """The chances given by what the beer may have, by weighed call."""
    chances: dict[str, dict[str, float]] = defaultdict(dict)
    for row in desk.store.rows("weighed_chances"):
        chances[row["weighing_id"]][row["what"]] = float(row["chance"])
    return chances


def compound_labels(desk: Desk) -> dict[str, str]:
    """Label by compound of the vocabulary."""
    return {row["compound"]: row["label"] for row in desk.store.rows("compounds")}


def family_labels(desk: Desk) -> dict[str, str]:
    """Label by beer family."""
    return {row["family"]: row["label"] for row in desk.store.rows("known_families")}


def found_words(what: str, labels: Mapping[str, str]) -> str:
    """What a beer turned out to have, inside a sentence."""
    if what == NOTHING:
        return "nothing wrong"
    if what == UNLISTED:
        return "something that is not on the list"
    return in_sentence(short_label(labels.get(what, what)))
