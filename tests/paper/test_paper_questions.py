"""Glasses that ask about one compound, on the papers: boxes from 0 to 10, or yes and no."""

from dataclasses import replace
from decimal import Decimal

import pytest
from invented_papers import LATE, NAMES_OFFERED, invented_own_page, invented_paper
from printed_text import overprinted, pages_of, texts_of

from seatworthy.paper import ballots_pdf, feedback_pdf
from seatworthy.steps.reveal_views import FeedbackGlass, Rated

SCALE = [str(number) for number in range(11)]
LONG = "2,3-pentanedione of the second lot, brewed for the autumn"


def asked(questions, glasses=8, people=(LATE, LATE)):
    """The invented session; its first glasses ask about a compound, by method and label."""
    view = invented_paper(people=people, glasses=glasses)

    def turned(glass):
        if glass.position > len(questions):
            return glass
        method, label = questions[glass.position - 1]
        return replace(glass, method=method, asks=label)

    return replace(
        view,
        sittings=tuple(
            replace(
                sitting,
                orders=tuple(
                    replace(order, glasses=tuple(map(turned, order.glasses)))
                    for order in sitting.orders
                ),
            )
            for sitting in view.sittings
        ),
    )


RATED, THERE = ("intensity", "diacetyl"), ("a_not_a", "DMS")


def words(view):
    return " ".join(texts_of(ballots_pdf(view, "A4"))[0].split())


def test_a_rated_glass_has_eleven_numbers_and_says_what_its_ends_mean():
    view = asked([RATED], glasses=3)
    lines = texts_of(ballots_pdf(view, "A4"))[0].splitlines()
    assert "How strong is diacetyl?" in " ".join(lines)
    assert [lines.count(number) for number in SCALE] == [
        # Numbers of the places of three glasses stand at the left.
        2 if number in ("1", "2", "3") else 1
        for number in SCALE
    ]
    assert lines.count("not there") == lines.count("very strong") == 1


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_the_numbers_stand_from_left_to_right_and_inside_the_page(size):
    view = asked([RATED], glasses=1)
    page = pages_of(ballots_pdf(view, size))[0]
    row = [piece for piece in page if piece.text in SCALE and piece.text != "1"]
    assert [piece.text for piece in sorted(row, key=lambda piece: piece.left)] == [
        number for number in SCALE if number != "1"
    ]
    assert len({round(piece.top, 2) for piece in row}) == 1
    end = next(piece for piece in page if piece.text == "very strong")
    assert max(piece.right for piece in row) < end.left < end.right


def test_a_glass_asked_by_yes_and_no_has_these_two():
    lines = texts_of(ballots_pdf(asked([THERE], glasses=2), "A4"))[0].splitlines()
    assert "Is DMS in it?" in lines
    assert lines.count("yes") == lines.count("no") == 1
    assert lines.count("nothing noticed") == 1


def test_the_lead_says_what_the_sheet_asks_and_no_more():
    plain, both, alone = words(asked([])), words(asked([RATED, THERE])), words(asked([RATED] * 8))
    assert "For each glass tick one box, or write what you find" in plain
    assert "tick one number" not in plain
    assert "doesn't mean that anything is there" not in plain
    assert "Where there is a line to write on, tick one box" in both
    assert "tick one number: 0 is not there, 10 is very strong." in both
    assert "tick one, even if you have to guess." in both
    assert "A question doesn't mean that anything is there." in both
    assert "write what you find" not in alone


def test_where_no_name_is_asked_for_no_names_are_offered():
    page = words(asked([RATED] * 4 + [THERE] * 4))
    assert "Names to choose from" not in page
    assert not any(name in page.replace("DMS", "") for name in NAMES_OFFERED if name != "DMS")


def test_spare_orders_ask_the_same():
    view = asked([RATED], glasses=2)
    spare = [o.is_spare for sitting in view.sittings for o in sitting.orders].index(True)
    assert "How strong is diacetyl?" in " ".join(texts_of(ballots_pdf(view, "A4"))[spare].split())


def test_whatever_is_in_the_glass_the_ballots_are_the_same_to_the_byte():
    view = asked([RATED, THERE])
    other = replace(
        view,
        sittings=tuple(
            replace(
                sitting,
                samples=(),
                orders=tuple(
                    replace(order, glasses=tuple(replace(g, mark="Z") for g in order.glasses))
                    for order in sitting.orders
                ),
            )
            for sitting in view.sittings
        ),
    )
    assert ballots_pdf(other, "A4") == ballots_pdf(view, "A4")


@pytest.mark.parametrize("size", ["A4", "Letter"])
@pytest.mark.parametrize("glasses", [8, 14, 24])
def test_long_questions_on_low_rows_cover_nothing(size, glasses):
    view = asked([("intensity", LONG), ("a_not_a", LONG)] * (glasses // 2), glasses=glasses)
    for page in pages_of(ballots_pdf(view, size)):
        assert not overprinted(page)


def own_page(*glasses):
    view = replace(invented_own_page(), glasses=glasses)
    page = pages_of(feedback_pdf([view], "A4"))[0]
    assert not overprinted(page)
    return [piece.text for piece in page]


RATING = FeedbackGlass(
    1, "417", "Diacetyl, 3×", "7 for diacetyl", "rated", None, None, "", (), "intensity",
    Rated(5, Decimal(6), Decimal(3), Decimal(8)),
)  # fmt: skip
NO = FeedbackGlass(2, "258", "DMS, 3×", "no to DMS", "missed", 5, 4, "", (), "a_not_a")


def test_somebodys_own_page_has_their_rating_beside_the_others():
    lines = own_page(RATING, NO)
    assert {"7 for diacetyl", "median 6 (3 to 8)", "no to DMS", "4 of 5 right", "the others"} <= {
        *lines
    }
    assert "no mark: rated, neither right nor wrong" in lines
    assert "not noticed, or no to something" in lines


def test_without_ratings_the_page_says_nothing_of_them():
    lines = own_page(NO)
    assert {"4 of 5 others", "named right by"} <= {*lines}
    assert not any("rated" in line for line in lines)
