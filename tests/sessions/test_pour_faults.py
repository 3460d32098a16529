from dataclasses import replace
from decimal import Decimal

import pytest
from asked import (
    PEOPLE,
    WISH,
    blank,
    faults_of,
    only_fault_of,
    people_with,
    sitting,
    spiked,
    wish,
    with_limits,
)

from seatworthy.sessions.codes import CODES


def with_sample(sample):
    return wish(samples=(*WISH.samples, sample))


def test_a_session_without_samples_is_refused():
    assert only_fault_of(wish(samples=())) == (
        "There is nothing to pour: add a sample with a compound, or a blank."
    )


@pytest.mark.parametrize("samples", [(blank(),), (spiked("dms"),)])
def test_blanks_alone_or_compounds_alone_can_be_poured(samples):
    assert faults_of(wish(samples=samples)) == ()


def test_as_many_glasses_as_the_limit_can_be_poured():
    assert faults_of(with_limits(most_glasses=5)) == ()


def test_one_glass_above_the_limit_is_refused():
    assert only_fault_of(with_limits(most_glasses=4)) == (
        "5 glasses for one person are more than the limit of 4: take samples or steps out, pour fewer "
        "of them twice, raise the limit, let each taste only some, or plan two sessions."
    )


def test_forty_glasses_are_one_sentence():
    asked = wish(samples=(blank(),) * 40, volume_ml=Decimal(5))
    assert [fault[:10] for fault in faults_of(asked)] == ["40 glasses"]


@pytest.mark.parametrize(("cap", "words"), [(0, "0 glasses"), (25, "25 glasses")])
def test_a_senseless_limit_of_glasses_is_refused(cap, words):
    wanted = f"A limit of {words} for one person was set: choose 1 to 24."
    assert wanted in faults_of(with_limits(most_glasses=cap))


@pytest.mark.parametrize("glasses", [0, 3, -1])
def test_a_sample_is_poured_once_or_twice(glasses):
    assert only_fault_of(with_sample(blank(glasses))) == (
        f"Sample D is poured {glasses} times for each person: pour it once, or twice as a hidden "
        "duplicate."
    )


def test_a_compound_without_level_is_refused():
    assert only_fault_of(with_sample(spiked("acetaldehyde", None))) == (
        "Acetaldehyde has no level: say how many times its working threshold."
    )


@pytest.mark.parametrize("level", ["0.01", "100"])
def test_levels_up_to_a_hundred_can_be_poured(level):
    assert faults_of(with_sample(spiked("acetaldehyde", level))) == ()


@pytest.mark.parametrize("level", ["0", "-3", "0.009", "100.1", "NaN", "Infinity"])
def test_other_levels_are_refused(level):
    assert only_fault_of(with_sample(spiked("acetaldehyde", level))) == (
        f"Acetaldehyde has a level of {level}×: choose 0.01 to 100 times the working threshold."
    )


def test_a_blank_has_no_level():
    assert only_fault_of(with_sample(blank(level=Decimal("2.50")))) == (
        "Sample D has nothing added and yet a level of 2.5×: take the level out, or name the "
        "compound."
    )


def test_the_same_compound_at_the_same_level_stands_in_one_line():
    assert only_fault_of(with_sample(spiked("dms", "3.0"))) == (
        "DMS at 3× stands in samples B and D: keep one of them, and pour it twice for a hidden "
        "duplicate."
    )


def test_the_same_compound_at_two_levels_can_be_poured():
    assert faults_of(with_sample(spiked("dms", "2"))) == ()


def test_a_compound_that_is_not_for_serving_is_refused():
    assert only_fault_of(with_sample(spiked("furfural"))) == (
        "Furfural is not for serving (vocabulary only): take it out."
    )


def test_a_compound_nobody_has_recorded_is_refused():
    assert only_fault_of(with_sample(spiked("stardust"))) == (
        "“stardust” is not a compound on record: choose one from the list."
    )


def test_a_compound_without_working_threshold_is_refused_with_what_books_say():
    assert only_fault_of(with_sample(spiked("geosmin"))) == (
        "Geosmin has no working threshold for pale lagers, so 3× means nothing yet. Books say 10 to "
        "20 ng/l; choose yours on the shelf."
    )


def test_where_books_say_nothing_the_fault_says_so():
    assert only_fault_of(with_sample(spiked("sotolone"))) == (
        "Sotolone has no working threshold for pale lagers, so 3× means nothing yet. Books say "
        "nothing sure; choose yours on the shelf."
    )


