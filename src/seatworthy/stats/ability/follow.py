"""Follows everybody through their answers: the way into the ability model."""

from collections.abc import Sequence
from dataclasses import fields
from typing import Final

import numpy as np
from threadpoolctl import threadpool_limits

from seatworthy.stats.ability.followed import Followed, Today
from seatworthy.stats.ability.glasses import NAMING, Blanks, Glasses, Outcome
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.history import Cells, History, Places
from seatworthy.stats.ability.pooling import MEAN_STEP, PANEL_MEANS, Pooled, pool
from seatworthy.stats.ability.reading import (
    build_readout,
    chance_met,
    mean_rate,
    posterior,
    quantile,
    rate_histogram,
    rate_interval,
    read_thresholds,
)
from seatworthy.stats.ability.settings import DEFAULT, Settings
from seatworthy.stats.ability.tables import answer_weights, glass_table, likelihood

MOST_MORE_GLASSES: Final = 8

Shape = tuple[int, int, int]


def follow(
    glasses: Glasses,
    blanks: Blanks,
    shape: Shape,
    today: int,
    settings: Settings = DEFAULT,
    outlook_days: Sequence[int] = (),
) -> Followed:
    """Estimate everybody's ability on every day touched, today and on days to come.

    Args:
        glasses: Answered spiked glasses; those after `today` are left out.
        blanks: Answered blanks; likewise.
        shape: Numbers of people P, compounds K and beer families B.
        today: Days since 1970-01-01.
        settings: Numbers of the model.
        outlook_days: How many days after today to look at, each >= 0.

    Returns:
        The estimates; see `Followed` for their shapes.

    Raises:
        ValueError: if a place lies outside `shape` or an outlook lies before today.
    """
    _check(glasses, blanks, shape, outlook_days)
    people, compounds, families = shape
    room = (max(people, 1), max(compounds, 1), max(families, 1))  # an empty axis is cut off below
    with threadpool_limits(limits=1):  # more threads are slower on arrays of this size
        history = History(glasses, blanks, room, today, settings)
        past = _walk_through(history, room)
        ahead = [_read_compound(history, k, room, today, outlook_days) for k in range(room[1])]
    return _put_together(past, ahead, history, shape)


def _walk_through(history: History, shape: Shape) -> dict[str, np.ndarray]:
    """Read all cells touched at the end of each day; arrays of shape (Q,)."""
    parts = []
    for day in history.days.tolist():
        history.absorb(day)
        person, compound = history.touched(day)
        families = shape[2]
        cells = Cells(
            person=np.repeat(person, families),
            compound=np.repeat(compound, families),
            family=np.tile(np.arange(families), person.size),
            day=np.full(person.size * families, day),
        )
        parts.append((cells, *_read_own(history, cells)))
    return _join_days(parts, history.settings)


def _read_own(history: History, cells: Cells) -> tuple[Floats, Floats, Floats]:
    """Chance met, mean rate, both (N,), and the posterior of the threshold, (N, G)."""
    settings, node = history.settings, history.call_node(cells)
    joint = posterior(history.likelihood(cells), build_grid(settings).own_prior, settings)
    return (
        chance_met(joint, node, settings),
        mean_rate(joint, node, settings),
        joint.sum(axis=1),
    )


def _join_days(
    parts: list[tuple[Cells, Floats, Floats, Floats]], settings: Settings
) -> dict[str, np.ndarray]:
    cells = [part[0] for part in parts]
    whole, real = np.empty(0, dtype=np.int64), np.empty(0)
    size = build_grid(settings).theta.size
    theta = np.concatenate([np.empty((0, size)), *(part[3] for part in parts)])
    thresholds = read_thresholds(theta, settings)
    return {
        "days": np.concatenate([whole, *(one.day for one in cells)]),
        "cell_person": np.concatenate([whole, *(one.person for one in cells)]),
        "cell_compound": np.concatenate([whole, *(one.compound for one in cells)]),
        "cell_family": np.concatenate([whole, *(one.family for one in cells)]),
        "chance_met_own": np.concatenate([real, *(part[1] for part in parts)]),
        "rate_mean": np.concatenate([real, *(part[2] for part in parts)]),
        "chance_insensitive_own": thresholds.chance_insensitive,
        "threshold_mean": thresholds.mean,
        "threshold_low": thresholds.low,
        "threshold_high": thresholds.high,
    }


def _read_compound(
    history: History, compound: int, shape: Shape, today: int, outlook_days: Sequence[int]
) -> dict[str, np.ndarray]:
    """Everything of one compound today and later; arrays of shape (P * B, ...) or (B,)."""
    settings = history.settings
    cells = _all_cells(compound, shape, today)
    node, evidence = history.call_node(cells), history.likelihood(cells)
    own = posterior(evidence, build_grid(settings).own_prior, settings)
    pooled, others = _pool(evidence, shape, settings)
    joint = posterior(evidence, others, settings)
    own_threshold = read_thresholds(own.sum(axis=1), settings)
    pooled_threshold = read_thresholds(joint.sum(axis=1), settings)
    histogram = rate_histogram(own, node, settings)
    low, high = rate_interval(histogram, settings)
    pooled_low, pooled_high = rate_interval(rate_histogram(joint, node, settings), settings)
    return {
        "chance_met_own": chance_met(own, node, settings),
        "chance_met_pooled": chance_met(joint, node, settings),
        "chance_insensitive_own": own_threshold.chance_insensitive,
        "rate_mean": mean_rate(own, node, settings),
        "rate_low": low,
        "rate_high": high,
        "rate_histogram": histogram,
        "rate_mean_pooled": mean_rate(joint, node, settings),
        "rate_low_pooled": pooled_low,
        "rate_high_pooled": pooled_high,
        "threshold_mean_own": own_threshold.mean,
        "threshold_low_own": own_threshold.low,
        "threshold_high_own": own_threshold.high,
        "threshold_mean_pooled": pooled_threshold.mean,
        "threshold_low_pooled": pooled_threshold.low,
        "threshold_high_pooled": pooled_threshold.high,
        "chance_met_after": _after_more_hits(own, node, settings),
        "chance_met_outlook": _look_ahead(history, cells, outlook_days),
        **_panel(pooled, settings),
    }


