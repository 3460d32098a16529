"""The rule by which a refusal is clear: what passes it, and what must not."""

from pathlib import Path

import pytest

from seatworthy.errors import Fault, FileRefused, PanelError, PlanRefused

BENCH = Path(__file__).resolve().parent / "bench"


@pytest.fixture(scope="module")
def unclear():
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(BENCH)
        import fuzz_clear

        yield fuzz_clear.unclear


@pytest.mark.parametrize(
    "sentence",
    [
        "level must be a number, got “x”.",
        "is no day of the calendar: “31/02/2026”; correct it, like 2026-03-05.",
        "the workbook has no sheet called “x”: choose one of “results”.",
    ],
)
def test_a_sentence_that_says_where_what_and_how_to_mend_it_is_clear(unclear, sentence):
    assert unclear(FileRefused("monday.csv", [Fault(3, sentence)])) == ""


@pytest.mark.parametrize(
    "sentence",
    [
        "Invalid value.", "Something went wrong.", "invalid literal for int() with base 10: 'one'",
        "The level is wrong: 3.", "date is no day: “31/02/2026”.", "Oops", "must be right.",
        "level must be a number, got “\x07”.", "The file could not be processed, sorry.",
    ],
)  # fmt: skip
def test_a_vague_sentence_is_not(unclear, sentence):
    assert unclear(FileRefused("monday.csv", [Fault(3, sentence)]))
    assert unclear(PlanRefused([sentence]))
    assert unclear(PanelError(sentence))


def test_a_fault_without_a_line_speaks_of_the_file(unclear):
    assert unclear(FileRefused("a.csv", [Fault(None, "it must be otherwise, got “3”.")]))
    assert not unclear(FileRefused("a.csv", [Fault(None, "the file is empty; expected a header.")]))


def test_a_refusal_without_a_fault_is_not_clear(unclear):
    assert unclear(FileRefused("a.csv", []))
    assert unclear(PlanRefused([]))