def test_what_somebody_is_not_to_be_served_is_refused():
    assert only_fault_of(WISH, people=people_with(bo={"diacetyl", "dms", "geosmin"})) == (
        "Bo Marsh is not to be served diacetyl and DMS: let such glasses be left out, leave Bo "
        "Marsh out, or take it out of the session."
    )


def test_what_somebody_who_does_not_come_is_not_to_be_served_is_no_matter():
    asked = wish(sittings=(sitting(people=("ada",)),))
    assert faults_of(asked, people=people_with(bo={"diacetyl"})) == ()


def test_somebody_for_whom_nothing_would_be_left_cannot_come():
    asked = wish(samples=(spiked("dms"),), leaves_out=True)
    assert only_fault_of(asked, people=people_with(bo={"dms"})) == (
        "Bo Marsh is not to be served DMS, and there is nothing else: leave Bo Marsh out, or add "
        "another sample."
    )


@pytest.mark.parametrize("leaves_out", [True, False])
def test_a_beer_somebody_is_not_to_be_served_cannot_be_left_out(leaves_out):
    people = PEOPLE | {"bo": replace(PEOPLE["bo"], refused_beers=frozenset({"pils"}))}
    assert only_fault_of(wish(leaves_out=leaves_out), people=people) == (
        "Bo Marsh is not to be served Quillmere Pils, which is in every glass: leave Bo Marsh out, "
        "or choose another beer."
    )


@pytest.mark.parametrize("volume", ["5", "30", "200"])
def test_glasses_of_5_to_200_ml_can_be_poured(volume):
    asked = replace(with_limits(alcohol_g=Decimal(100)), volume_ml=Decimal(volume))
    assert faults_of(asked) == ()


@pytest.mark.parametrize("volume", ["4.9", "200.1", "NaN"])
def test_other_volumes_are_refused(volume):
    assert only_fault_of(wish(volume_ml=Decimal(volume))) == (
        f"A glass holds {volume} ml: choose 5 to 200 ml."
    )


@pytest.mark.parametrize("abv", ["0", "30"])
def test_beers_up_to_30_percent_can_be_poured(abv):
    asked = replace(with_limits(alcohol_g=Decimal(100)), abv_percent=Decimal(abv))
    assert faults_of(asked) == ()


@pytest.mark.parametrize("abv", ["-0.1", "30.1"])
def test_other_beers_are_refused(abv):
    assert only_fault_of(wish(abv_percent=Decimal(abv))) == (
        f"The base beer has {abv}% alcohol: choose 0 to 30%."
    )


def test_a_spat_share_above_all_is_refused():
    assert only_fault_of(with_limits(spat_share=Decimal("1.2"))) == (
        "120% of a spat glass counts as swallowed: choose 0 to 100%."
    )


def test_a_negative_alcohol_limit_is_refused():
    assert only_fault_of(with_limits(alcohol_g=Decimal(-1))) == (
        "The alcohol limit is -1 g: choose 0 to 100 g."
    )


def test_alcohol_at_the_limit_may_be_swallowed():
    asked = replace(with_limits(alcohol_g=Decimal("6.82")), spits=False)
    assert faults_of(asked) == ()


def test_alcohol_above_the_limit_is_refused_if_not_everybody_spits():
    asked = replace(with_limits(alcohol_g=Decimal("6.81")), spits=False)
    assert only_fault_of(asked) == (
        "Swallowed, 180 ml at 4.8% are 6.82 g of alcohol for one person, above the limit of 6.81 "
        "g: let everybody spit, pour less, or take samples out."
    )


def test_alcohol_above_the_limit_is_refused_also_when_spat():
    assert only_fault_of(with_limits(alcohol_g=Decimal("1.35"))) == (
        "180 ml at 4.8% hold 6.82 g of alcohol for one person; even if everybody spits, 1.36 g "
        "count as swallowed, above the limit of 1.35 g: pour less, or take samples out."
    )


def test_too_few_codes_are_said_with_the_numbers():
    (fault,) = faults_of(WISH, taken=CODES[39:])
    assert fault.startswith("This plan needs 40 codes and 39 of 874 are left")


def test_codes_that_spare_orders_lack_are_said_together_with_other_faults():
    assert len(faults_of(wish(label=""), taken=CODES[39:])) == 2
