"""Knowing a beer as a rule: three answers, both sides of every limit, read and read aloud."""

from dataclasses import replace

import pytest

from seatworthy.errors import RulebookRefused
from seatworthy.rules.known_beers import (
    BeerGlasses,
    chance_apart,
    judge_known_beer,
    judge_known_beers,
)
from seatworthy.rules.person_rules import KnowsBeerRule, KnowsBeerShare
from seatworthy.rules.read_aloud import read_aloud
from seatworthy.rules.reading import read_rulebook, rulebook_on_menu
from seatworthy.rules.texts import rulebook_text
from seatworthy.rules.verdict import Standing

TEXT = rulebook_text("default")
CHANCE = KnowsBeerRule(apart=1.0, sure=0.8, own_glasses=6, other_glasses=6, months=12)
SHARE = KnowsBeerShare(own_share=0.8, other_share=0.3, own_glasses=5, other_glasses=10, months=12)
SECTION = """
[knows_beer]
by = "chance"
apart = 1.0
sure = 0.8
own_glasses = 6
other_glasses = 6
months = 12
"""
LABELS = {"pils": "House Pils", "helles": "House Helles"}
KNOWN, GUESSED = BeerGlasses(8, 8, 8, 0), BeerGlasses(20, 10, 20, 10)


def standing(counts, rule=CHANCE):
    return judge_known_beer("House Pils", BeerGlasses(*counts), rule).standing


@pytest.mark.parametrize(
    ("counts", "expected"),
    [
        ((6, 6, 6, 0), Standing.MET),
        ((5, 5, 6, 0), Standing.TOO_LITTLE),
        ((6, 6, 5, 0), Standing.TOO_LITTLE),
        ((20, 10, 20, 10), Standing.NOT_MET),
        ((5, 0, 20, 20), Standing.TOO_LITTLE),
        ((0, 0, 0, 0), Standing.TOO_LITTLE),
    ],
)
def test_glasses_of_both_kinds_are_needed_before_anything_is_said(counts, expected):
    assert standing(counts) is expected


def test_met_from_the_chance_asked_for_and_not_met_from_its_opposite():
    counts = (8, 6, 8, 2)
    chance = chance_apart(BeerGlasses(*counts), 1.0)
    assert 0.7 < chance < 0.9
    assert standing(counts, replace(CHANCE, sure=chance)) is Standing.MET
    assert standing(counts, replace(CHANCE, sure=chance + 1e-6)) is Standing.TOO_LITTLE
    poor = (8, 4, 8, 4)
    low = chance_apart(BeerGlasses(*poor), 1.0)
    assert standing(poor, replace(CHANCE, sure=1 - low - 1e-9)) is Standing.NOT_MET
    assert standing(poor, replace(CHANCE, sure=1 - low + 1e-6)) is Standing.TOO_LITTLE


@pytest.mark.parametrize(
    ("counts", "expected"),
    [
        ((5, 4, 10, 3), Standing.MET),
        ((10, 7, 10, 3), Standing.NOT_MET),
        ((5, 4, 10, 4), Standing.NOT_MET),
        ((4, 4, 10, 0), Standing.TOO_LITTLE),
        ((5, 5, 9, 0), Standing.TOO_LITTLE),
        ((20, 11, 20, 0), Standing.NOT_MET),
    ],
)
def test_shares_may_reach_their_limits_and_not_pass_them(counts, expected):
    assert standing(counts, SHARE) is expected


def test_a_share_on_its_limit_is_met_however_it_is_rounded():
    assert standing((20, 11, 20, 0), replace(SHARE, own_share=0.55)) is Standing.MET


def test_the_sentence_has_its_numbers_and_what_would_change_it():
    verdict = judge_known_beer("House Pils", BeerGlasses(4, 4, 3, 1), CHANCE)
    assert verdict.sentence.startswith(
        "House Pils: yes to 4 of 4 of its own and to 1 of 3 others. "
    )
    assert verdict.sentence.endswith("At least 6 and 6 in 12 months are asked for.")
    assert verdict.change == (
        "House Pils: 2 more glasses of it and 3 of others, all answered right, would do."
    )


@pytest.mark.parametrize("counts", [(4, 4, 3, 1), (20, 10, 20, 10), (0, 0, 0, 0), (9, 3, 2, 2)])
@pytest.mark.parametrize("rule", [CHANCE, SHARE])
def test_the_way_is_true_and_one_glass_fewer_is_not_enough(counts, rule):
    seen = BeerGlasses(*counts)
    words = judge_known_beer("X", seen, rule).change.split()
    own, others = int(words[1]), int(words[7])
    assert judge_known_beer("X", seen.after(own, others), rule).standing is Standing.MET
    fewer = seen.after(own - 1, others - 1)
    assert judge_known_beer("X", fewer, rule).standing is not Standing.MET


