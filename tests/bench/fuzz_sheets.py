"""Hostile lines of answer sheets: codes and answers typed from paper, and corrections."""

from dataclasses import replace
from pathlib import Path
from random import Random
from typing import Final

import fuzz_hostile as hostile
from fuzz_brewery import Brewery, copied
from fuzz_clear import check_clear, fail, vague

from seatworthy.errors import PanelError
from seatworthy.steps.answers import correct_answer, enter_answer
from seatworthy.steps.session_facts import session_facts
from seatworthy.steps.session_parts import Glass
from seatworthy.steps.sheets import sheet_key

_KINDS: Final = {
    "naming": {"words", "something", "nothing"}, "a_not_a": {"yes", "no"}, "intensity": {"rating"},
    "3afc": {"right", "wrong"},
}  # fmt: skip
_GOOD: Final = {
    "naming": ("diacetyl", "butter", "0", "?", "nothing", "dms", "wet paper"),
    "a_not_a": ("yes", "no", "ja"), "intensity": ("0", "7", "10"), "3afc": (),
}  # fmt: skip


class Sheets:
    """The field of answer sheets.

    Args:
        folder: Where a brewery may be kept.
    """

    name, share = "answer sheet", 1

    def __init__(self, folder: Path) -> None:
        self.brewery: Brewery = copied(folder, "sheets")
        self.glasses: list[tuple[str, Glass]] = []
        for name in ("open", "open", "release", "closed", "early"):
            session_id = self.brewery.sessions[name]
            facts = session_facts(self.brewery.desk, session_id)
            self.glasses += [(session_id, glass) for glass in facts.glasses]

    def close(self) -> None:
        """Let the brewery go."""
        self.brewery.desk.close()

    def attempt(self, draw: Random) -> bool:
        """Type one line, or correct one; whether it was stored."""
        session_id, glass = draw.choice(self.glasses)
        said = self._said(draw, glass)
        before = self._last()
        try:
            if draw.random() < 0.25:
                stored = self._correct(draw, glass, said)
            else:
                stored = self._enter(draw, session_id, glass, said)
        except PanelError as refused:
            check_clear(refused)
            stored = None
        after = self._last()
        if after[0] - before[0] != (stored is not None):
            fail(f"{after[0] - before[0]} answers were stored, told {stored}")
        if stored is not None:
            self._check(after[1:], stored)
        return stored is not None

    def _said(self, draw: Random, glass: Glass) -> str:
        good = glass.codes if glass.parts else _GOOD[glass.method]
        if draw.random() < 0.4:
            return draw.choice(good)
        return draw.choice((hostile.text, hostile.number))(draw)

    def _enter(self, draw: Random, session_id: str, glass: Glass, said: str) -> Glass | None:
        key, code = sheet_key(glass.sitting_id, glass.person_id), glass.codes[0]
        if draw.random() < 0.1:
            key = draw.choice((hostile.text(draw), sheet_key(*draw.choice(
                [(g.sitting_id, g.person_id) for _, g in self.glasses])), ""))  # fmt: skip
        if draw.random() < 0.15:
            code = draw.choice(
                (hostile.text(draw), draw.choice(self.glasses)[1].codes[0], f" {code} ")
            )
        if draw.random() < 0.03:
            session_id = hostile.text(draw).encode("utf-8", "replace").decode()
        found = enter_answer(
            self.brewery.desk, session_id, key, code, said, keep_own_words=draw.random() < 0.3
        )
        if found.outcome not in ("kept", "known", "asks", "refused"):
            fail(f"outcome {found.outcome}")
        if found.outcome in ("asks", "refused") and (wrong := vague(found.sentence)):
            fail(wrong)
        if found.outcome != "kept":
            return None
        meant = [g for s, g in self.glasses if s == session_id and code.strip() in g.codes]
        return next(g for g in meant if sheet_key(g.sitting_id, g.person_id) == key)

    def _correct(self, draw: Random, glass: Glass, said: str) -> Glass | None:
        people = self.brewery.people
        by = draw.choice((people["Ada"], people["Bo"], None))
        reason = draw.choice(("read wrongly", hostile.text(draw)))
        if draw.random() < 0.05:
            glass = replace(glass, serving_id="no such")
        found = correct_answer(
            self.brewery.desk,
            glass.serving_id,
            said,
            reason,
            by,
            keep_own_words=draw.random() < 0.5,
        )
        if not found.strip() or not reason.strip() or by is None:
            fail(f"corrected by {by!r} for {reason!r}: {found}")
        return glass

    def _last(self) -> tuple[object, ...]:
        """How many answers there are, and the last of them."""
        return self.brewery.desk.store.cursor().execute(
            "select (select count(*) from answer), serving_id, kind, words, rating from answer "
            "order by entry_no desc limit 1"
        ).fetchone()  # fmt: skip

    def _check(self, row: tuple[object, ...], glass: Glass) -> None:
        serving, kind, words, rating = row
        if serving != glass.serving_id or kind not in _KINDS[glass.method]:
            fail(f"stored {row} for {glass.serving_id}, {glass.method}")
        seen = str(words or "").replace("\u200d", "").replace("\u200c", "")
        if len(seen) > 120 or not seen.isprintable() or (words is not None) != (kind == "words"):
            fail(f"stored the words {words!r}")
        if rating is not None and not (0 <= rating <= 10 and rating == int(rating)):
            fail(f"rated {rating}")
