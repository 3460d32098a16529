"""The page that somebody takes home."""

from dataclasses import replace
from functools import cache

import pytest
from invented_papers import invented_own_page
from printed_text import pages_of, texts_of

from seatworthy.paper import feedback_pdf


@cache
def text_of(view, size="A4"):
    return " ".join(texts_of(feedback_pdf([view], size))[0].split())


@pytest.mark.parametrize("size", ["A4", "Letter"])
@pytest.mark.parametrize(("glasses", "compounds"), [(4, 3), (6, 4), (6, 6), (8, 6)])
def test_an_ordinary_session_fits_one_page(glasses, compounds, size):
    view = invented_own_page(glasses=glasses, compounds=compounds)
    assert len(pages_of(feedback_pdf([view], size))) == 1


def test_each_person_has_a_page_of_their_own():
    pages = texts_of(feedback_pdf([invented_own_page("Ada"), invented_own_page("Bo")], "A4"))
    assert [page.splitlines()[0].split("  ")[0] for page in pages] == ["Ada", "Bo"]


def test_the_glasses_stand_in_the_order_tasted():
    view = invented_own_page()
    lines = texts_of(feedback_pdf([view], "A4"))[0].splitlines()
    codes = [glass.code for glass in view.glasses]
    assert [line for line in lines if line in codes] == codes


def test_a_glass_says_what_was_in_it_what_was_said_and_how_the_others_did():
    assert "593 Ethyl hexanoate, 3× isoamyl acetate 4 of 8 others" in text_of(invented_own_page())


def test_too_few_others_are_left_out():
    text = text_of(invented_own_page(glasses=4))
    assert "246 DMS, 2.5× DMS" in text
    assert "None" not in text


def test_where_no_glass_has_enough_others_the_column_has_no_head():
    view = invented_own_page(glasses=4)
    alone = tuple(replace(glass, others=None, others_right=None) for glass in view.glasses)
    assert "named right by" not in text_of(replace(view, glasses=alone))


def test_why_a_glass_does_not_count_is_said():
    assert "set aside: not counted" in text_of(invented_own_page())


def test_the_marks_are_explained():
    assert "named right another name noticed, no name not noticed" in text_of(invented_own_page())


def test_the_sections_come_in_their_order():
    text = text_of(invented_own_page())
    heads = (
        "Your eight glasses",
        "How this compares with your last months",
        "One thing to smell next",
        "Where you stand for the pale lagers",
        "Something looks wrong?",
    )
    places = [text.index(head) for head in heads]
    assert places == sorted(places)


def test_nothing_to_smell_next_leaves_no_empty_section():
    assert "smell next" not in text_of(invented_own_page(smell_next=""))


def test_counts_stand_as_this_time_and_before():
    assert "1 of 2 11 of 12" in text_of(invented_own_page())


def test_no_glasses_before_is_an_empty_cell_and_not_a_zero():
    text = text_of(invented_own_page())
    assert "0 of 0" not in text


def test_only_standings_that_occur_are_explained():
    text = text_of(invented_own_page(compounds=2))
    assert "too little evidence: not a fail, only not known" in text
    assert "doesn't smell it" not in text


@pytest.mark.parametrize(("needed", "labels"), [(0.7, ["70", "0", "50", "100%"]),
                                                (0.5, ["50", "0", "100%"]),
                                                (0.95, ["95", "0", "50"])])  # fmt: skip
def test_the_axis_names_the_limit_and_nothing_too_near_to_it(needed, labels):
    lines = texts_of(feedback_pdf([invented_own_page(needed=needed)], "A4"))[0].splitlines()
    start = lines.index(labels[0])
    assert lines[start : start + len(labels) + 1] == [*labels, "this time"]


def test_its_foot_says_who_may_see_it():
    assert (
        "Ottersgrund Brewery. For Greta Lindholm only; the panel leader can see it too."
        in text_of(invented_own_page())
    )


def test_no_page_for_nobody():
    with pytest.raises(ValueError, match="feedback needs at least one person"):
        feedback_pdf([], "A4")
