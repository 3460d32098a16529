"""How many more sessions until somebody is decided, or the panel covers its list.

Glasses are drawn from what `forecast` works out, with a fixed seed, and shared out session by
session among the compounds that are still open, at most two of one; a compound that stays open
after the most glasses looked at is given up.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.forecast import Counts, Until
from seatworthy.decide.gaps import Ground
from seatworthy.decide.jugs import TWICE

DRAWS: Final = 1000
SEED: Final = 1
NEVER: Final = 10**6  # glasses or sessions: not within what is looked at
_TAIL: Final = 0.1
_ROUNDING: Final = 1e-9


@dataclass(frozen=True)
class Sessions:
    """How many sessions something takes.

    Attributes:
        low: Of the times that it happens, nine in ten take at least so many; 0 if it never does.
        high: Of these, nine in ten take at most so many.
        chance: Chance that it happens within the glasses that are looked at.
    """

    low: int
    high: int
    chance: float


@dataclass(frozen=True)
class SeatAhead:
    """When a seat is settled, and how.

    Attributes:
        sessions: Until the rule says granted or not.
        granted: Chance that it is granted first, of all futures.
    """

    sessions: Sessions
    granted: float


@dataclass(frozen=True)
class SeatNow:
    """What a seat asks for and has.

    Attributes:
        met: Critical items met today.
        not_met: Critical items not met today.
        needed: Items that must be met.
        allowed: Items that may be not met.
    """

    met: int
    not_met: int
    needed: int
    allowed: int


def until_decided(until: Until, cells: Counts, per_session: int, least: int = 1) -> Sessions:
    """Sessions until the verdict on every one of some cells.

    Args:
        until: Further glasses by cell.
        cells: Person and compound of each; shape (cells, 2). None means decided now.
        per_session: Glasses of a session at the reference level, 1 or more.
        least: Fewest sessions, where the rule asks for days.
    """
    if not len(cells):
        return Sessions(0, 0, 1.0)
    needed, _ = _drawn(until, cells)
    return _summed_up(_held(needed, until.most, per_session, least).max(axis=1))


def until_seat(
    until: Until, cells: Counts, now: SeatNow, per_session: int, least: int = 1
) -> SeatAhead:
    """Sessions until one person's seat is settled by the critical compounds, other rules being met.

    Args:
        until: Further glasses by cell.
        cells: Person and compound of each open item; shape (cells, 2).
        now: What the seat has already.
        per_session: As for `until_decided`.
        least: As for `until_decided`.
    """
    needed, is_met = _drawn(until, cells)
    at = _held(needed, until.most, per_session, least)
    settled, granted = np.full(DRAWS, NEVER), np.zeros(DRAWS, dtype=np.bool_)
    for when in [np.zeros(DRAWS, dtype=np.int64), *at.T]:
        by_then = at <= when[:, None]
        met = now.met + (by_then & is_met).sum(axis=1)
        not_met = now.not_met + (by_then & ~is_met).sum(axis=1)
        left = now.met + now.not_met + len(cells) - not_met
        yes = (met >= now.needed) & (not_met <= now.allowed)
        sooner = (yes | (not_met > now.allowed) | (left < now.needed)) & (when < settled)
        settled, granted = np.where(sooner, when, settled), np.where(sooner, yes, granted)
    return SeatAhead(_summed_up(settled), float((granted & (settled < NEVER)).mean()))


def until_covered(until: Until, ground: Ground, per_session: int, least: int = 1) -> Sessions:
    """Sessions until every critical item has the noses asked for, among those who count as noses."""
    people, compounds = ground.is_met.shape
    cells = np.argwhere(np.ones((people, compounds)))
    needed, is_met = _drawn(until, cells)
    drawn = np.where(is_met, needed, NEVER).reshape(DRAWS, people, compounds)
    may = ground.may_taste & ~ground.is_insensitive & ~ground.is_met & ground.is_nose[:, None]
    drawn = np.where(may, drawn, NEVER)
    asked = [
        _one_more_nose(drawn[:, :, list(item)].min(axis=2), int(missing))
        for item, missing in zip(ground.items, ground.missing_noses, strict=True)
        if missing
    ]
    if not asked:
        return Sessions(0, 0, 1.0)
    held = _held(np.stack(asked, axis=1), until.most, per_session, least)
    return _summed_up(held.max(axis=1))


def _one_more_nose(needed: Counts, missing: int) -> Counts:
    """Glasses until so many more people meet an item; shape (DRAWS,) for (DRAWS, P)."""
    if missing > needed.shape[1]:
        return np.full(len(needed), NEVER)
    return np.sort(needed, axis=1)[:, missing - 1]


def _drawn(until: Until, cells: Counts) -> tuple[Counts, NDArray[np.bool_]]:
    """Glasses needed in each draw, `NEVER` for the rest, and whether it is met then; (DRAWS, cells)."""
    person, compound = cells.T
    met, not_met = until.met[person, compound], until.not_met[person, compound]
    along = np.cumsum(np.concatenate([met, not_met], axis=1), axis=1)
    ask = np.random.default_rng(SEED).random((len(cells), DRAWS))
    pairs = zip(along, ask, strict=True)
    found = np.array([np.searchsorted(own, one, "right") for own, one in pairs], dtype=np.int64)
    found = found.reshape(len(cells), DRAWS).T
    steps = met.shape[1]
    return np.where(found < 2 * steps, found % steps, NEVER), found < steps


def _held(needed: Counts, most: int, per_session: int, least: int) -> Counts:
    """The session in which each cell is settled, `NEVER` where it isn't; shape of `needed`."""
    at, given = np.where(needed == 0, 0, NEVER), np.zeros(needed.shape)
    is_open, session = needed > 0, 0
    while is_open.any():
        session += 1
        share = per_session / np.maximum(is_open.sum(axis=1, keepdims=True), 1)
        given += is_open * np.minimum(share, TWICE)
        done = is_open & (given >= needed - _ROUNDING)
        at[done] = max(session, least)
        is_open &= ~done & (given < most)
    return at


def _summed_up(sessions: Counts) -> Sessions:
    """The middle eight in ten of those that come, and how often they do; shape (DRAWS,)."""
    come = sessions[sessions < NEVER]
    if not come.size:
        return Sessions(0, 0, 0.0)
    low, high = np.quantile(come, (_TAIL, 1 - _TAIL), method="inverted_cdf")
    return Sessions(int(low), int(high), come.size / sessions.size)
