from datetime import date
from importlib.resources import files

import pytest

from seatworthy.errors import RulebookRefused
from seatworthy.rules.reading import read_rulebook, rulebook_on_menu

TEXT = (files("seatworthy.rules") / "menu/default.toml").read_text(encoding="utf-8")


def test_the_default_rulebook_says_the_numbers_it_was_simulated_with():
    book = rulebook_on_menu("default")
    assert (book.compound.met_when_sure, book.compound.not_met_when_below) == (0.85, 0.05)
    assert (book.false_calls.blanks, book.false_calls.sure) == (10, 0.75)
    assert (book.seat.critical_met, book.seat.critical_not_met) == (4, 1)
    assert book.critical[-1] == ("acetic_acid", "lactic_acid")
    assert book.counts_from == date(2025, 1, 1)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("months = 12                  # of", "month = 12  # of", "month is not a word"),
        ("met_when_sure = 0.85", "met_when_sure = 85", "must lie between 0.5 and 0.999"),
        ("glasses = 4 ", 'glasses = "four" ', "must be a whole number"),
        ("days = 2 ", "days = 2.5 ", "must be a whole number"),
        ("quorum = 4", "quorum = true", "must be a whole number"),
        ("[panel] ", "[pannel] ", "the section .panel. is missing"),
        ("days = 2 ", "days = 5 ", "every glass would need more than one day"),
        ("highest_level = 4.0", "highest_level = 1.0", "no glass can count"),
        ("critical_met = 4", "critical_met = 9", "9 critical compounds are asked for"),
        ("met_ends_below = 0.50", "met_ends_below = 0.90", "would end on the day it is met"),
        ("quorum = 4", "quorum = 1", "could not cover one compound"),
        ('"h2s",', "7,", "neither a compound nor a group"),
        ("version = 1", 'version = "1"', "version must be a whole number"),
        ("[seat]", "[seat", "not readable as TOML"),
    ],
)
def test_a_fault_is_named_with_what_was_found(old, new, said):
    assert old in TEXT
    with pytest.raises(RulebookRefused, match=said):
        read_rulebook("own.toml", TEXT.replace(old, new, 1))


def test_all_faults_come_at_once_each_with_its_line():
    text = TEXT.replace("ceiling = 0.20", "ceiling = 7").replace("share = 0.50", "share = -1")
    with pytest.raises(RulebookRefused, match="own.toml cannot be used") as refused:
        read_rulebook("own.toml", text)
    lines = text.splitlines()
    found = [lines[fault.line - 1].split(" ")[0] for fault in refused.value.faults]
    assert found == ["ceiling", "share"]
