"""The pouring sheet."""

from dataclasses import replace

import pytest
from invented_papers import LATE, invented_paper
from printed_text import pages_of, texts_of

from seatworthy.paper import pouring_pdf


def rows_of(page):
    """Pieces of one page that stand on a line with a code, from left to right."""
    codes = [piece for piece in page if piece.text.isdigit() and len(piece.text) == 3]
    lines = {}
    for piece in page:
        for code in codes:
            if abs((piece.top + piece.bottom) - (code.top + code.bottom)) < 1.6:
                lines.setdefault(round(code.top), set()).add((piece.left, piece.text))
                break
    return [[text for _, text in sorted(line)] for _, line in sorted(lines.items())]


def planned_rows(sitting):
    return [
        [order.name, *(part for glass in order.glasses for part in (glass.code, glass.mark))]
        for order in sitting.orders
    ]


@pytest.mark.parametrize("glasses", [1, 6, 8, 12])
@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_each_person_has_a_row_of_codes_and_letters_in_their_order(glasses, size):
    view = invented_paper(people=(LATE, LATE), glasses=glasses)
    for page, sitting in zip(pages_of(pouring_pdf(view, size)), view.sittings, strict=True):
        assert rows_of(page) == planned_rows(sitting)


def test_forty_people_go_on_over_the_page_with_the_heads_again():
    people = tuple(f"Taster {number}" for number in range(40))
    view = invented_paper(people=(people, LATE), glasses=6)
    pages = pages_of(pouring_pdf(view, "A4"))
    rows = [row for page in pages[:-1] for row in rows_of(page)]
    assert rows == planned_rows(view.sittings[0])
    assert all("who" in [piece.text for piece in page] for page in pages)


def test_a_glass_left_out_leaves_its_place_empty():
    view = invented_paper(people=(LATE, LATE))
    early, late = view.sittings
    first = early.orders[0]
    fewer = replace(first, glasses=first.glasses[:2] + first.glasses[3:])
    view = replace(view, sittings=(replace(early, orders=(fewer, *early.orders[1:])), late))
    page = pages_of(pouring_pdf(view, "A4"))[0]
    places = {piece.text: piece.left for piece in page}
    assert places[first.glasses[3].code] == places["glass 4"]


def test_its_head_says_who_does_not_see_it():
    text = " ".join(texts_of(pouring_pdf(invented_paper(), "A4"))[0].split())
    assert "Pouring sheet. Not for the preparer, and not for the tasting room." in text


def test_somebody_signs_for_the_codes():
    text = texts_of(pouring_pdf(invented_paper(), "A4"))[0]
    assert "Codes put on by" in text


def test_compounds_are_not_on_it():
    text = texts_of(pouring_pdf(invented_paper(), "A4"))[0]
    assert "Diacetyl" not in text
    assert "×" not in text


def test_the_control_is_told_only_if_there_is_one():
    assert "the control, 40 ml" in " ".join(texts_of(pouring_pdf(invented_paper(), "A4")))
    without = texts_of(pouring_pdf(invented_paper(control_ml=0), "A4"))
    assert "control" not in " ".join(without)
