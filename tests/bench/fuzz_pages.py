"""Hostile addresses of the leader's pages; a sample, since a page takes long."""

from pathlib import Path
from random import Random
from typing import Final

import fuzz_hostile as hostile
from fuzz_brewery import Brewery, copied
from fuzz_clear import fail, vague
from streamlit.testing.v1 import AppTest

from seatworthy.pages import source

_PAGES: Final = ("record", "board", "session", "answers", "plan", "feedback", "reveal", "sure", "miss",
                 "pour_next", "decision", "word", "seats", "prepare", "jugs", "shelf", "people",
                 "bench", "months", "rulebook", "sessions")  # fmt: skip
_WORDS: Final = ("who", "family", "on", "read", "session", "sheet", "batch", "kind", "again", "call",
                 "sample", "panel", "proposal", "decision", "part", "sits", "compound", "first")  # fmt: skip

# A page of its own, with what the page script does around it.
_SCRIPT: Final = """
import streamlit as st
from seatworthy.errors import PanelError
from seatworthy.pages import {page}
try:
    {page}.show()
except PanelError as refused:
    st.error(str(refused))
"""


class Pages:
    """The field of addresses.

    Args:
        folder: Where a brewery may be kept.
    """

    name, share = "address of a page", 0.02

    def __init__(self, folder: Path) -> None:
        self.brewery: Brewery = copied(folder, "pages")
        self._before = source._the_desk
        source._the_desk = lambda path: self.brewery.desk  # every page reads this one

    def close(self) -> None:
        """Let the brewery go."""
        source._the_desk = self._before
        self.brewery.desk.close()

    def attempt(self, draw: Random) -> bool:
        """Open one page under a hostile address; whether it showed more than a refusal."""
        page, version = draw.choice(_PAGES), self.brewery.desk.version
        test = AppTest.from_string(_SCRIPT.format(page=page), default_timeout=60)
        for word in draw.sample(_WORDS, draw.randint(1, 5)):
            test.query_params[word] = self._value(draw)
        test.run()
        if test.exception:
            fail(f"{page}: {[one.value for one in test.exception]}")
        if self.brewery.desk.version != version:
            fail(f"looking at {page} stored something")
        for told in test.error:
            if wrong := vague(told.value):
                fail(f"{page}: {wrong}")
        return not test.error

    def _value(self, draw: Random) -> str:
        known = (
            *self.brewery.people.values(),
            *self.brewery.sessions.values(),
            "pale_lager",
            "dms",
        )
        found = draw.choice((hostile.text(draw), hostile.text(draw), draw.choice(known)))
        return found.encode("utf-8", "replace").decode()  # as a browser sends it
