"""Which compounds slipped lately for everybody at once, and whether a new lot began just then."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.slipping import FEWEST_GLASSES, Shortfall, shortfall
from seatworthy.evidence import OPEN, RIGHT, Evidence, day_number
from seatworthy.stats.ability.foretold import foretell
from seatworthy.stats.ability.glasses import NAMING
from seatworthy.steps.estimating import arrays, model_settings
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import short_label
from seatworthy.steps.seen import Seen
from seatworthy.steps.sentences import day_in_sentence, number_word, sentence_start

TOGETHER: Final = "together"
ONE_DAY: Final = "one_day"
ONE: Final = "one"
_LOOK_AT_ONE: Final = (
    "Without one taster it would not be so: look at the records before you look at the stock."
)

Chosen = NDArray[np.bool_]


@dataclass(frozen=True)
class Foretold:
    """The counted glasses of the evidence beside what was foretold of them.

    Attributes:
        evidence: All answers.
        is_counted: Which glasses count; shape (A,).
        is_right: Which were named right; shape (A,).
        chance: What was foretold; nan where nothing was, and where it would be a guess from no glass
            before; shape (A,).
    """

    evidence: Evidence
    is_counted: Chosen
    is_right: Chosen
    chance: NDArray[np.float64]

    def shortfall(self, chosen: Chosen) -> Shortfall:
        """Of the counted ones among some glasses."""
        at = chosen & self.is_counted
        _, sample = np.unique(self.evidence.sample[at], return_inverse=True)
        return shortfall(self.evidence.person[at], sample, self.is_right[at], self.chance[at])

    def counts(self, chosen: Chosen) -> tuple[int, int]:
        """Right and counted among some glasses."""
        at = chosen & self.is_counted
        return int(self.is_right[at].sum()), int(at.sum())

    def had_before(self, day: int) -> Chosen:
        """Glasses of compounds of which the panel had some before a day; of others nothing is usual."""
        own = self.evidence.compound
        before = np.bincount(
            own[self.is_counted & (self.evidence.day < day)], minlength=len(self.evidence.compounds)
        )
        return before[own] >= FEWEST_GLASSES

    def usual(self, chosen: Chosen) -> float | None:
        """Mean of what was foretold of the counted ones; None where nothing was."""
        found = self.chance[chosen & self.is_counted & ~np.isnan(self.chance)]
        return float(found.mean()) if found.size else None


def foretold(judged: Judged, since: date) -> Foretold:
    """Lay what was foretold beside every glass from a day on.

    Args:
        judged: The day judged; its rulebook says which glasses count.
        since: First day that is foretold.
    """
    evidence, counting = judged.evidence, judged.rulebook.counted
    level = np.round(np.nan_to_num(evidence.level), 6)
    is_counted = (evidence.method == NAMING) & (evidence.outcome != OPEN)
    is_counted &= (level >= counting.lowest_level) & (level <= counting.highest_level)
    settings = model_settings(judged.rulebook)
    chance = foretell(*arrays(evidence), evidence.shape, day_number(since), settings)
    chance[evidence.day <= _first_days(evidence, is_counted)[evidence.compound]] = np.nan
    return Foretold(evidence, is_counted, evidence.outcome == RIGHT, chance)


def _first_days(evidence: Evidence, is_counted: Chosen) -> NDArray[np.int64]:
    """Day by which the panel has had a few glasses of each compound; until then nothing is usual."""
    found = np.full(len(evidence.compounds), np.iinfo(np.int64).max)
    for place in range(len(found)):
        days = np.sort(evidence.day[is_counted & (evidence.compound == place)])
        if days.size >= FEWEST_GLASSES:
            found[place] = days[FEWEST_GLASSES - 1]
    return found


class Slips:
    """What slipped since a day.

    Args:
        seen: The record.
        judged: The day judged.
        glasses: The glasses beside what was foretold.
        since: First day of "lately".
    """

    def __init__(self, seen: Seen, judged: Judged, glasses: Foretold, since: date) -> None:
        self._judged, self._glasses, self._since = judged, glasses, since
        self._lots: dict[str, list[Mapping[str, Any]]] = defaultdict(list)
        for row in seen.rows("sample_lots", until_on=seen.as_of):
            self._lots[row["compound"]].append(row)
        self._recent = glasses.evidence.day >= day_number(since)
        self._compared = self._recent & glasses.had_before(day_number(since))

    def panel(self) -> Shortfall:
        """All compounds together that were poured before too."""
        return self._glasses.shortfall(self._compared)

    def of(self, place: int) -> Shortfall:
        """One compound, by its place on the axis; no glass of it where it was hardly poured before."""
        return self._glasses.shortfall(self._compared & (self._glasses.evidence.compound == place))

    def poured(self, place: int) -> int:
        """Counted glasses of one compound lately, whether anything was poured before or not."""
        return self._glasses.counts(self._recent & (self._glasses.evidence.compound == place))[1]

    def words(self, place: int, found: Shortfall) -> tuple[str, str]:
        """What is found of a compound, and in a sentence or two; two times "" for nothing."""
        if not (found.is_together or found.rests_on_one):
            return "", ""
        key = self._glasses.evidence.compounds[place]
        label = short_label(self._judged.labels.get(key, key))
        usual = f"{found.foretold:.0f} would be usual"
        told = f"{label}: {found.right} of {found.glasses} named right lately, where {usual}."
        if found.rests_on_one:
            return ONE, f"{told} {_LOOK_AT_ONE}"
        who = sentence_start(number_word(found.tasters))
        together = f"{who} people fell short together, so suspect the stock, not the people."
        if self._days(place) == 1:
            jug = f"{who} people fell short together, all on one day: suspect that jug first."
            return ONE_DAY, f"{told} {jug} {self._about_lots(key, place)}"
        return TOGETHER, f"{told} {together} {self._about_lots(key, place)}"

    def _days(self, place: int) -> int:
        """Days on which counted glasses of a compound were poured lately."""
        evidence = self._glasses.evidence
        at = self._recent & (evidence.compound == place) & self._glasses.is_counted
        return int(np.unique(evidence.day[at]).size)

    def _about_lots(self, key: str, place: int) -> str:
        rows, today = self._lots.get(key, []), self._judged.as_of
        if not rows:
            return "From which stock it came is not on record."
        begun: dict[str, date] = {}
        for row in rows:
            begun.setdefault(row["stock_id"], row["session_on"])
        newest = max(begun, key=lambda stock: begun[stock])
        lot = next(row["lot"] for row in rows if row["stock_id"] == newest)
        day = day_in_sentence(begun[newest], today)
        if begun[newest] < self._since:
            return f"It is the same lot as before, {lot}, in use since {day}: has it aged?"
        own = [row["sample_id"] for row in rows if row["stock_id"] == newest]
        return f"Lot {lot} came into use on {day}: {self._since_lot(place, own)}."

    def _since_lot(self, place: int, samples: Sequence[str]) -> str:
        evidence = self._glasses.evidence
        compound = self._recent & (evidence.compound == place)
        is_new = np.isin(evidence.sample, samples)
        right, glasses = self._glasses.counts(compound & is_new)
        before, of = self._glasses.counts(compound & ~is_new)
        words = f"{right} of {glasses} right from it"
        return f"{words}, {before} of {of} from others" if of else words
