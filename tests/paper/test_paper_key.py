"""The key."""

import pytest
from invented_papers import LATE, invented_paper
from printed_text import texts_of

from seatworthy.paper import key_pdf


def codes_of(sitting):
    return sorted(glass.code for order in sitting.orders for glass in order.glasses)


def printed_codes(page):
    return [line for line in page.splitlines() if line.isdigit() and len(line) == 3]


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_every_code_of_every_sitting_is_there_in_order(size):
    view = invented_paper(people=(tuple(f"Taster {n}" for n in range(40)), LATE))
    pages = texts_of(key_pdf(view, size))
    codes = [code for page in pages for code in printed_codes(page)]
    assert codes == codes_of(view.sittings[0]) + codes_of(view.sittings[1])


def test_a_code_is_followed_by_who_letter_and_what_was_in_it():
    view = invented_paper(people=(LATE, LATE))
    lines = texts_of(key_pdf(view, "A4"))[0].splitlines()
    order = view.sittings[0].orders[2]
    glass = next(glass for glass in order.glasses if glass.mark == "C")
    start = lines.index(glass.code)
    assert lines[start : start + 4] == [glass.code, "Greta Lindholm", "C", "DMS, 2.5×"]


def test_a_blank_is_nothing_added_without_a_level():
    lines = texts_of(key_pdf(invented_paper(), "A4"))[0].splitlines()
    assert "nothing added" in lines


def test_an_ordinary_sitting_fits_one_page():
    view = invented_paper(people=(("Ada", "Bo", "Carmen", "Dilek", "Emil", "Fenna", "Goran",
                                   "Hana", "Ines"), LATE))  # fmt: skip
    assert len(texts_of(key_pdf(view, "A4"))) == 2


def test_its_foot_says_how_long_it_is_kept_away():
    assert (
        "The key: keep it away from the tasting room until the session is closed."
        in (texts_of(key_pdf(invented_paper(), "A4"))[0])
    )
