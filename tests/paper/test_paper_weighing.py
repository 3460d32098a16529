"""The paper of a weighed call, read back."""

from dataclasses import replace
from datetime import datetime
from types import SimpleNamespace

import pytest
from printed_text import pages_of

from seatworthy.paper import weighing_pdf
from seatworthy.steps.tasted import Tasted
from seatworthy.steps.weigh_papers import WeighingPaper
from seatworthy.steps.weigh_sentences import assumptions_of
from seatworthy.steps.weigh_views import (
    OutcomeLine,
    Possibility,
    Question,
    RungLine,
    StepLine,
    WeighedView,
)

STEP = StepLine(
    "retaste",
    "Pour tank 12 again among one blank and one glass with DMS, new codes, blind, for Bo and Ada.",
    (
        OutcomeLine("If both say DMS", 0.96, "hold it", 0.4),
        OutcomeLine("If one does", 0.6, "hold it, pour a third time", 0.35),
        OutcomeLine("If none does", 0.004, "no sign of DMS", 0.25),
    ),
    0.41,
    "expected to tell 0.41 bits",
    ("p1", "p3"),
)
VIEW = WeighedView(
    question=Question("pale", "Tank 12", (Tasted("p1", "Bo", "named", "dms"),)),
    family_label="Pale lagers",
    where=("Tank 12", "Pale lagers", "5 tasters, answers sealed before any talk"),
    answer="DMS in tank 12: about two chances in three",
    catch="pour it again, blind, before you decide.",
    lead="Bo and Łukasz said DMS. Dilek doesn't smell DMS, so silence there means nothing.",
    refusal="",
    about="DMS",
    possibilities=(
        Possibility("DMS is there", 0.65, (0.48, 0.79), True),
        Possibility("Another compound they take for DMS", 0.004, (0.0, 0.02), False),
        Possibility("Nothing wrong: false calls", 0.346, (0.14, 0.41), False),
    ),
    rungs=(
        RungLine("Before anyone tasted", ("1 in 8 has some,", "stated here"), 0.12, "start"),
        RungLine("Bo said DMS", ("finds it 8 of 8,", "1 false call in 70"), 0.55, "called"),
        RungLine("Carmen said papery", ("finds it 9 of 9,", "0 false calls in 60"), 0.75, "other"),
        RungLine("Ada said nothing", ("finds it 9 of 9,", "0 false calls in 60"), 0.65, "silent"),
        RungLine(
            "Dilek said nothing", ("doesn't smell it,", "doesn't count here"), 0.65, "nowhere"
        ),
    ),
    step=STEP,
    others=(),
    if_talked="If they had talked first, it would be at most 40%.",
    assumptions=("One fault a beer.", "It supports a decision; it never releases beer."),
    chances=(("nothing", 0.346), ("dms", 0.65), ("unlisted", 0.004)),
    in_words=False,
)


def printed(view, size="A4"):
    paper = WeighingPaper(view, "Millrace Brewery", datetime(2026, 5, 4, 10, 40), "entry 12")
    return weighing_pdf(paper, size)


def text_of(pdf):
    return " ".join(piece.text for page in pages_of(pdf) for piece in page)


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_everything_of_a_weighing_stands_on_one_page(size):
    pdf = printed(VIEW, size)
    assert len(pages_of(pdf)) == 1
    text = text_of(pdf)
    for words in ("two chances in three", "65%", "<1%", "(48 to 79)", "Dilek said nothing", "doesn't count here",
                  "If none does", "no sign of DMS", "at most 40%", "never releases beer", "Decided by"):  # fmt: skip
        assert words in text


def test_nothing_leaves_the_page():
    long = "Wilhelmina Featherstonehaugh-Cholmondeley said a great deal about it " * 3
    crowd = tuple(replace(VIEW.rungs[1], head=long) for _ in range(30))
    for page in pages_of(printed(replace(VIEW, rungs=crowd, lead=long))):
        for piece in page:
            assert piece.left > 14
            assert piece.right < 196
            assert piece.bottom < 297


def test_a_refusal_prints_its_sentence_and_no_number():
    refused = replace(
        VIEW, answer="Nobody was tested on catty, so no chance is given", catch="hold it",
        refusal="no", possibilities=(), rungs=(), step=None, assumptions=(), if_talked="",
    )  # fmt: skip
    text = text_of(printed(refused))
    assert "no chance is given; hold it." in text
    assert "%" not in text


def test_the_same_weighing_gives_the_same_bytes():
    assert printed(VIEW) == printed(VIEW)


def test_an_ordinary_weighing_with_all_its_small_print_is_signed_on_its_own_page():
    crowd = (*VIEW.rungs, VIEW.rungs[3])  # five tasters
    known = SimpleNamespace(beers=24, line=lambda what: SimpleNamespace(words="1 in 60"))
    small = replace(VIEW, rungs=crowd, assumptions=assumptions_of(known))
    assert len(pages_of(printed(small))) == 1


def test_a_range_whose_ends_read_alike_is_said_once():
    sure = replace(VIEW, possibilities=(Possibility("DMS is there", 0.004, (0.0, 0.003), True),))
    text = text_of(printed(sure))
    assert "(<1)" in text
    assert "<1 to <1" not in text