def _all_cells(compound: int, shape: Shape, day: int) -> Cells:
    """All people and families of one compound, the family running fastest."""
    people, _, families = shape
    number = people * families
    return Cells(
        person=np.repeat(np.arange(people), families),
        compound=np.full(number, compound),
        family=np.tile(np.arange(families), people),
        day=np.full(number, day),
    )


def _pool(evidence: Floats, shape: Shape, settings: Settings) -> tuple[Pooled, Floats]:
    """Panels by family, and each cell's prior from the others; shape (P * B, G)."""
    people, _, families = shape
    over_naming = np.einsum("ncg,c->ng", evidence, build_grid(settings).naming_mass)
    by_family = over_naming.reshape(people, families, -1).swapaxes(0, 1)
    pooled = pool(by_family, settings)
    return pooled, pooled.prior.swapaxes(0, 1).reshape(over_naming.shape)


def _panel(pooled: Pooled, settings: Settings) -> dict[str, np.ndarray]:
    edges, outside = PANEL_MEANS - MEAN_STEP / 2, (1 - settings.interval) / 2
    return {
        "panel_threshold": pooled.panel_mean @ PANEL_MEANS,
        "panel_threshold_low": quantile(pooled.panel_mean, edges, MEAN_STEP, outside),
        "panel_threshold_high": quantile(pooled.panel_mean, edges, MEAN_STEP, 1 - outside),
    }


def _after_more_hits(own: Floats, node: Places, settings: Settings) -> Floats:
    """Chance met after 0 to 8 further right names at the reference level today; shape (N, 9)."""
    hit = _likelihood_of_a_hit(settings)
    met = build_readout(settings).met
    chances = np.empty((len(own), MOST_MORE_GLASSES + 1))
    for one in np.unique(node):
        at = node == one
        powers = hit[one] ** np.arange(MOST_MORE_GLASSES + 1)[:, None, None]
        flat = own[at].reshape(at.sum(), -1)
        every = flat @ powers.reshape(len(powers), -1).T
        chances[at] = flat @ (powers * met[one]).reshape(len(powers), -1).T / every
    return chances


def _likelihood_of_a_hit(settings: Settings) -> Floats:
    """P(right name at the reference level), the error of the preparation in it; (F, C, G)."""
    nodes = np.arange(len(settings.call_nodes))
    zero, level = np.zeros_like(nodes), np.full(nodes.shape, settings.reference_level)
    right = np.full(nodes.shape, int(Outcome.RIGHT))
    method = np.full(nodes.shape, NAMING)
    glasses = Glasses(zero, zero, zero, zero, method, level, 0 * level, right)
    table = glass_table(glasses, settings)
    return likelihood(*answer_weights(glasses, nodes, settings), table.seen[table.kind])


def _look_ahead(history: History, cells: Cells, outlook_days: Sequence[int]) -> Floats:
    """Chance met on later days if nothing more is poured; shape (N, days)."""
    number, looks = cells.day.size, len(outlook_days)
    if not looks:
        return np.empty((number, 0))
    later = Cells(
        person=np.repeat(cells.person, looks),
        compound=np.repeat(cells.compound, looks),
        family=np.repeat(cells.family, looks),
        day=np.repeat(cells.day, looks) + np.tile(np.asarray(outlook_days), number),
    )
    return _read_own(history, later)[0].reshape(number, looks)


def _put_together(
    past: dict[str, np.ndarray],
    ahead: list[dict[str, np.ndarray]],
    history: History,
    shape: Shape,
) -> Followed:
    people, compounds, families = shape
    joined = {"has_glasses": history.has_glasses()}
    for name in ahead[0]:
        stacked = np.stack([one[name] for one in ahead])
        if not name.startswith("panel_"):
            cells = stacked.reshape(len(ahead), *history.shape[::2], *stacked.shape[2:])
            stacked = cells.swapaxes(0, 1)
        joined[name] = stacked
    cut = {
        name: values[:compounds, :families]
        if name.startswith("panel_")
        else values[:people, :compounds, :families]
        for name, values in joined.items()
    }
    today = Today(**{field.name: cut.pop(field.name) for field in fields(Today)})
    return Followed(**past, **cut, today=today)


def _check(glasses: Glasses, blanks: Blanks, shape: Shape, outlook_days: Sequence[int]) -> None:
    axes = (glasses.person, glasses.compound, glasses.family)
    for name, places, size in zip(("person", "compound", "family"), axes, shape, strict=True):
        if np.any((places < 0) | (places >= size)):
            msg = f"A {name} lies outside 0 to {size - 1}."
            raise ValueError(msg)
    if np.any((blanks.person < 0) | (blanks.person >= shape[0])):
        msg = f"The person of a blank lies outside 0 to {shape[0] - 1}."
        raise ValueError(msg)
    if any(days < 0 for days in outlook_days):
        msg = "An outlook must not lie before today."
        raise ValueError(msg)
