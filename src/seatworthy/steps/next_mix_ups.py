"""Which compounds each person of a panel takes for which others, as shares."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from seatworthy.evidence import OUTCOMES, day_number
from seatworthy.stats.ability.call_nodes import nearest_node
from seatworthy.stats.ability.confusion import Calls, chance_perceived, find_mix_ups
from seatworthy.stats.ability.glasses import NAMING, NOTHING, UNNAMED, Glasses
from seatworthy.stats.ability.grid import build_grid
from seatworthy.steps.desk import Desk
from seatworthy.steps.estimating import model_settings
from seatworthy.steps.judging import Judged

Floats = NDArray[np.float64]


def taken_for(
    desk: Desk, judged: Judged, people: Sequence[str], compounds: Sequence[str]
) -> Floats:
    """Of perceived glasses, the share given another name, for pairs mixed up surely enough.

    Own answers of all time and in all beers count; whoever has none mixes up nothing.

    Args:
        desk: The open store.
        judged: The day judged.
        people: Person ids, P of them.
        compounds: Compound keys, K of them, all that were ever tasted among them.

    Returns:
        Fractions, 0 for every pair that isn't mixed up; shape (P, K, K).
    """
    who = {person: n for n, person in enumerate(people)}
    rows = [
        row
        for row in desk.store.rows("named_glasses", judged.known_at, until_on=judged.as_of)
        if row["person_id"] in who and row["family"] in judged.evidence.families
    ]
    shape = (len(people), len(compounds))
    if not rows:
        return np.zeros((*shape, shape[1]))
    what = {compound: n for n, compound in enumerate(compounds)}
    calls = Calls(
        person=np.array([who[row["person_id"]] for row in rows]),
        served=np.array([what[row["compound"]] for row in rows]),
        said=np.array([_said(row, what) for row in rows]),
        perceived=_perceived(judged, rows),
    )
    found = find_mix_ups(calls, _rates(judged, people), shape, model_settings(judged.rulebook))
    return np.where(found.is_mixed_up, found.mean, 0.0)


def _said(row: dict[str, Any], what: dict[str, int]) -> int:
    if row["outcome"] == "missed":
        return NOTHING
    return what.get(row["named_compound"] or "", UNNAMED)


def _perceived(judged: Judged, rows: Sequence[dict[str, Any]]) -> Floats:
    """Chance that each glass was perceived, by the taster's own threshold of today; shape (A,)."""
    evidence = judged.evidence
    axes = (evidence.people, evidence.compounds, evidence.families)
    person, compound, family = (
        _on_axis(axis, [row[name] for row in rows])
        for axis, name in zip(axes, ("person_id", "compound", "family"), strict=True)
    )
    glasses = Glasses(
        day=np.array([day_number(row["session_on"]) for row in rows], dtype=np.int64),
        person=person,
        compound=compound,
        family=family,
        method=np.full(len(rows), NAMING),
        level=np.array([row["total_level"] for row in rows], dtype=np.float64),
        background=np.array([row["background_level"] or 0.0 for row in rows], dtype=np.float64),
        outcome=np.array([OUTCOMES[row["outcome"]] for row in rows]),
    )
    mass = judged.followed.today.threshold_mass_own[person, compound, family]
    return chance_perceived(glasses, mass, model_settings(judged.rulebook))


def _on_axis(axis: Sequence[str], labels: Sequence[str]) -> NDArray[np.intp]:
    at = {label: n for n, label in enumerate(axis)}
    return np.array([at[label] for label in labels], dtype=np.intp)


def _rates(judged: Judged, people: Sequence[str]) -> Floats:
    """The false-call rate at each person's node, from all their blanks; shape (P,)."""
    evidence, settings = judged.evidence, model_settings(judged.rulebook)
    blanks = np.bincount(evidence.blank_person, minlength=len(evidence.people))
    called = np.bincount(
        evidence.blank_person, evidence.blank_called, minlength=len(evidence.people)
    )
    counts = {p: (called[n], blanks[n]) for n, p in enumerate(evidence.people)}
    own = np.array([counts.get(person, (0, 0)) for person in people])
    return build_grid(settings).calls[nearest_node(own[:, 0], own[:, 1], settings)]
