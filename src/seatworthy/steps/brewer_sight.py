"""How much brewers see: whether somebody can be asked, and scores only where the leader allowed it."""

from typing import Final

from seatworthy.steps.desk import Desk

IN_WORDS: Final = "Brewers see words alone: who can be asked about what, and no scores."
WITH_SCORES: Final = "Brewers see scores too: of the counted glasses of each of them, how many."


def sees_scores(desk: Desk) -> bool:
    """Whether the leader lets brewers see scores; nobody said so means no."""
    rows = desk.store.rows("brewer_sight")
    return bool(rows) and bool(rows[0]["sees_scores"])


def state_sight(desk: Desk, with_scores: bool) -> str:
    """State whether brewers see scores from now on; the same said twice is one fact.

    Args:
        desk: The open store.
        with_scores: Whether they do.
    """
    with desk.store.recording("brewers") as act:
        if sees_scores(desk) != with_scores:
            act.add("brewer_sight", {"sees_scores": with_scores})
    return WITH_SCORES if with_scores else IN_WORDS
