"""The ballots: everything to answer with, nothing to guess from."""

from dataclasses import replace
from decimal import Decimal
from functools import cache

import pytest
from invented_papers import LATE, NAMES_OFFERED, invented_paper
from printed_text import texts_of

from seatworthy.paper import ballots_pdf


@cache
def texts(view, size="A4"):
    return texts_of(ballots_pdf(view, size))


def orders_of(view):
    return [order for sitting in view.sittings for order in sitting.orders]


def poured_differently(view):
    """The same codes for the same people, and something else in every glass."""

    def other(order):
        glasses = tuple(replace(glass, mark="Z") for glass in order.glasses)
        return replace(order, glasses=glasses)

    def refilled(sitting):
        samples = tuple(
            replace(sample, mark="Z", label="Clove", level=Decimal(9), addition="a lot", glasses=1,
                    volume_ml=Decimal(1), caution="other", keeping="")
            for sample in sitting.samples[:1]
        )  # fmt: skip
        orders = tuple(other(order) for order in sitting.orders)
        return replace(sitting, samples=samples, orders=orders)

    return replace(view, sittings=tuple(refilled(sitting) for sitting in view.sittings))


def test_whatever_is_poured_the_ballots_are_the_same_to_the_byte():
    view = invented_paper()
    assert ballots_pdf(poured_differently(view), "A4") == ballots_pdf(view, "A4")


def test_no_level_is_on_it():
    assert "×" not in "".join(texts(invented_paper()))


def test_no_letter_of_a_vessel_is_on_it():
    lines = {line for page in texts(invented_paper()) for line in page.splitlines()}
    assert lines.isdisjoint("ABCDEF")


def test_who_is_not_to_be_served_what_is_not_on_it():
    assert "not to be served" not in " ".join(texts(invented_paper()))


def test_who_prepares_is_not_on_it():
    view = invented_paper(preparers=("Somebody Else",))
    assert "Somebody Else" not in " ".join(texts(view))


@pytest.mark.parametrize("size", ["A4", "Letter"])
@pytest.mark.parametrize("glasses", [1, 8, 12])
def test_each_person_has_one_page_with_their_codes_from_the_top_down(glasses, size):
    view = invented_paper(glasses=glasses)
    pages = texts(view, size)
    for page, order in zip(pages, orders_of(view), strict=True):
        codes = [line for line in page.splitlines() if line.isdigit() and len(line) == 3]
        assert codes == [glass.code for glass in order.glasses]


def test_the_name_the_day_and_the_sitting_stand_on_top():
    page = " ".join(texts(invented_paper(people=(LATE, LATE)))[0].split())
    assert page.startswith(
        "Thursday 26 November 2026 Thursday panel Early shift at 10:30 Bashir Nourad"
    )


def test_a_spare_asks_for_the_name():
    view = invented_paper(people=(LATE, LATE))
    assert "Spare 1, name:" in texts(view)[3]


def test_every_glass_has_two_boxes_and_a_line():
    page = texts(invented_paper(people=(LATE, LATE)))[0]
    for words in ("nothing noticed", "something, but no name for it", "name or own words"):
        assert page.splitlines().count(words) == 8


def test_every_name_that_may_be_given_is_offered():
    lines = texts(invented_paper(people=(LATE, LATE)))[0].splitlines()
    assert [line for line in lines if line in NAMES_OFFERED] == list(NAMES_OFFERED)


def test_the_control_comes_first_if_there_is_one():
    words = "First the control: the beer as it is, nothing added. No answer needed."
    first = invented_paper(people=(LATE, LATE)).sittings[0].orders[0].glasses[0].code
    page = texts(invented_paper(people=(LATE, LATE)))[0]
    assert page.index(words) < page.index(first)
    assert words not in texts(invented_paper(people=(LATE, LATE), control_ml=0))[0]


def test_care_stands_on_every_ballot():
    for page in texts(invented_paper()):
        words = " ".join(page.split())
        assert "Use the spit cup." in words
        assert "of age and by choice; no driving or machine work afterwards." in words
        assert (
            "Tell the leader quietly if a glass is spilled or short, or if you have a cold."
            in words
        )


def test_many_long_names_go_on_over_the_page_and_none_is_lost():
    names = tuple(f"Number {n} with a rather long label in it" for n in range(80))
    view = invented_paper(people=(LATE, ()), spares=0, glasses=12, names_offered=names)
    pages = texts(view, "Letter")
    assert len(pages) == 6
    assert all(name in pages[0] + pages[1] for name in names)
