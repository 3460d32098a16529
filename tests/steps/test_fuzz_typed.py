"""Hostile ballots, answers and figures, a seeded few of tests/bench/fuzz_all.py, and what it found."""

from pathlib import Path
from random import Random

import pytest

from seatworthy.errors import PanelError
from seatworthy.steps.words import map_words

BENCH = Path(__file__).resolve().parents[1] / "bench"


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Where the one brewery of these tests is made, and the modules that are hostile to it."""
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(BENCH)
        yield tmp_path_factory.mktemp("brewery")


def _closed_after(place):
    yield place
    place.close()


@pytest.fixture(scope="module")
def ballots(folder):
    from fuzz_ballots import Ballots

    yield from _closed_after(Ballots(folder))


@pytest.fixture(scope="module")
def sheets(folder):
    from fuzz_sheets import Sheets

    yield from _closed_after(Sheets(folder))


@pytest.fixture(scope="module")
def bench_forms(folder):
    from fuzz_benches import BenchForms

    yield from _closed_after(BenchForms(folder))


@pytest.mark.parametrize("kind", ["ballots", "sheets", "bench_forms"])
def test_nothing_hostile_that_is_typed_is_kept(request, kind):
    """Numbered rather than drawn by hypothesis: what was kept before decides what may come next."""
    place = request.getfixturevalue(kind)
    for number in range(40):
        place.attempt(Random(f"suite:{number}"))


def test_words_are_kept_in_one_line(desk):
    map_words(desk, "wet \r\n\t paper", "dms")
    kept = [row["words"] for row in desk.store.rows("shelf_words")]
    assert "wet paper" in kept
    assert all(words.isprintable() for words in kept)


def test_a_refusal_shows_hidden_characters_of_words(desk):
    with pytest.raises(PanelError, match="^“a\\\\u200bb” holds a hidden character"):
        map_words(desk, "a\u200bb", "dms")
