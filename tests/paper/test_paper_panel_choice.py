"""A panel on paper."""

from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal

import pytest
from printed_text import overprinted, pages_of, size_of, texts_of

from seatworthy.paper import kept_panel_pdf, panel_choice_pdf
from seatworthy.steps.miss_sentences import rows_of, told_of
from seatworthy.steps.miss_views import (
    Chance,
    ItemFigures,
    KeptPanel,
    MissView,
    PanelFigures,
    SitterLine,
)
from seatworthy.steps.views import Choice

LABELS = {"t2n": "trans-2-nonenal (papery)", "dms": "Dimethyl sulfide (DMS)", "van": "Vanillin"}
NAMES = {"p1": "Ada", "p2": "Łukasz", "p3": "Søren"}
LEVELS = (1.0, 2.0, 3.0, 5.0)
MOMENT = datetime(2026, 11, 26, 9, 30)


def slips(*means):
    return tuple(Chance(m, m / 2, min(1.0, m * 1.3)) for m in means)


def figures(**changed):
    items = (
        ItemFigures(
            ("t2n",), True, "t2n", slips(0.91, 0.74, 0.58, 0.33), "p1", 0.97, 1, (), ("p3",)
        ),
        ItemFigures(("dms",), True, "dms", (), None, None, 0, (), ("p1", "p2", "p3")),
        ItemFigures(("van",), False, "van", slips(0.2, 0.1, 0.05, 0.001), "p2", 0.1, 2, (), ()),
    )
    base = PanelFigures(
        ("p1", "p2", "p3"), 2, Decimal("0.20"), 3.0, LEVELS, items,
        Chance(0.05, 0.02, 0.09), Chance(0.11, 0.05, 0.2),
    )  # fmt: skip
    return replace(base, **changed)


def view(people=3):
    found = figures()
    lines = tuple(
        SitterLine(f"p{n}", f"Taster Number {n}", f"T{n}", True, True, ("due by 14 Dec",), True)
        for n in range(1, people + 1)
    )
    return MissView(
        as_of=date(2026, 11, 26),
        family=Choice("pale_lager", "Pale lagers"),
        families=(),
        batch=None,
        batches=(),
        figures=found,
        told=told_of(found, LABELS, NAMES),
        rows=rows_of(found, LABELS, NAMES),
        people=lines,
        not_seated=0,
        most_callers=3,
        rule_sentences=("3 people can sit, 4 are asked for.",),
        is_met=False,
        proposals=(),
        size=3,
        menders=(),
        clean="Of 100 clean tanks two or more would name the same fault in 5 (2 to 9).",
        warnings=("No seat is signed yet.",),
        first_names=NAMES,
    )


def kept():
    seen = view()
    return KeptPanel(
        "abc", seen.as_of, "Pale lagers", "Tank 12", tuple(NAMES.values()), seen.figures, seen.told,
        seen.rows, seen.clean, ("Quorum, independence and cover were met.",), "Lee", MOMENT, "ab" * 32,
    )  # fmt: skip


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_the_sentence_the_people_and_the_numbers_are_there(size):
    text = "\n".join(texts_of(panel_choice_pdf(view(), MOMENT, size)))
    flat = " ".join(text.split())
    assert "has had a glass of DMS" in flat
    assert "Taster Number 3" in text
    assert "due by 14 Dec" in text
    assert "58" in text.splitlines()
    assert "29 to 75" in text.splitlines()
    assert "Of 100 clean tanks two or more" in flat
    assert "No seat is signed yet." in text
    assert "never releases beer" in flat


def test_it_stands_on_a4():
    wide, high = size_of(panel_choice_pdf(view(), MOMENT, "A4"))[0]
    assert (round(wide), round(high)) == (210, 297)


def test_what_is_not_critical_is_left_out():
    assert "Vanillin" not in "\n".join(texts_of(panel_choice_pdf(view(), MOMENT, "A4")))


def test_an_ordinary_panel_fits_one_page():
    assert len(pages_of(panel_choice_pdf(view(6), MOMENT, "A4"))) == 1


@pytest.mark.parametrize("people", [1, 6, 40])
def test_nothing_is_printed_over_anything(people):
    for pieces in pages_of(panel_choice_pdf(view(people), MOMENT, "A4")):
        assert overprinted(pieces) == []


def test_a_kept_panel_says_when_by_whom_and_its_digest():
    text = " ".join("\n".join(texts_of(kept_panel_pdf(kept(), "A4"))).split())
    assert "Kept by Lee at 09:30 on Thursday 26 November 2026." in text
    assert "abab abab" in text
    assert "Łukasz" in text


def test_the_same_panel_is_the_same_paper():
    assert panel_choice_pdf(view(), MOMENT, "A4") == panel_choice_pdf(view(), MOMENT, "A4")


@pytest.mark.parametrize("people", range(5, 16))
def test_no_page_holds_a_line_of_the_sign_off_alone(people):
    last = " ".join(
        piece.text for piece in pages_of(panel_choice_pdf(view(people), MOMENT, "A4"))[-1]
    )
    assert "Sign-off" in last
    assert "printing keeps nothing" in last
