"""How a rule says what each of its numbers and words may be; the reading and the words ask it."""

from collections.abc import Mapping
from dataclasses import MISSING, field
from typing import Any


def number(low: float, high: float, default: Any = MISSING) -> Any:  # noqa: ANN401
    """A field that must be a number between two limits, both allowed."""
    return _described({"low": low, "high": high}, default)


def one_of(*words: str, default: Any = MISSING) -> Any:  # noqa: ANN401
    """A field that must be one of some words."""
    return _described({"words": words}, default)


def some_of(*words: str, default: tuple[str, ...]) -> Any:  # noqa: ANN401
    """A field that must be a list of at least one of some words."""
    return _described({"words": words, "is_list": True}, default)


def yes_or_no(default: bool) -> Any:  # noqa: ANN401
    """A field that must be true or false."""
    return _described({"is_flag": True}, default)


def _described(metadata: Mapping[str, Any], default: Any) -> Any:  # noqa: ANN401
    if default is MISSING:
        return field(metadata=metadata)
    return field(metadata=metadata, default=default)
