"""Thresholds and concentrations as they are written: a number with its range, or a bound."""

from decimal import Decimal

from seatworthy.phrases import multiple
from seatworthy.stats.ability.edges import Edge, edge_of
from seatworthy.stats.ability.settings import Settings
from seatworthy.steps.concentrations import UNITS

NOT_KNOWN = "not known"


def threshold_text(mean: float, low: float, high: float, settings: Settings) -> str:
    """A threshold from its log2 ends: "1.2× (0.8 to 1.9)", "below 0.05×" or "above 20×"."""
    edge = Edge(int(edge_of(low, high, settings)))
    if edge is Edge.WITHIN:
        reach = f"{multiple(2.0**low)} to {multiple(2.0**high)}".replace("×", "")
        return f"{multiple(2.0**mean)} ({reach})"
    if edge is Edge.ANYWHERE:
        return NOT_KNOWN
    return f"{_side(edge)} {multiple(2.0 ** (high if edge is Edge.BELOW else low))}"


def concentration_text(
    mean: float, low: float, high: float, working_ug_l: Decimal, unit: str, settings: Settings
) -> str:
    """The same in the compound's unit: "72 µg/l (48 to 110)"; "" where nothing is known.

    Args:
        mean: Threshold, log2 multiples.
        low: Lower end of its interval.
        high: Upper end.
        working_ug_l: Working threshold in force.
        unit: One of `concentrations.UNITS`.
        settings: Numbers of the model.
    """
    edge = Edge(int(edge_of(low, high, settings)))
    one = float(working_ug_l / UNITS[unit])
    if edge is Edge.WITHIN:
        reach = f"{_figures(one * 2.0**low)} to {_figures(one * 2.0**high)}"
        return f"{_figures(one * 2.0**mean)} {unit} ({reach})"
    if edge is Edge.ANYWHERE:
        return ""
    bound = 2.0 ** (high if edge is Edge.BELOW else low)
    return f"{_side(edge)} {_figures(one * bound)} {unit}"


def _side(edge: Edge) -> str:
    return "below" if edge is Edge.BELOW else "above"


def _figures(amount: float) -> str:
    """Two figures, without an exponent."""
    return f"{Decimal(f'{amount:.2g}'):f}"
