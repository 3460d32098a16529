from datetime import timedelta

import pytest

from seatworthy.steps.alarms import alarms
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.closer import closer_look
from seatworthy.steps.judging import judge_day
from seatworthy.steps.person_figures import person_figures
from seatworthy.steps.shelf_amounts import TypedAmount, record_thresholds

HEAD = "date,panellist,code,method,compound,level,answer,base beer,beer family"
FOUND = ("dms", "diacetyl", "acetaldehyde", "vanillin")


@pytest.fixture
def bring_in(desk, tmp_path):
    """Bring in lines; person id by name."""

    def store(lines):
        path = tmp_path / "results.csv"
        path.write_text("\n".join([HEAD, *lines]), encoding="utf-8")
        bring_in_results(desk, path)
        return {name: key for key, name in judge_day(desk).people.items()}

    return store


def weekly(desk, name, *answers, compound="dms"):
    """One naming glass of a compound a week, the last one a week ago."""
    return [
        f"{desk.today() - timedelta(weeks=len(answers) - week)},{name},,naming,{compound},3,"
        f"{answer},Pils,Lagers"
        for week, answer in enumerate(answers)
    ]


def looked_at(desk, people, compound="dms"):
    return closer_look(desk, people["Ada"], compound, judge_day(desk).evidence.families[0])


def line_of(view, title):
    (words,) = [line.words for line in view.lines if line.title.startswith(title)]
    return words


def test_every_glass_stands_there_the_newest_first_and_fades_with_age(bring_in, desk):
    people = bring_in(weekly(desk, "Ada", *["nothing"] * 3, *["dms"] * 3))
    view = looked_at(desk, people)
    assert [glass.outcome for glass in view.glasses] == ["right"] * 3 + ["missed"] * 3
    weights = [glass.weight for glass in view.glasses]
    assert weights[:3] == sorted(weights[:3], reverse=True)
    assert view.glasses[0].pull > 0


def test_the_estimates_are_those_that_the_board_rests_on(bring_in, desk):
    people = bring_in(weekly(desk, "Ada", *["dms"] * 6))
    judged = judge_day(desk)
    place = judged.evidence.people.index(people["Ada"]), 0, 0
    rate = judged.followed.today.rate_mean[place]
    assert line_of(looked_at(desk, people), "Named right at 3×").startswith(f"{100 * rate:.0f}% (")
    threshold = 2.0 ** judged.followed.today.threshold_mean_own[place]
    assert looked_at(desk, people).curve[-1].mean == pytest.approx(threshold)


def test_a_threshold_is_told_in_the_compounds_unit_once_there_is_a_working_one(bring_in, desk):
    people = bring_in(weekly(desk, "Ada", "dms", "nothing", "dms"))
    assert "µg/l" not in line_of(looked_at(desk, people), "Own threshold")
    amount = TypedAmount("dms", "30", "µg/l")
    record_thresholds(desk, (amount,), "", desk.today() - timedelta(weeks=9), is_sure=True)
    assert "of the working threshold, so " in line_of(looked_at(desk, people), "Own threshold")
    assert " µg/l (" in line_of(looked_at(desk, people), "Own threshold")


def test_glasses_of_one_day_tell_no_trend(bring_in, desk):
    people = bring_in(weekly(desk, "Ada", "dms"))
    assert line_of(looked_at(desk, people), "Over time").startswith("Glasses of one day")


def test_what_informs_beside_the_counted_glasses_is_told_by_its_question(bring_in, desk):
    day = desk.today() - timedelta(weeks=1)
    people = bring_in([
        *weekly(desk, "Ada", "dms", "dms"),
        f"{day},Ada,,3-AFC,dms,1,right,Pils,Lagers",
        f"{day},Ada,,A/not-A,dms,3,no,Pils,Lagers",
        f"{day - timedelta(weeks=9)},Ada,,naming,dms,3,dms,Dry stout,Stouts",
    ])  # fmt: skip
    words = line_of(looked_at(desk, people), "Informed also by")
    for part in ("(3-AFC), right 1 of 1", "A/not-A, yes 0 of 1", "in other beers, right 1 of 1"):
        assert part in words


def test_a_compound_never_served_has_nothing_to_look_at(bring_in, desk):
    people = bring_in(
        [*weekly(desk, "Ada", "dms"), *weekly(desk, "Bo", "vanillin", compound="vanillin")]
    )
    assert looked_at(desk, people, "vanillin") is None
    assert looked_at(desk, people, "marzipan") is None


def seasons(desk, name, weeks, lost):
    """Four compounds a week, all found but in the last `lost` weeks."""
    lines = []
    for compound in FOUND:
        answers = [compound] * (weeks - lost) + ["nothing"] * lost
        lines += weekly(desk, name, *answers, compound=compound)
    return lines


def test_whoever_misses_everything_of_late_is_told_of_and_nobody_else(bring_in, desk):
    people = bring_in([*seasons(desk, "Ada", 14, 4), *seasons(desk, "Bo", 14, 0)])
    (alarm,) = alarms(desk, judge_day(desk))
    assert alarm.person_id == people["Ada"]
    assert alarm.since == desk.today() - timedelta(weeks=4)
    assert alarm.sentence.startswith("Ada has missed more than before since ")
    assert "No reason is asked for." in alarm.sentence
    assert person_figures(desk, people["Ada"]).alarm == alarm.sentence
    assert person_figures(desk, people["Bo"]).alarm == ""


def test_an_alarm_changes_no_standing(bring_in, desk):
    bring_in(seasons(desk, "Ada", 14, 4))
    before = judge_day(desk).cells
    assert alarms(desk, judge_day(desk))
    assert judge_day(desk).cells == before


def test_somebody_unknown_has_no_figures(bring_in, desk):
    bring_in(weekly(desk, "Ada", "dms"))
    assert person_figures(desk, "nobody") is None
