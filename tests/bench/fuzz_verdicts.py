"""A part of the rulebooks that were accepted, asked for verdicts on one brewery's answers."""

from pathlib import Path
from random import Random
from typing import Final

import fuzz_toml
from fuzz_brewery import Brewery, copied
from fuzz_clear import check_clear, fail

from seatworthy.errors import PanelError
from seatworthy.rules.texts import rulebook_text
from seatworthy.rules.verdict import Standing, Verdict
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.rulebooks import supposed_rulebook

_TEXTS: Final = ("default", "strict", "micro", "plain")


class Verdicts:
    """The field of rulebooks that judge.

    Args:
        folder: Where a brewery may be kept.
    """

    name, share = "rulebook that judges", 0.1

    def __init__(self, folder: Path) -> None:
        self.brewery: Brewery = copied(folder, "verdicts")

    def close(self) -> None:
        """Let the brewery go."""
        self.brewery.desk.close()

    def attempt(self, draw: Random) -> bool:
        """Judge the brewery by one text; whether it was accepted."""
        text = fuzz_toml.mutated(draw, rulebook_text(draw.choice(_TEXTS))).decode(
            "utf-8", "replace"
        )
        desk, version = self.brewery.desk, self.brewery.desk.version
        try:
            book = supposed_rulebook(text)
        except PanelError as refused:
            check_clear(refused)
            return False
        first = judge_day(desk, supposed_book=book)
        _judge(first)
        desk.judged.clear()
        again = judge_day(desk, supposed_book=supposed_rulebook(text))
        if again.cells != first.cells or again.seats != first.seats:
            fail("judged twice, it says two things")
        if desk.version != version:
            fail("judging stored something")
        return True


def _judge(judged: Judged) -> None:
    """Raise where somebody has no verdict, or one without a sentence."""
    if not judged.seats or {person for person, _ in judged.seats} != set(judged.people):
        fail("somebody has no verdict on a seat")
    found = [one.verdict for one in (*judged.cells.values(), *judged.seats.values())]
    found += [one.verdict for answers in judged.also.values() for one in answers]
    for verdict in found:
        _check(verdict)


def _check(verdict: Verdict) -> None:
    words = verdict.full.replace("(", " ").split()
    if verdict.standing not in Standing or len(verdict.sentence) < 10:
        fail(f"{verdict.standing}: {verdict.sentence!r}")
    if {"nan", "inf", "None", "nan%"} & set(words):
        fail(f"says {verdict.full!r}")
