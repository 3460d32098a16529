"""Forced-choice sets on the papers: circled on ballots, poured from left to right, odd on the key."""

import re
from dataclasses import replace
from functools import cache

import pytest
from invented_papers import LATE, NAMES_OFFERED, invented_own_page, invented_paper
from printed_text import overprinted, pages_of, texts_of

from seatworthy.paper import ballots_pdf, feedback_pdf, key_pdf, pouring_pdf
from seatworthy.steps.paper_views import PaperGlass, PaperSetGlass
from seatworthy.steps.reveal_views import FeedbackGlass

CIRCLE_ODD = "Circle the one that differs from the other two."
CIRCLE_SPIKED = "Circle the one that has something in it."
# Method, letters of the vessels from left to right, place of the odd one. B is the blank.
SETS = (("3afc", "BBA", 3), ("triangle", "CBC", 2), ("2afc", "DB", 1))


def with_sets(named=2, times=1, people=(LATE, LATE)):
    """The invented session with so many glasses to be named and every set so often."""
    view = invented_paper(people=people, glasses=max(1, named))
    codes = iter(range(100, 1000))
    return replace(
        view,
        sittings=tuple(
            replace(
                sitting,
                orders=tuple(
                    replace(order, glasses=glasses_with_sets(order, codes, named, times))
                    for order in sitting.orders
                ),
            )
            for sitting in view.sittings
        ),
    )


def glasses_with_sets(order, codes, named, times):
    single = [replace(glass, code=str(next(codes))) for glass in order.glasses[:named]]
    sets = [
        a_set(position, one, codes) for position, one in enumerate(SETS * times, start=named + 1)
    ]
    return (*single, *sets)


def a_set(position, one, codes):
    method, marks, odd = one
    parts = tuple(
        PaperSetGlass(place, str(next(codes)), mark, place == odd)
        for place, mark in enumerate(marks, start=1)
    )
    code = parts[odd - 1].code
    spiked = next(mark for mark in marks if mark != "B")
    return PaperGlass(position, code, spiked, method, parts)


@cache
def ballots(view, size="A4"):
    return texts_of(ballots_pdf(view, size))


def orders_of(view):
    return [order for sitting in view.sittings for order in sitting.orders]


def codes_on(page):
    return [line for line in page.splitlines() if line.isdigit() and len(line) == 3]


@pytest.mark.parametrize("size", ["A4", "Letter"])
@pytest.mark.parametrize("named", [0, 2])
def test_a_ballot_has_each_set_as_one_row_of_codes_from_left_to_right(named, size):
    view = with_sets(named)
    for page, order in zip(pages_of(ballots_pdf(view, size)), orders_of(view), strict=True):
        for glass in order.glasses:
            found = [next(p for p in page if p.text == one.code) for one in glass.poured]
            assert found == sorted(found, key=lambda piece: piece.left)
            assert len({round(piece.top, 2) for piece in found}) == 1


def test_each_set_says_what_to_circle():
    lines = ballots(with_sets())[0].splitlines()
    assert lines.count(CIRCLE_ODD) == 1
    assert lines.count(CIRCLE_SPIKED) == 2


def test_a_set_has_no_boxes_to_tick_and_a_glass_to_be_named_has():
    lines = ballots(with_sets(named=2))[0].splitlines()
    assert lines.count("nothing noticed") == 2


def test_where_all_are_sets_nothing_is_asked_to_be_named():
    page = " ".join(ballots(with_sets(named=0))[0].split())
    assert "tick one box" not in page
    assert "Names to choose from" not in page
    assert not any(name in page for name in NAMES_OFFERED)
    assert "circle one of them, even if you have to guess" in page


def test_the_ballot_counts_every_glass_of_a_set():
    assert "Ten glasses." in ballots(with_sets(named=2))[0]


def test_whichever_glass_is_the_odd_one_the_ballots_are_the_same_to_the_byte():
    view = with_sets()

    def turned(glass):
        if not glass.glasses:
            return replace(glass, mark="Z")
        last = len(glass.glasses)
        parts = tuple(
            replace(one, mark="Z" if one.place == last else "Y", is_odd=one.place == last)
            for one in glass.glasses
        )
        return replace(glass, code=parts[-1].code, mark="Z", glasses=parts)

    other = replace(
        view,
        sittings=tuple(
            replace(
                sitting,
                orders=tuple(
                    replace(order, glasses=tuple(turned(glass) for glass in order.glasses))
                    for order in sitting.orders
                ),
            )
            for sitting in view.sittings
        ),
    )
    assert ballots_pdf(other, "A4") == ballots_pdf(view, "A4")


