"""What everybody says to each compound, read from the evidence for the three decisions."""

from dataclasses import replace
from typing import Final

import numpy as np

from seatworthy.decide.noses import Noses
from seatworthy.evidence import OUTCOMES, Evidence, day_number
from seatworthy.stats.ability.abilities import read_abilities
from seatworthy.stats.ability.call_nodes import nearest_node
from seatworthy.stats.ability.confusion import (
    Calls,
    chance_perceived,
    find_mix_ups,
)
from seatworthy.stats.ability.glasses import NAMING, NOTHING, UNNAMED, Blanks, Glasses
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.settings import Settings
from seatworthy.steps.desk import Desk
from seatworthy.steps.estimating import arrays, model_settings
from seatworthy.steps.judging import Judged

KEPT: Final = 6
_PRIOR_CALLS: Final = 1.0  # a name weighs as if it had been called so often in blanks; ours
_PRIOR_WRONG: Final = 1.0  # wrong names nobody gave yet weigh together like one glass; ours


def noses_of(desk: Desk, judged: Judged, family: str) -> Noses:
    """What everybody on record says to each compound in one beer family, on the day judged.

    The axes are `judged.people` in their order, and every compound that was ever tasted or is
    critical somewhere, by key.

    Args:
        desk: The open store; it keeps the latest few.
        judged: The day judged.
        family: Beer family's key.
    """
    asked = (desk.counted_version, judged.as_of, judged.known_at, judged.rulebook_digest, family)
    if asked not in desk.noses:
        desk.noses[asked] = _read(desk, judged, family)
        while len(desk.noses) > KEPT:
            desk.noses.popitem(last=False)
    return desk.noses[asked]


def _read(desk: Desk, judged: Judged, family: str) -> Noses:
    evidence, settings = _with_critical(judged), model_settings(judged.rulebook)
    glasses, blanks = arrays(evidence)
    abilities = read_abilities(
        glasses,
        blanks,
        evidence.shape,
        day_number(judged.as_of),
        evidence.families.index(family),
        settings,
    )
    guessed = _guessed(evidence, settings)
    weight = _wrong_names(desk, judged, evidence, blanks, guessed, settings)
    return Noses(evidence.people, evidence.compounds, abilities, guessed, _shares(weight), settings)


def _with_critical(judged: Judged) -> Evidence:
    """The evidence with every critical compound on its axis, tasted or not."""
    evidence = judged.evidence
    asked = {c for items in judged.critical.values() for item in items for c in item}
    compounds = tuple(sorted({*evidence.compounds, *asked}))
    place = np.array([compounds.index(c) for c in evidence.compounds], dtype=np.int64)
    moved = place[evidence.compound] if place.size else evidence.compound
    return replace(evidence, compounds=compounds, compound=moved)


def _guessed(evidence: Evidence, settings: Settings) -> Floats:
    """Share of each name among the panel's false calls, every name a little; shape (K,)."""
    named = evidence.blank_named[evidence.blank_called]
    counts = np.array([np.count_nonzero(named == c) for c in evidence.compounds], dtype=float)
    names = max(settings.names, len(counts) + 1)
    return (counts + _PRIOR_CALLS) / (evidence.blank_called.sum() + names * _PRIOR_CALLS)


def _wrong_names(
    desk: Desk,
    judged: Judged,
    evidence: Evidence,
    blanks: Blanks,
    guessed: Floats,
    settings: Settings,
) -> Floats:
    """How many perceived glasses each person is thought to have named so; shape (P, K, K)."""
    rows = [
        row
        for row in desk.store.rows("named_glasses", judged.known_at, until_on=judged.as_of)
        if row["family"] in evidence.families
    ]
    shape = (len(evidence.people), len(evidence.compounds))
    if not rows:
        return np.zeros((*shape, shape[1]))
    who = {person: i for i, person in enumerate(evidence.people)}
    what = {compound: k for k, compound in enumerate(evidence.compounds)}
    glasses = Glasses(
        day=np.array([day_number(row["session_on"]) for row in rows], dtype=np.int64),
        person=np.array([who[row["person_id"]] for row in rows]),
        compound=np.array([what[row["compound"]] for row in rows]),
        family=np.array([evidence.families.index(row["family"]) for row in rows]),
        method=np.full(len(rows), NAMING),
        level=np.array([row["total_level"] for row in rows], dtype=np.float64),
        background=np.array([row["background_level"] or 0.0 for row in rows], dtype=np.float64),
        outcome=np.array([OUTCOMES[row["outcome"]] for row in rows]),
    )
    inside = {c: k for k, c in enumerate(judged.evidence.compounds)}
    column = np.array([inside[row["compound"]] for row in rows])
    mass = judged.followed.today.threshold_mass_own[glasses.person, column, glasses.family]
    said = [_said(row["outcome"], row["named_compound"], what) for row in rows]
    calls = Calls(
        person=glasses.person,
        served=glasses.compound,
        said=np.array(said),
        perceived=chance_perceived(glasses, mass, settings),
    )
    people = np.arange(shape[0])
    number = np.bincount(blanks.person, minlength=shape[0])
    called = np.bincount(blanks.person, blanks.is_false_call, minlength=shape[0])
    rates = build_grid(settings).calls[nearest_node(called, number, settings)[people]]
    return find_mix_ups(calls, rates, shape, settings, guessed).weight


def _said(outcome: str, named: str | None, places: dict[str, int]) -> int:
    if outcome == "missed":
        return NOTHING
    return places.get(named or "", UNNAMED)


def _shares(weight: Floats) -> Floats:
    """Of the wrong names for a compound the share of each: own, then the panel's, then all alike."""
    wrong = np.where(np.eye(weight.shape[1], dtype=np.bool_), 0.0, weight)
    panel = wrong.sum(axis=0)
    others = max(weight.shape[1] - 1, 1)
    usual = (panel + _PRIOR_WRONG / others) / (panel.sum(axis=1, keepdims=True) + _PRIOR_WRONG)
    np.fill_diagonal(usual, 0.0)
    return (wrong + _PRIOR_WRONG * usual) / (wrong.sum(axis=2, keepdims=True) + _PRIOR_WRONG)
