"""How often beers of a family have a fault: stated, from the brewery's own record, or a default."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from types import MappingProxyType
from typing import Final

import numpy as np

from seatworthy.decide.priors import (
    CRITICAL_SHARE,
    MOST_TOGETHER,
    OTHER_SHARE,
    History,
    adds_up,
    shares_from_history,
)
from seatworthy.decide.weighing import Prior
from seatworthy.errors import PanelError
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_release_words import NOTHING, UNLISTED
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import in_sentence, joined
from seatworthy.steps.signing import sign
from seatworthy.steps.weigh_expected import expected_in
from seatworthy.steps.weigh_views import ShareLine

# What a page offers; each with the share it stands for.
SHARE_WORDS: Final[Mapping[str, Decimal]] = MappingProxyType(
    {
        "never seen": Decimal("0.001"),
        "1 in 200": Decimal("0.005"),
        "1 in 50": Decimal("0.02"),
        "1 in 20": Decimal("0.05"),
        "1 in 8": Decimal("0.125"),
        "1 in 3": Decimal("0.33333333"),
    }
)
_STATED: Final = "stated here"
_PLACES: Final = Decimal("0.00000001")
_DIGITS: Final = 9


@dataclass(frozen=True)
class Known:
    """What is known of a family's beers before anybody tastes.

    Attributes:
        prior: By compound of the axis it was asked for.
        lines: The same to be shown, the most common first.
        beers: How many of the family's weighed beers are known in truth.
    """

    prior: Prior
    lines: tuple[ShareLine, ...]
    beers: int

    def line(self, what: str) -> ShareLine:
        """What is known of one compound."""
        return next(line for line in self.lines if line.what == what)


def known_before(
    desk: Desk,
    family: str,
    compounds: tuple[str, ...],
    critical: frozenset[str],
    labels: Mapping[str, str],
    known_at: datetime | None = None,
) -> Known:
    """Shares of a family's beers that have each compound.

    Args:
        desk: The open store.
        family: Beer family's key.
        compounds: The compound axis.
        critical: Those critical in the family.
        labels: Label by compound.
        known_at: As the record stood then (UTC); None for all of it.

    Raises:
        PanelError: if what was stated leaves no room for a sound beer.
    """
    stated = _stated(desk, family, known_at)
    rows = desk.store.rows("family_outcomes", known_at, family=family)
    found = {row["what"]: row["beers"] for row in rows}
    beers = sum(found.values())
    expected = expected_in(desk, family, known_at)
    usual = np.array([_usual(c, critical, expected) for c in compounds])
    counts = np.array([found.get(c, 0) for c in compounds], dtype=float)
    shares, unlisted = shares_from_history(History(beers, counts, found.get(UNLISTED, 0)), usual)
    shares = np.array([float(stated.get(c, s)) for c, s in zip(compounds, shares, strict=True)])
    unlisted = float(stated.get(UNLISTED, unlisted))
    all_of_them = {**dict(zip(compounds, shares.tolist(), strict=True)), UNLISTED: unlisted}
    _check(all_of_them, labels)
    lines = [
        ShareLine(what, share_label(what, labels), share, one_in(share), _origin(what, stated, found, beers))
        for what, share in all_of_them.items()
    ]  # fmt: skip
    lines.sort(key=lambda line: -line.share)
    return Known(Prior(shares, unlisted), tuple(lines), beers)


def _usual(compound: str, critical: frozenset[str], expected: frozenset[str]) -> float:
    """The default share; what a family is expected to have is no fault of it."""
    if compound in expected:
        return 0.0
    return CRITICAL_SHARE if compound in critical else OTHER_SHARE


def shares_of(desk: Desk, family: str) -> tuple[ShareLine, ...]:
    """Shares of the whole vocabulary in use for a family, the most common first; unlisted among them.

    Args:
        desk: The open store.
        family: Beer family's key.
    """
    labels = {row["compound"]: row["label"] for row in desk.store.rows("compounds")}
    critical = frozenset(
        row["compound"]
        for row in desk.store.rows("family_compounds")
        if row["family"] == family and row["role"] == "critical"
    )
    try:
        return known_before(desk, family, tuple(labels), critical, labels).lines
    except PanelError:  # they don't add up; what was stated is still to be seen and mended
        stated = _stated(desk, family)
        lines = [
            ShareLine(what, share_label(what, labels), float(share), one_in(float(share)), _STATED)
            for what, share in stated.items()
        ]
        return tuple(sorted(lines, key=lambda line: -line.share))


def state_share(desk: Desk, family: str, what: str, words: str, by: str | None = None) -> str:
    """State how often a family's beers have one fault, in words.

    Args:
        desk: The open store.
        family: Beer family's key.
        what: A compound, or "unlisted".
        words: One of `SHARE_WORDS`, or "1 in 30".
        by: Who says so.

    Returns:
        What was recorded, in a sentence.

    Raises:
        PanelError: if it can't be read, or the faults leave no room for a sound beer.
    """
    labels = {row["compound"]: row["label"] for row in desk.store.rows("compounds")}
    label = share_label(what, labels)
    share = read_share(words, label)
    with desk.store.recording("share", counts=False) as act:
        if family not in {row["family"] for row in desk.store.rows("known_families")}:
            message = "That beer family is not on the shelf; choose one of the list."
            raise PanelError(message)
        if what not in {*labels, UNLISTED}:
            message = f"“{what}” is no compound of the vocabulary; choose from the list."
            raise PanelError(message)
        before = {line.what: line.share for line in shares_of(desk, family)}
        _check({**before, what: float(share)}, labels)
        if _stated(desk, family).get(what) == share:
            return "That is what was stated already."
        act.add("beer_share", {"family": family, "what": what, "share": share})
        sign(act, by)
    return f"{label}: {one_in(float(share))} of these beers from now on."


def read_share(words: str, label: str) -> Decimal:
    """A share from words: one of the list, or "1 in 30".

    Raises:
        PanelError: if it says no share.
    """
    text = " ".join(words.casefold().split())
    if text in SHARE_WORDS:
        return SHARE_WORDS[text]
    number = text.removeprefix("1 in ").strip()
    if (
        not number.isdecimal()
        or not number.isascii()
        or len(number) > _DIGITS
        or not 2 <= int(number) <= 100_000
    ):
        message = (
            f"How often {in_sentence(label)} is there reads “{words[:40]}”; "
            "write “1 in” and a whole number from 2 to 100000, such as 1 in 30."
        )
        raise PanelError(message)
    return (1 / Decimal(int(number))).quantize(_PLACES)


def one_in(share: float) -> str:
    """A share in words: "1 in 50"."""
    if share <= 0:
        return "none"
    if share < 1 / 950:
        return "fewer than 1 in 1000"
    number = 1 / share
    near = (
        round(number)
        if number < 30
        else round(number / 5) * 5
        if number < 200
        else round(number, -1)
    )
    if number < 1.6:
        return f"{round(share * 20) * 5} in 100"
    return f"1 in {near:.0f}"


def share_label(what: str, labels: Mapping[str, str]) -> str:
    """A compound's short name, or what is said of something unlisted."""
    return "Something unlisted" if what == UNLISTED else short_label(labels.get(what, what))


