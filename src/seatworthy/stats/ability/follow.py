"""Follows everybody through their answers: the way into the ability model."""

from collections.abc import Sequence
from dataclasses import fields

import numpy as np

from seatworthy.stats.ability.ahead import after_more_hits, look_ahead
from seatworthy.stats.ability.cells import Shape, check_places
from seatworthy.stats.ability.followed import Followed, Today
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import Floats
from seatworthy.stats.ability.history import History
from seatworthy.stats.ability.one_thread import one_thread
from seatworthy.stats.ability.past import walk_through
from seatworthy.stats.ability.pooling import MEAN_STEP, PANEL_MEANS
from seatworthy.stats.ability.reading import quantile
from seatworthy.stats.ability.settings import DEFAULT, Settings
from seatworthy.stats.ability.today import Named, blocks_of, join_blocks, read_block


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
    check_places(glasses, blanks, shape)
    if any(days < 0 for days in outlook_days):
        msg = "An outlook must not lie before today."
        raise ValueError(msg)
    people, compounds, families = shape
    room = (max(people, 1), max(compounds, 1), max(families, 1))  # an empty axis is cut off below
    with one_thread():
        history = History(glasses, blanks, room, today, settings)
        past = walk_through(history)
        history.bring_to(today)
        cells, panels = _look_at_today(history, today, outlook_days)
    cells = {name: values[:people, :compounds, :families] for name, values in cells.items()}
    panels = {name: values[:compounds, :families] for name, values in panels.items()}
    now = Today(**{field.name: cells.pop(field.name) for field in fields(Today)})
    return Followed(**past, today=now, **cells, **panels)


def _look_at_today(
    history: History, today: int, outlook_days: Sequence[int]
) -> tuple[Named, Named]:
    """Estimates of today and later, shape (P, K, B, ...), and of the panels, shape (K, B)."""
    people, compounds, families = history.shape
    settings, blocks, panel_means = history.settings, [], []
    for block in blocks_of(history, np.arange(compounds), np.arange(families), today):
        now = read_block(block, settings)
        after = after_more_hits(block.own, block.call_node, settings)
        one_missed = after_more_hits(block.own, block.call_node, settings, missed=1)
        outlook = look_ahead(history, block, now["chance_met_own"], outlook_days)
        blocks.append(
            {
                **now,
                "chance_met_after": after,
                "chance_met_after_a_miss": one_missed,
                "chance_met_outlook": outlook,
            }
        )
        panel_means.append(block.panel_mean)
    cells = join_blocks(blocks, people, families)
    cells["has_glasses"] = history.has_glasses()
    return cells, _read_panels(np.concatenate(panel_means), settings)


def _read_panels(panel_mean: Floats, settings: Settings) -> Named:
    """Mean thresholds of panels with their intervals; shape (K, B) for (K, B, M)."""
    edges, outside = PANEL_MEANS - MEAN_STEP / 2, (1 - settings.interval) / 2
    flat = panel_mean.reshape(-1, PANEL_MEANS.size)
    read = {
        "panel_threshold": flat @ PANEL_MEANS,
        "panel_threshold_low": quantile(flat, edges, MEAN_STEP, outside),
        "panel_threshold_high": quantile(flat, edges, MEAN_STEP, 1 - outside),
    }
    return {name: values.reshape(panel_mean.shape[:2]) for name, values in read.items()}