@pytest.mark.parametrize(
    ("beers", "seen", "expected"),
    [
        (1, {"pils": KNOWN}, Standing.MET),
        (2, {"pils": KNOWN}, Standing.TOO_LITTLE),
        (2, {"pils": KNOWN, "helles": KNOWN}, Standing.MET),
        (3, {"pils": KNOWN, "helles": KNOWN}, Standing.MET),
        (1, {"pils": GUESSED}, Standing.TOO_LITTLE),
        (1, {"pils": GUESSED, "helles": GUESSED}, Standing.NOT_MET),
        (2, {"pils": KNOWN, "helles": GUESSED}, Standing.NOT_MET),
        (1, {}, Standing.TOO_LITTLE),
    ],
)
def test_enough_beers_of_the_family_must_be_known(beers, seen, expected):
    verdict = judge_known_beers(LABELS, seen, replace(CHANCE, beers=beers))
    assert verdict.standing is expected
    assert bool(verdict.change) is (expected is not Standing.MET)


def test_without_a_beer_on_the_shelf_it_says_so():
    verdict = judge_known_beers({}, {}, CHANCE)
    assert (verdict.standing, verdict.change) == (
        Standing.TOO_LITTLE,
        "Put the beers on the shelf.",
    )


def test_beers_of_another_family_do_not_help():
    assert judge_known_beers(LABELS, {"weisse": KNOWN}, CHANCE).standing is Standing.TOO_LITTLE


def test_a_rulebook_asks_for_it_only_where_it_says_so():
    assert rulebook_on_menu("default").knows_beer is None
    assert read_rulebook("own.toml", TEXT + SECTION).knows_beer == CHANCE


def test_by_share_is_read_too():
    section = SECTION.replace('"chance"', '"share"').replace(
        "apart = 1.0\nsure = 0.8", "own_share = 0.8\nother_share = 0.3"
    )
    book = read_rulebook("own.toml", TEXT + section + "beers = 2\nasked_for = false\n")
    assert book.knows_beer == KnowsBeerShare(0.8, 0.3, 6, 6, 12, 2, asked_for=False)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("own_glasses = 6", "own_glasses = 1", "only 0.9"),
        ("sure = 0.8", "sure = 0.5", "sure"),
        ("apart = 1.0", "apart = 9", "apart"),
        ("months = 12", "months = 12\nbeer = 2", "beer"),
        ("other_glasses = 6\n", "", "other_glasses"),
        ('by = "chance"', 'by = "luck"', "luck"),
    ],
)
def test_a_mistake_is_told_with_its_line(old, new, said):
    section = SECTION.replace(old, new)
    if old == "own_glasses = 6":
        section = section.replace("sure = 0.8", "sure = 0.99")
    with pytest.raises(RulebookRefused, match="own.toml cannot be used as a rulebook") as found:
        read_rulebook("own.toml", TEXT + section)
    (fault,) = found.value.faults
    assert said in str(fault)


def test_shares_that_saying_yes_to_everything_would_meet_are_refused():
    section = SECTION.replace('"chance"', '"share"').replace(
        "apart = 1.0\nsure = 0.8", "own_share = 0.5\nother_share = 0.5"
    )
    with pytest.raises(RulebookRefused, match="says yes as often to everything"):
        read_rulebook("own.toml", TEXT + section)


@pytest.mark.parametrize("rule", [CHANCE, SHARE])
@pytest.mark.parametrize(
    ("key", "value"),
    [("own_glasses", 7), ("other_glasses", 11), ("months", 9), ("beers", 3), ("asked_for", False)],
)
def test_every_number_is_read_aloud(rule, key, value):
    book = rulebook_on_menu("default")
    told = [
        read_aloud(replace(book, knows_beer=one), {})
        for one in (rule, replace(rule, **{key: value}))
    ]
    assert told[0] != told[1]
    part = next(part for part in told[0] if part.heading == "Knowing a beer")
    assert all(sentence.endswith(".") for sentence in part.sentences)


@pytest.mark.parametrize(
    ("rule", "changed"),
    [
        (CHANCE, {"apart": 1.25}),
        (CHANCE, {"sure": 0.85}),
        (SHARE, {"own_share": 0.85}),
        (SHARE, {"other_share": 0.2}),
    ],
)
def test_its_own_limits_are_read_aloud(rule, changed):
    book = rulebook_on_menu("default")
    told = read_aloud(replace(book, knows_beer=rule), {})
    assert told != read_aloud(replace(book, knows_beer=replace(rule, **changed)), {})
    assert "Knowing a beer" not in [part.heading for part in read_aloud(book, {})]
