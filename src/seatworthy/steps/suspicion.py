"""Which jugs are to be suspected before anybody's nose, why, and with what odds."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import exp
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.evidence import RIGHT, Evidence
from seatworthy.rules.rulebook import Rulebook
from seatworthy.stats.ability.blank_check import (
    BLANK_ABOVE,
    NOTHING,
    UNNAMED,
    BlankCheck,
    PouredBlanks,
    check_blanks,
)
from seatworthy.stats.ability.glasses import NAMING
from seatworthy.stats.ability.sample_check import (
    HALF_STOCK_ABOVE,
    NOT_DOSED_ABOVE,
    TWICE_STOCK_ABOVE,
    SampleCheck,
    add_by_stock,
    check_samples,
    limit_for,
)
from seatworthy.steps.estimating import arrays, model_settings
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import in_sentence, number_word, sentence_start

MOST_ODDS: Final = 1000
LOOK: Final = (
    "Look at the bottle before you look at the panel: what was really added, when, and from which "
    "stock? If it was bad, set it aside."
)
NEVER_FOUND: Final = "at a level that most people find; few of these have ever named it"
STRONG: Final = "Look at the bottle: what was really added, and from which stock?"
CARRIED: Final = "Look at the jug, the glasses and the order: was something carried over?"


@dataclass(frozen=True)
class Suspicion:
    """What speaks against a jug.

    Attributes:
        kind: "not_dosed", "half", "twice" (as strong as twice stated) or "blank" (something in it).
        odds: What its answers alone say for that against "as stated", to one.
        compound: Of a blank: the compound that explains the calls best; "" for none.
        is_usually_found: Whether half of its tasters or more had named it right before.
    """

    kind: str
    odds: float
    compound: str = ""
    is_usually_found: bool = True


# Ways in which a preparation goes wrong, the most serious first. Half and twice can hardly be seen in
# one sample: their limits are those for several together, so that few good jugs are called bad.
_SLIPS: Final = (
    ("not_dosed", "log_not_dosed", NOT_DOSED_ABOVE),
    ("half", "log_half_dosed", HALF_STOCK_ABOVE),
    ("twice", "log_twice_dosed", TWICE_STOCK_ABOVE),
)


def suspicions(
    evidence: Evidence, kin: Iterable[Sequence[str]], book: Rulebook
) -> dict[str, Suspicion]:
    """Look at samples by themselves and together with those of the same jug.

    Args:
        evidence: Every answer up to the day they were poured.
        kin: Groups of sample ids that may have come from one jug or stock; spiked and blank ones
            in groups of their own.
        book: The rulebook whose numbers the model takes.

    Returns:
        By sample id; samples above suspicion are absent.
    """
    groups = [group for group in kin if group]
    ids = [sample for group in groups for sample in group]
    of_group = np.repeat(np.arange(len(groups)), [len(group) for group in groups])
    number = {sample: place for place, sample in enumerate(ids)}
    settings = model_settings(book)
    spiked = _numbers(evidence.sample, number)
    found: dict[str, Suspicion] = {}
    if (spiked >= 0).any():
        check = check_samples(*arrays(evidence), spiked, evidence.shape, settings)
        found |= {
            sample: replace(one, is_usually_found=_is_usually_found(evidence, sample))
            for sample, one in _of_spiked(check, of_group, ids).items()
        }
    poured = _poured_blanks(evidence, number)
    if (poured.sample >= 0).any():
        blanks = check_blanks(*arrays(evidence), poured, evidence.shape, settings)
        found |= _of_blanks(blanks, ids, evidence.compounds)
    return found


def suspicion_words(
    suspicion: Suspicion, answers: int, right: int, labels: Mapping[str, str]
) -> str:
    """Why to look at the bottle first, and how far the answers alone speak for it.

    Args:
        suspicion: What speaks against the jug.
        answers: Answers to it that count.
        right: Of these, right; for a blank: nothing noticed.
        labels: Label by compound.
    """
    told = {"not_dosed": "nothing was added", "half": "only half was added",
            "twice": "twice as much was added", "blank": "something was in it"}  # fmt: skip
    odds = f"By the answers alone {_odds(suspicion.odds)} to 1 that {told[suspicion.kind]}."
    if suspicion.kind == "blank":
        named = labels.get(suspicion.compound, "")
        best = f"; {in_sentence(short_label(named))} would explain it best" if named else ""
        called = (
            f"{_who(answers - right, answers)} called something, though nothing was added{best}."
        )
        return f"{called} {CARRIED} {odds}"
    if suspicion.kind == "twice":
        return f"{_who(right, answers)} found it, more than usual at this level. {STRONG} {odds}"
    usual = "and most usually find it" if suspicion.is_usually_found else NEVER_FOUND
    return f"{_who(answers - right, answers)} missed it, {usual}. {LOOK} {odds}"


def _who(number: int, answers: int) -> str:
    if number == answers:
        return "Everybody"
    return f"{sentence_start(number_word(number))} of {answers}"


def _odds(odds: float) -> str:
    if odds > MOST_ODDS - 0.5:
        return f"over {MOST_ODDS:,}"
    return f"{odds:.0f}" if odds >= 9.95 else f"{odds:.1f}"


def _of_spiked(
    check: SampleCheck, of_group: NDArray[np.intp], ids: Sequence[str]
) -> dict[str, Suspicion]:
    """The most serious slip that a sample shows alone, or with its kin if it leans that way too."""
    stock = of_group[check.sample]
    sums = add_by_stock(check, stock)
    place = np.searchsorted(sums.stock, stock)
    found: dict[str, Suspicion] = {}
    for kind, factor, limits in _SLIPS:
        own, total = getattr(check, factor), getattr(sums, factor)[place]
        is_suspect = own > limit_for(check.tasters, limits)
        is_suspect |= (own > 0) & (total > limit_for(sums.tasters[place], limits))
        for at in np.flatnonzero(is_suspect).tolist():
            odds = exp(min(max(own[at], total[at]), np.log(MOST_ODDS)))
            found.setdefault(ids[int(check.sample[at])], Suspicion(kind, odds))
    return found


def _of_blanks(
    check: BlankCheck, ids: Sequence[str], compounds: Sequence[str]
) -> dict[str, Suspicion]:
    found = {}
    for at in np.flatnonzero(check.log_something > limit_for(check.tasters, BLANK_ABOVE)).tolist():
        is_listed = check.log_spiked[at] > check.log_tainted[at]
        compound = compounds[int(check.compound[at])] if is_listed else ""
        odds = exp(min(check.log_something[at], np.log(MOST_ODDS)))
        found[ids[int(check.sample[at])]] = Suspicion("blank", odds, compound)
    return found


def _is_usually_found(evidence: Evidence, sample: str) -> bool:
    """Whether half of a sample's tasters or more had named its compound right on earlier days."""
    poured = np.flatnonzero(evidence.sample == sample)
    tasters, compound = np.unique(evidence.person[poured]), evidence.compound[poured[0]]
    before = (
        (evidence.compound == compound)
        & (evidence.day < evidence.day[poured[0]])
        & (evidence.method == NAMING)
        & (evidence.outcome == RIGHT)
    )
    return 2 * np.isin(tasters, evidence.person[before]).sum() >= tasters.size


def _numbers(samples: NDArray[np.str_], number: dict[str, int]) -> NDArray[np.int64]:
    return np.array([number.get(str(sample), -1) for sample in samples], dtype=np.int64)


def _poured_blanks(evidence: Evidence, number: dict[str, int]) -> PouredBlanks:
    place = {compound: k for k, compound in enumerate(evidence.compounds)}
    named = np.array(
        [place.get(str(compound), UNNAMED) for compound in evidence.blank_named], dtype=np.int64
    )
    return PouredBlanks(
        day=evidence.blank_day,
        person=evidence.blank_person,
        family=evidence.blank_family,
        sample=_numbers(evidence.blank_sample, number),
        said=np.where(evidence.blank_called, named, NOTHING),
    )
