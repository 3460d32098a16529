"""Hostile rulebooks, a seeded few of tests/bench/fuzz_all.py, and what it found there."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from seatworthy.errors import RulebookRefused
from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.rulebooks import supposed_rulebook

BENCH = Path(__file__).resolve().parents[1] / "bench"


@pytest.fixture(scope="module")
def rulebooks(tmp_path_factory):
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(BENCH)
        import fuzz_rulebooks

        yield fuzz_rulebooks.Rulebooks(tmp_path_factory.mktemp("rulebooks"))


@settings(
    derandomize=True, deadline=None, max_examples=300, suppress_health_check=list(HealthCheck)
)
@given(draw=st.randoms(use_true_random=False))
def test_no_hostile_rulebook_is_taken(rulebooks, draw):
    rulebooks.attempt(draw)


def test_half_a_letter_is_refused_with_its_line():
    text = rulebook_text("default")
    line = text.count("\n") + 1
    with pytest.raises(RulebookRefused, match=f"line {line}: this line holds half a letter"):
        supposed_rulebook(f"{text}# \ud800\n")


def test_a_section_that_is_missing_is_asked_for():
    text = rulebook_text("default").replace("[seat]", "[seats]")
    with pytest.raises(RulebookRefused, match=r"\[seat\] is missing; write it"):
        supposed_rulebook(text)
