"""Which compounds somebody takes for which others, sure enough to be told."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

import numpy as np

from seatworthy.evidence import OUTCOMES, day_number
from seatworthy.rules.verdict import percent
from seatworthy.stats.ability.call_nodes import nearest_node
from seatworthy.stats.ability.confusion import Calls, chance_perceived, find_mix_ups
from seatworthy.stats.ability.glasses import NAMING, NOTHING, UNNAMED, Glasses
from seatworthy.stats.ability.grid import build_grid
from seatworthy.steps.estimating import model_settings
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import in_sentence

WORTH: Final = "more than one perceived glass in ten"

Row = Mapping[str, Any]


def mixed_up(judged: Judged, person_id: str, rows: Sequence[Row]) -> tuple[str, ...]:
    """Sentences about the pairs that one person mixes up, on own answers of all time and beers.

    Args:
        judged: The day judged.
        person_id: Whose.
        rows: Rows of ``sql/queries/person_glasses.sql``.

    Returns:
        The surest first; empty where nothing is sure enough.
    """
    compounds = judged.evidence.compounds
    named = [
        row
        for row in rows
        if row["method"] == NAMING and row["total_level"] is not None
        and row["family"] in judged.evidence.families
    ]  # fmt: skip
    if not named:
        return ()
    names = sorted({*compounds, *(row["said"] for row in named if row["said_a_compound"])})
    calls = _calls(judged, person_id, named, names)
    found = find_mix_ups(
        calls, _false_call_rate(judged, person_id), (1, len(names)), model_settings(judged.rulebook)
    )
    pairs = np.argwhere(found.is_mixed_up[0])
    pairs = sorted(pairs.tolist(), key=lambda pair: -found.chance[0, pair[0], pair[1]])
    return tuple(
        f"Takes {_label(judged, names[served])} for {_label(judged, names[said])} in {WORTH}: "
        f"{percent(float(found.chance[0, served, said]))} sure."
        for served, said in pairs
    )


def _calls(judged: Judged, person_id: str, rows: Sequence[Row], names: Sequence[str]) -> Calls:
    place = {name: k for k, name in enumerate(names)}
    return Calls(
        person=np.zeros(len(rows), dtype=np.int64),
        served=np.array([place[row["compound"]] for row in rows]),
        said=np.array([_said(row, place) for row in rows]),
        perceived=_perceived(judged, person_id, rows),
    )


def _said(row: Row, place: Mapping[str, int]) -> int:
    if row["outcome"] == "missed":
        return NOTHING
    return place[row["said"]] if row["said_a_compound"] else UNNAMED


def _perceived(judged: Judged, person_id: str, rows: Sequence[Row]) -> np.ndarray:
    """Chance that each glass was perceived, by the person's own threshold of today."""
    evidence, person = judged.evidence, judged.evidence.people.index(person_id)
    compound = np.array([evidence.compounds.index(row["compound"]) for row in rows])
    family = np.array([evidence.families.index(row["family"]) for row in rows])
    glasses = Glasses(
        day=np.array([day_number(row["session_on"]) for row in rows], dtype=np.int64),
        person=np.full(len(rows), person),
        compound=compound,
        family=family,
        method=np.full(len(rows), NAMING),
        level=np.array([row["total_level"] for row in rows], dtype=np.float64),
        background=np.array([row["background_level"] or 0.0 for row in rows]),
        outcome=np.array([OUTCOMES[row["outcome"]] for row in rows]),
    )
    mass = judged.followed.today.threshold_mass_own[person, compound, family]
    return chance_perceived(glasses, mass, model_settings(judged.rulebook))


def _false_call_rate(judged: Judged, person_id: str) -> np.ndarray:
    """The rate at the person's node, from all blanks; shape (1,)."""
    evidence, settings = judged.evidence, model_settings(judged.rulebook)
    own = evidence.blank_person == evidence.people.index(person_id)
    node = nearest_node(evidence.blank_called[own].sum(), own.sum(), settings)
    return build_grid(settings).calls[node][None]


def _label(judged: Judged, compound: str) -> str:
    return in_sentence(short_label(judged.labels.get(compound, compound)))
