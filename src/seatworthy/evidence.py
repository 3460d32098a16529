"""Rows of the evidence views as arrays with labels, ready for the statistics."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

_EPOCH: Final = date(1970, 1, 1)

RIGHT: Final = 0
WRONG: Final = 1
NONE: Final = 2
OPEN: Final = 3

OUTCOMES: Final = {
    "right": RIGHT,
    "wrong": WRONG,
    "noticed": WRONG,  # perceived and not named right, whatever name was missing
    "missed": NONE,
    "open": OPEN,
}

Columns = Mapping[str, NDArray[Any]]


@dataclass(frozen=True)
class Evidence:
    """All that speaks for or against anybody, as arrays whose labels stand beside them.

    Attributes:
        people: Labels of the person axis (P), person ids.
        compounds: Labels of the compound axis (K), compound keys.
        families: Labels of the beer-family axis (B), family keys.
        day: Days since 1970-01-01, one per answer; shape (A,) like the eight that follow.
        person: Place on the person axis.
        compound: Place on the compound axis.
        family: Place on the beer-family axis.
        method: Method codes.
        outcome: RIGHT, WRONG (another name or none), NONE (nothing noticed) or OPEN (own words
            whose meaning is not known yet).
        level: Multiple of the working threshold, total and actual; nan where not known.
        background: Multiple that was in the base beer already.
        sample: Ids of the preparations that the glasses came from.
        blank_day: Days of the blanks; shape (Z,) like the five that follow.
        blank_person: Place on the person axis.
        blank_called: Whether something was called.
        blank_family: Place on the beer-family axis.
        blank_sample: Ids of the preparations.
        blank_named: Keys of the compounds named, "" where none was.
    """

    people: tuple[str, ...]
    compounds: tuple[str, ...]
    families: tuple[str, ...]
    day: NDArray[np.int64]
    person: NDArray[np.int64]
    compound: NDArray[np.int64]
    family: NDArray[np.int64]
    method: NDArray[np.str_]
    outcome: NDArray[np.int64]
    level: NDArray[np.float64]
    background: NDArray[np.float64]
    sample: NDArray[np.str_]
    blank_day: NDArray[np.int64]
    blank_person: NDArray[np.int64]
    blank_called: NDArray[np.bool_]
    blank_family: NDArray[np.int64]
    blank_sample: NDArray[np.str_]
    blank_named: NDArray[np.str_]

    @property
    def shape(self) -> tuple[int, int, int]:
        """People, compounds, beer families."""
        return len(self.people), len(self.compounds), len(self.families)


def gather(
    scored: Columns, blanks: Columns, people: Sequence[str], families: Sequence[str]
) -> Evidence:
    """Put the rows of ``scored_answers`` and ``blanks`` into arrays.

    Args:
        scored: Columns of ``sql/queries/scored_answers.sql``.
        blanks: Columns of ``sql/queries/blanks.sql``.
        people: Person ids in the order wanted; must hold all that occur.
        families: Beer families likewise.
    """
    compounds = tuple(sorted({str(key) for key in scored["compound"]}))
    return Evidence(
        people=tuple(people),
        compounds=compounds,
        families=tuple(families),
        day=_days(scored["session_on"]),
        person=_places(scored["person_id"], people),
        compound=_places(scored["compound"], compounds),
        family=_places(scored["family"], families),
        method=np.asarray(scored["method"], dtype=np.str_),
        outcome=_outcomes(scored["outcome"]),
        level=_floats(scored["total_level"]),
        background=_floats(scored["background_level"]),
        sample=np.asarray(scored["sample_id"], dtype=np.str_),
        blank_day=_days(blanks["session_on"]),
        blank_person=_places(blanks["person_id"], people),
        blank_called=np.asarray(blanks["is_call"], dtype=np.bool_),
        blank_family=_places(blanks["family"], families),
        blank_sample=np.asarray(blanks["sample_id"], dtype=np.str_),
        blank_named=np.ma.filled(np.ma.asarray(blanks["named_compound"]), "").astype(np.str_),
    )


def day_number(day: date) -> int:
    """Days since 1970-01-01."""
    return day.toordinal() - _EPOCH.toordinal()


def _days(values: NDArray[Any]) -> NDArray[np.int64]:
    return np.asarray(values, dtype="datetime64[D]").astype(np.int64)


def _places(values: NDArray[Any], labels: Sequence[str]) -> NDArray[np.int64]:
    place = {label: i for i, label in enumerate(labels)}
    return np.fromiter((place[str(value)] for value in values), np.int64, len(values))


def _outcomes(values: NDArray[Any]) -> NDArray[np.int64]:
    return np.fromiter((OUTCOMES[str(value)] for value in values), np.int64, len(values))


def _floats(values: NDArray[Any]) -> NDArray[np.float64]:
    return np.ma.filled(np.ma.asarray(values, dtype=np.float64), np.nan)
