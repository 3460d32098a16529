"""Knowing a beer, from the glasses that asked for it to the record and the seat."""

from dataclasses import replace
from datetime import timedelta

import pytest
import thursday
from asked_beers import BEER, ask_beers

from seatworthy.rules.known_beers import BeerGlasses
from seatworthy.rules.person_rules import KnowsBeerRule
from seatworthy.rules.verdict import Standing
from seatworthy.steps.asides import set_glass_aside
from seatworthy.steps.competence import competence
from seatworthy.steps.facts_text import FORM, FORM_BEERS, facts_text
from seatworthy.steps.judging import judge_day
from seatworthy.steps.known_beer_views import known_beers
from seatworthy.steps.known_beers import beer_counts
from seatworthy.steps.person_figures import person_figures
from seatworthy.steps.reasons import reasons
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.seen import Seen

PALE = "pale_lager"
DAY = thursday.TODAY - timedelta(days=20)
SURE = {"own": "yyyyyyy", "aged": "nnnnnny", "other_batch": "nny"}
RULE = KnowsBeerRule(apart=1.0, sure=0.8, own_glasses=6, other_glasses=6, months=12)


# What these tests ask for, and the fixture whose store has it already; see conftest.
STARTS = {"asked": "with_asked"}


@pytest.fixture(scope="module")
def with_asked(made_from, with_people):
    people = with_people.found
    return made_from(with_people, lambda desk: ask_beers(desk, DAY, {
        people["Ada"]: SURE,
        people["Bo"]: {"own": "ynynynyn", "sister": "ynynynyn"},
        people["Carmen"]: {"own": "yy"},
    }))  # fmt: skip


@pytest.fixture
def asked(desk, people, with_asked):
    """Ada tells the beer apart, Bo says yes to half of everything, Carmen had two glasses."""
    return people


def counted(desk, person):
    judged = judge_day(desk)
    seen = Seen(desk, judged.as_of, None, judged.rulebook)
    return beer_counts(seen, 12).get(person, {})


def judged_by(desk, rule):
    book = desk.rulebook_on(desk.today(), None)
    asked = replace(book, rulebook=replace(book.rulebook, knows_beer=rule), digest=repr(rule))
    return judge_day(desk, supposed_book=asked)


def answer(judged, person):
    return next(one for one in judged.answers(person, PALE) if one.title == "Beers known")


def test_glasses_are_counted_by_what_they_really_were(desk, asked):
    own = counted(desk, asked["Ada"])[BEER]
    assert dict(own.glasses) == {"own": 7, "aged": 7, "other_batch": 3}
    assert dict(own.said_yes) == {"own": 7, "aged": 1, "other_batch": 1}
    assert own.seen == BeerGlasses(7, 7, 7, 1)  # another batch is the same beer
    verify(desk)


def test_such_glasses_are_no_evidence_of_a_compound_or_a_blank(desk, asked):
    judged = judge_day(desk)
    assert judged.evidence.day.size == judged.evidence.blank_day.size == 0
    assert judged.blanks[asked["Ada"]].blanks == 0


def test_a_glass_set_aside_does_not_count(desk, asked):
    serving = f"j-Beers-{DAY}-{BEER}-other_batch-{asked['Ada']}-2"
    set_glass_aside(desk, serving, "spilled", asked["Bo"])
    assert dict(counted(desk, asked["Ada"])[BEER].said_yes)["other_batch"] == 0


def test_glasses_before_the_window_do_not_count(desk, people):
    ask_beers(desk, thursday.TODAY - timedelta(days=500), {people["Ada"]: SURE})
    assert counted(desk, people["Ada"]) == {}


def test_a_glass_swapped_for_one_that_asks_for_nothing_says_nothing(desk, asked):
    serving = f"j-Beers-{DAY}-{BEER}-own-{asked['Carmen']}-0"
    sitting = f"t-Beers-{DAY}"
    with desk.store.recording("swap") as act:
        act.add("sample", {
            "sample_id": "plain", "sitting_id": sitting, "beer": BEER, "compound": None,
            "given_level": None, "dose_ug": None, "volume_ml": None, "mark": "P",
        })  # fmt: skip
        act.add("poured_instead", {"serving_id": serving, "sample_id": "plain"})
    assert counted(desk, asked["Carmen"])[BEER].seen.own == 1


def test_a_glass_swapped_for_another_variant_counts_as_that(desk, asked):
    serving = f"j-Beers-{DAY}-{BEER}-own-{asked['Carmen']}-0"
    with desk.store.recording("swap") as act:
        act.add("poured_instead", {
            "serving_id": serving, "sample_id": f"j-Beers-{DAY}-{BEER}-aged",
        })  # fmt: skip
    assert counted(desk, asked["Carmen"])[BEER].seen == BeerGlasses(1, 1, 1, 1)


