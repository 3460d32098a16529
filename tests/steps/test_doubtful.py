from datetime import timedelta

import pytest

from seatworthy.steps.asides import set_sample_aside
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.doubtful import doubtful_jugs
from seatworthy.steps.people import everybody

PEOPLE = ("Ada", "Bo", "Carmen", "Dilek", "Emil", "Fenna")
HEAD = "date,panellist,code,compound,level,answer"


@pytest.fixture
def panel(desk, tmp_path):
    """Six people who find dms, eight weeks in a row; then whatever a test pours last week."""

    def bring_in(*last_week):
        lines = [HEAD]
        for week in range(2, 10):
            day = desk.today() - timedelta(weeks=week)
            lines += [f"{day},{name},101,dms,3,dms" for name in PEOPLE]
            lines += [f"{day},{name},102,blank,,nothing" for name in PEOPLE]
        lines += last_week
        path = tmp_path / "results.csv"
        path.write_text("\n".join(lines), encoding="utf-8")
        bring_in_results(desk, path)
        return doubtful_jugs(desk).jugs

    return bring_in


def poured(desk, compound, level, answers):
    day = desk.today() - timedelta(weeks=1)
    return [
        f"{day},{name},201,{compound},{level},{answer}"
        for name, answer in zip(PEOPLE, answers, strict=True)
    ]


def test_a_panel_that_finds_what_it_usually_finds_gives_no_jug_to_doubt(panel, desk):
    assert panel(*poured(desk, "dms", 3, ["dms"] * 6)) == ()


def test_a_jug_that_all_miss_and_usually_find_is_doubted_with_its_odds(panel, desk):
    (jug,) = panel(*poured(desk, "dms", 3, ["nothing"] * 6))
    assert (jug.what, jug.level, jug.named_right, jug.answers) == ("DMS", 3.0, 0, 6)
    assert jug.sentence.startswith("Everybody missed it, and most usually find it.")
    assert jug.sentence.endswith("over 1,000 to 1 that nothing was added.")
    assert not jug.is_planned


def test_a_blank_called_by_four_of_six_is_doubted_and_the_compound_named(panel, desk):
    (jug,) = panel(*poured(desk, "blank", "", ["dms"] * 4 + ["nothing"] * 2))
    assert (jug.what, jug.level, jug.named_right) == ("Nothing added", None, 2)
    assert jug.sentence.startswith(
        "Four of 6 called something, though nothing was added; DMS would explain it best."
    )
    assert jug.sentence.endswith("to 1 that something was in it.")


def test_a_blank_called_by_one_of_six_is_not(panel, desk):
    assert panel(*poured(desk, "blank", "", ["dms"] + ["nothing"] * 5)) == ()


def test_a_jug_set_aside_is_doubted_no_longer(panel, desk):
    (jug,) = panel(*poured(desk, "dms", 3, ["nothing"] * 6))
    somebody = everybody(desk)[0].person_id
    set_sample_aside(desk, jug.sample_id, "the stock was empty", somebody)
    found = doubtful_jugs(desk)
    assert (found.jugs, found.looked_at, found.months) == ((), 16, 12)
    assert [(one.sample_id, one.named_right, one.is_aside) for one in found.aside] == [
        (jug.sample_id, 0, True)
    ]


def test_another_sitting_of_the_same_jug_is_named_with_it(panel, desk, tmp_path):
    panel()
    day = desk.today() - timedelta(weeks=1)
    lines = ["date,sitting,sample,panellist,code,compound,level,answer"]
    lines += [f"{day},early,E,{name},201,dms,3,nothing" for name in PEOPLE[:5]]
    lines += [f"{day},late,E,{PEOPLE[5]},201,dms,3,dms"]
    path = tmp_path / "two.csv"
    path.write_text("\n".join(lines), encoding="utf-8")
    bring_in_results(desk, path)
    early, late = doubtful_jugs(desk).jugs
    assert (early.named_right, early.answers) == (0, 5)
    assert late.sentence.startswith("By its mark from the same jug")


def test_only_blanks_on_record_are_no_reason_to_doubt(desk, tmp_path):
    day = desk.today() - timedelta(weeks=1)
    lines = [HEAD, *(f"{day},{name},201,blank,,nothing" for name in PEOPLE)]
    path = tmp_path / "results.csv"
    path.write_text("\n".join(lines), encoding="utf-8")
    bring_in_results(desk, path)
    assert doubtful_jugs(desk).jugs == ()
