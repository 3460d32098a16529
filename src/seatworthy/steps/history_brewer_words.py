"""What the history says of how much brewers see."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from seatworthy.steps.history_phrases import Part, Teller


def _sight(parts: Sequence[Part]) -> list[str]:
    return ["Brewers see scores." if parts[-1]["is_so"] else "Brewers see no scores, words alone."]


BREWER_TELLERS: Final[Mapping[str, Teller]] = MappingProxyType({"brewer_sight": _sight})
