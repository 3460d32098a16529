"""Serving orders, compared with the balanced squares of the textbooks."""

from seatworthy.sessions.orders import check_balance, williams


def test_four_treatments_give_the_square_of_the_textbooks():
    """Williams (1949), the square for four as textbooks print it; from memory."""
    assert williams(4) == ((0, 1, 3, 2), (1, 2, 0, 3), (2, 3, 1, 0), (3, 0, 2, 1))


def test_another_published_square_for_four_passes_the_check():
    """A B C D / B D A C / C A D B / D C B A, printed in many texts on crossover trials; memory."""
    rows = ["ABCD", "BDAC", "CADB", "DCBA"]
    check_balance([["ABCD".index(letter) for letter in row] for row in rows])


def test_the_published_pair_of_squares_for_three_passes_the_check():
    """All six orders of three, which is the Williams design for three; from memory."""
    check_balance([(0, 1, 2), (1, 2, 0), (2, 0, 1), (2, 1, 0), (0, 2, 1), (1, 0, 2)])