def test_own_preparation_does_not_count(desk, asked):
    with desk.store.recording("preparer") as act:
        act.add("preparer", {
            "session_id": f"s-Beers-{DAY}", "person_id": asked["Ada"], "is_preparer": True,
        })  # fmt: skip
    assert counted(desk, asked["Ada"]) == {}
    assert counted(desk, asked["Bo"]) != {}


def test_without_a_rule_nothing_is_asked_and_the_record_shows_all_the_same(desk, asked):
    judged = judge_day(desk)
    titles = [one.title for one in judged.answers(asked["Ada"], PALE)]
    assert "Beers known" not in titles
    found = known_beers(desk, judged, asked["Ada"])
    assert (found.is_asked, found.months) == (False, judged.rulebook.counted.months)
    (row,) = found.rows
    assert (row.label, row.standing, row.own_yes, row.own) == ("House Pils", "met", 7, 7)
    assert dict(row.others) == {"aged": (1, 7), "other_batch": (1, 3)}
    assert row.d_prime_range[0] < row.d_prime < row.d_prime_range[1]


def test_few_glasses_are_too_little_evidence_and_say_what_is_missing(desk, asked):
    (row,) = known_beers(desk, judge_day(desk), asked["Carmen"]).rows
    assert (row.standing, row.d_prime, row.chance) == ("too_little", None, None)
    assert row.missing == ("4 more glasses of it and 6 of others, all answered right, would do.")


def test_who_was_asked_nothing_has_no_row(desk, asked):
    assert known_beers(desk, judge_day(desk), asked["Dilek"]).rows == ()
    assert person_figures(desk, asked["Ada"]).beers.rows


@pytest.mark.parametrize(
    ("name", "standing"),
    [
        ("Ada", Standing.MET),
        ("Bo", Standing.NOT_MET),
        ("Carmen", Standing.TOO_LITTLE),
        ("Dilek", Standing.TOO_LITTLE),
    ],
)
def test_a_rule_gives_three_answers(desk, asked, name, standing):
    assert answer(judged_by(desk, RULE), asked[name]).verdict.standing is standing


def test_a_seat_asks_for_it_only_if_the_rule_says_so(desk, asked):
    told = judged_by(desk, RULE).seats[asked["Bo"], PALE].verdict.sentence
    assert "House Pils: yes to 4 of 8 of its own and to 4 of 8 others." in told
    shown = judged_by(desk, replace(RULE, asked_for=False)).seats[asked["Bo"], PALE].verdict
    assert "House Pils" not in shown.sentence


def test_the_reasons_go_down_to_the_glasses(desk, asked):
    judged = judged_by(desk, RULE)
    view = reasons(desk, judged, asked["Ada"], PALE)
    part = next(one for one in view.parts if one.title == "Beers known")
    assert len(part.glasses) == 14
    wrong = [line for line in part.glasses if line.outcome == "wrong"]
    assert [(line.what, line.said) for line in wrong] == [("House Pils, aged", "yes")]


def test_the_competence_record_has_a_section_of_its_own(desk, asked):
    paper = competence(desk, asked["Ada"])
    assert paper is not None
    (section,) = [one for one in paper.sections if one.key == "beers"]
    assert section.table.rows[0][:3] == ("House Pils", "met", "7 of 7")
    other = competence(desk, asked["Dilek"])
    assert "beers" not in [one.key for one in other.sections]


def test_the_digest_takes_the_questions_in_and_others_stay_as_they_were(desk, asked):
    texts = {name: facts_text(desk, asked[name], PALE, desk.today()) for name in ("Ada", "Dilek")}
    assert texts["Dilek"].startswith(FORM)
    assert "asked for a beer" not in texts["Dilek"]
    assert texts["Ada"].startswith(FORM_BEERS)
    assert sum(line.startswith("asked for a beer\x1f") for line in texts["Ada"].split("\n")) == 17


def test_by_the_record_of_before_nothing_was_asked(desk, people):
    text = facts_text(desk, people["Ada"], PALE, desk.today())
    ask_beers(desk, DAY, {people["Ada"]: SURE})
    with desk.store.reading() as cursor:
        (moment,) = cursor.execute("select max(recorded_at) from history").fetchone()
    known_at = moment - timedelta(microseconds=1)
    again = facts_text(desk, people["Ada"], PALE, desk.today(), known_at)
    assert again == text