def test_no_level_and_no_compound_of_a_set_is_on_a_ballot():
    page = ballots(with_sets(named=0))[0]
    assert "×" not in page
    assert "Diacetyl" not in page


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_a_long_series_of_sets_keeps_every_code_and_nothing_covers_another(size):
    view = with_sets(named=0, times=4)
    pages = pages_of(ballots_pdf(view, size))
    printed = [piece.text for page in pages for piece in page]
    assert all(one.code in printed for o in orders_of(view) for g in o.glasses for one in g.poured)
    assert not any(overprinted(page) for page in pages)


@pytest.mark.parametrize("size", ["A4", "Letter"])
@pytest.mark.parametrize("times", [1, 2, 4])
def test_the_pouring_sheet_has_every_glass_of_a_set_with_its_letter(size, times):
    view = with_sets(times=times)
    pages = pages_of(pouring_pdf(view, size))
    for page, sitting in zip(pages, view.sittings, strict=True):
        pieces = [piece for piece in page if piece.text.strip()]
        for one in (one for o in sitting.orders for g in o.glasses for one in g.poured):
            code = next(piece for piece in pieces if piece.text == one.code)
            beside = [
                piece
                for piece in pieces
                if piece.left > code.right
                and abs((piece.top + piece.bottom) - (code.top + code.bottom)) < 1.6
            ]
            assert min(beside, key=lambda piece: piece.left).text == one.mark
        assert not overprinted(pieces)


def test_on_the_pouring_sheet_the_leftmost_glass_of_a_set_stands_on_top():
    view = with_sets()
    page = pages_of(pouring_pdf(view, "A4"))[0]
    glass = view.sittings[0].orders[0].glasses[2]
    tops = [next(p.top for p in page if p.text == one.code) for one in glass.poured]
    assert tops == sorted(tops)


def test_the_pouring_sheet_says_how_a_set_is_read_only_where_there_is_one():
    words = "A set is one column: its topmost glass stands leftmost before the person"
    assert words in " ".join(texts_of(pouring_pdf(with_sets(), "A4"))[0].split())
    assert words not in " ".join(texts_of(pouring_pdf(invented_paper(), "A4"))[0].split())


def test_the_pouring_sheet_heads_sets_as_sets():
    lines = texts_of(pouring_pdf(with_sets(), "A4"))[0].splitlines()
    assert "glass 2" in lines
    assert "set 3" in lines


def test_the_pouring_sheet_says_when_everybody_rests():
    rest = "Rest two minutes before glass 6: the strong and lingering ones follow."
    view = replace(with_sets(), rests=(rest,))
    assert rest in " ".join(texts_of(pouring_pdf(view, "A4"))[0].split())


def test_the_key_has_every_glass_of_a_set_and_says_which_is_the_odd_one():
    view = with_sets()
    pages = texts_of(key_pdf(view, "A4"))
    codes = [code for page in pages for code in codes_on(page)]
    poured = [one.code for o in orders_of(view) for g in o.glasses for one in g.poured]
    assert sorted(codes) == sorted(poured)
    rows = {row[:3]: " ".join(row.split()) for page in pages for row in rows_by_code(page)}
    for glass in (glass for order in orders_of(view) for glass in order.glasses[2:]):
        for one in glass.glasses:
            place = "the odd one of" if one.is_odd else "in"
            assert f" {one.mark} " in rows[one.code]
            assert f"; {place} set {glass.position}" in rows[one.code]


def test_somebodys_own_page_has_every_code_of_a_set_and_says_what_its_marks_mean():
    shown = FeedbackGlass(3, "", "Diacetyl, 1×, in 258", "picked 417", "missed", None, None, "",
                          ("417", "258", "903"))  # fmt: skip
    view = invented_own_page()
    pages = pages_of(feedback_pdf([replace(view, glasses=(shown, *view.glasses[1:]))], "A4"))
    lines = [piece.text for piece in pages[0]]
    assert {"417", "258", "903", "picked 417"} <= set(lines)
    assert "not noticed or picked wrong" in lines
    assert not overprinted(pages[0])
    assert "not noticed" in texts_of(feedback_pdf([view], "A4"))[0].splitlines()


def rows_by_code(page):
    """The text from each code to the next."""
    return re.split(r"(?m)^(?=\d{3}$)", page)[1:]
