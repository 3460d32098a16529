"""Hostile questions to the weighing: people, beers and compounds that aren't there, twice or none."""

from math import isclose
from pathlib import Path
from random import Random

import fuzz_hostile as hostile
from fuzz_brewery import Brewery, copied
from fuzz_clear import check_clear, fail

from seatworthy.errors import PanelError
from seatworthy.steps.tasted import Tasted
from seatworthy.steps.weigh import weigh_call
from seatworthy.steps.weigh_views import Question, WeighedView


class Calls:
    """The field of weighed calls.

    Args:
        folder: Where a brewery may be kept.
    """

    name, share = "weighed call", 0.4

    def __init__(self, folder: Path) -> None:
        self.brewery: Brewery = copied(folder, "calls")

    def close(self) -> None:
        """Let the brewery go."""
        self.brewery.desk.close()

    def attempt(self, draw: Random) -> bool:
        """Ask once; whether an answer came."""
        desk, version = self.brewery.desk, self.brewery.desk.version
        people = list(self.brewery.people.items())
        twice = draw.randint(1, 2) if draw.random() < 0.2 else 0
        words = [self._word(draw, *draw.choice(people)) for _ in range(twice)]
        words += [self._word(draw, *one) for one in draw.sample(people, draw.randint(0, 5))]
        if draw.random() < 0.1:
            words.append(Tasted(hostile.text(draw), "Somebody Else", "nothing"))
        family = draw.choice(("pale_lager", "pale_lager", "pale_lager", "", "no such"))
        question = Question(family, hostile.text(draw)[:40], tuple(words), draw.random() < 0.7)
        try:
            judge(weigh_call(desk, question, in_words=draw.random() < 0.5))
        except PanelError as refused:
            check_clear(refused)
            return False
        finally:
            if desk.version != version:
                fail("weighing stored something")
        people_asked = [word.person_id for word in words]
        if not words or len(set(people_asked)) < len(words) or family != "pale_lager":
            fail(f"weighed {question}")
        return True

    def _word(self, draw: Random, name: str, person_id: str) -> Tasted:
        kind = draw.choice(("named", "named", "nothing", "something"))
        key = draw.choice(
            (
                "diacetyl",
                "dms",
                "t2n",
                "geosmin",
                "diacetyl",
                "dms",
                "diacetyl",
                "dms",
                "",
                "no such",
            )
        )
        return Tasted(person_id, name, kind, key if kind == "named" else None)


def judge(view: WeighedView) -> None:
    """Raise where chances are none, or don't add up."""
    chances = [chance for _, chance in view.chances]
    if view.refusal:
        if chances:
            fail("refused, with chances")
        return
    if not all(0 <= chance <= 1 for chance in chances) or not isclose(
        sum(chances), 1, abs_tol=1e-6
    ):
        fail(f"chances {chances}")
    for line in view.possibilities:
        low, high = line.limits
        if not (0 <= low <= high <= 1 and 0 <= line.chance <= 1):
            fail(f"{line}")
    for sentence in (view.answer, view.catch, view.lead, *view.assumptions):
        if "nan" in sentence.split() or "None" in sentence.split():
            fail(sentence)