def _stated(desk: Desk, family: str, known_at: datetime | None = None) -> dict[str, Decimal]:
    rows = desk.store.rows("beer_shares", known_at, family=family)
    return {row["what"]: row["share"] for row in rows if row["what"] != NOTHING}


def _check(shares: Mapping[str, float], labels: Mapping[str, str]) -> None:
    faults = np.array([share for what, share in shares.items() if what != UNLISTED])
    if adds_up(faults, shares.get(UNLISTED, 0.0)):
        return
    largest = sorted(shares, key=lambda what: -shares[what])[:2]
    which = joined(
        [f"{in_sentence(share_label(w, labels))} ({one_in(shares[w])})" for w in largest]
    )
    together = 100 * sum(shares.values())
    message = (
        f"The faults together would be in {together:.0f} of 100 beers, which leaves no room for a "
        f"sound one; at most {100 * MOST_TOGETHER:.0f} in 100 can be weighed. Make the largest "
        f"smaller: {which}. No chance is given until they add up."
    )
    raise PanelError(message)


def _origin(what: str, stated: Mapping[str, Decimal], found: Mapping[str, int], beers: int) -> str:
    if what in stated:
        return _STATED
    if beers:
        return f"{found.get(what, 0)} of {beers} known beers, a default"
    return "a weak default"
