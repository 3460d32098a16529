from datetime import date

import pytest

from seatworthy.steps.figures import plain_figures

DAY = date(2026, 3, 2)


def chosen(method, level, outcome, day=DAY):
    return {
        "method": method, "total_level": level, "outcome": outcome, "session_on": day,
        "is_counted": False,
    }  # fmt: skip


def named(outcome):
    return {**chosen("naming", 3.0, outcome), "is_counted": True}


def test_no_glasses_give_no_figures():
    figures = plain_figures([])
    assert (figures.wilson, figures.jeffreys, figures.chance_by_guessing) == (None, None, None)
    assert (figures.choice_sets, figures.best_estimate) == (0, None)


def test_four_of_five_named_right_lie_between_38_and_96_percent():
    """Wilson limits of 4/5 (arithmetic anyone can redo; Newcombe 1998, method 3)."""
    figures = plain_figures([named("right")] * 4 + [named("missed")])
    assert figures.wilson == pytest.approx((0.376, 0.964), abs=5e-4)


def test_one_method_gives_the_binomial_chance_of_guessing():
    """Five of six at 1/3 is 13/729, by hand."""
    rows = [chosen("3afc", 1.0, "right")] * 5 + [chosen("triangle", 1.0, "wrong")]
    assert plain_figures(rows).chance_by_guessing == pytest.approx(13 / 729)


def test_methods_with_other_guess_rates_are_taken_together_exactly():
    """Both right, one at 1/3 and one at 1/2: one chance in six, by hand."""
    rows = [chosen("3afc", 1.0, "right"), chosen("2afc", 1.0, "right")]
    assert plain_figures(rows).chance_by_guessing == pytest.approx(1 / 6)
    rows = [chosen("3afc", 1.0, "wrong"), chosen("2afc", 1.0, "wrong")]
    assert plain_figures(rows).chance_by_guessing == 1.0


@pytest.mark.parametrize(
    ("answers", "estimate", "edge"),
    [
        ("wwrrrr", 1.4142, ""),
        ("rrrrrr", 0.3536, "below"),
        ("wwwwrw", 22.627, "above"),
        ("wrwrrr", 2.8284, ""),
    ],
)
def test_the_latest_ascending_series_gives_a_best_estimate(answers, estimate, edge):
    """Rule after ASTM E679 with levels .5 to 16; end rules from memory."""
    levels = (0.5, 1, 2, 4, 8, 16)
    series = [
        chosen("3afc", level, "right" if answer == "r" else "wrong")
        for level, answer in zip(levels, answers, strict=True)
    ]
    earlier = [chosen("3afc", level, "wrong", date(2025, 1, 1)) for level in levels]
    figures = plain_figures(earlier + series)
    assert figures.best_estimate == pytest.approx(estimate, abs=5e-4)
    assert figures.best_estimate_edge == edge


def test_two_levels_are_no_series():
    rows = [chosen("3afc", level, "right") for level in (1.0, 2.0)]
    assert plain_figures(rows).best_estimate is None
