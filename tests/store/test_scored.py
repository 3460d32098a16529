import pytest
from given import DAY, beer, glass, person, session, vocabulary


@pytest.fixture
def lab(store):
    vocabulary(store)
    return store


def outcomes(store, view="scored_answer"):
    cursor = store.cursor()
    rows = cursor.execute(f"select serving_id, outcome from {view}").fetchall()
    cursor.close()
    return dict(rows)


@pytest.mark.parametrize(
    ("compound", "said", "kind", "method", "expected"),
    [
        ("diacetyl", "diacetyl", None, "naming", "right"),
        ("diacetyl", "dms", None, "naming", "wrong"),
        ("diacetyl", "marzipan door", None, "naming", "open"),
        ("diacetyl", None, "something", "naming", "noticed"),
        ("diacetyl", None, None, "naming", "missed"),
        (None, None, None, "naming", "right"),
        (None, "dms", None, "naming", "wrong"),
        (None, None, "something", "naming", "noticed"),
        ("diacetyl", None, "right", "3afc", "right"),
        ("diacetyl", None, "wrong", "triangle", "wrong"),
        ("diacetyl", None, "yes", "a_not_a", "right"),
        ("diacetyl", None, "no", "a_not_a", "missed"),
        (None, None, "yes", "a_not_a", "wrong"),
        (None, None, "no", "a_not_a", "right"),
    ],
)
def test_what_a_hit_is(lab, compound, said, kind, method, expected):
    with lab.recording("results") as act:
        beer(act)
        who, sitting = person(act, "ada"), session(act)
        serving = glass(act, sitting, who, compound, said, kind=kind, method=method)
    assert outcomes(lab) == {serving: expected}


def test_own_words_become_a_name_once_they_are_mapped(lab):
    with lab.recording("results") as act:
        beer(act)
        serving = glass(act, session(act), person(act, "ada"), "dms", "sweetcorn")
    assert outcomes(lab)[serving] == "open"
    with lab.recording("words") as act:
        act.add("synonym", {"words_key": "sweetcorn", "words": "sweetcorn", "compound": "dms"})
    assert outcomes(lab)[serving] == "right"


def test_words_that_stand_for_no_compound_are_a_wrong_name(lab):
    with lab.recording("results") as act:
        beer(act)
        serving = glass(act, session(act), person(act, "ada"), "dms", "beer garden")
    with lab.recording("words") as act:
        act.add("synonym", {"words_key": "beer garden", "words": "beer garden", "compound": None})
    assert outcomes(lab)[serving] == "wrong"


def test_a_glass_set_aside_does_not_count_until_it_is_put_back(lab):
    with lab.recording("results") as act:
        beer(act)
        serving = glass(act, session(act), person(act, "ada"), "dms", "dms")
    for is_aside, expected in ((True, {}), (False, {serving: "right"})):
        with lab.recording("set aside") as act:
            act.add("set_aside", {"serving_id": serving, "is_aside": is_aside})
        assert outcomes(lab) == expected


def level_of(store):
    cursor = store.cursor()
    row = cursor.execute("select total_level, background_level from sample_level").fetchone()
    cursor.close()
    return row


def state(act, threshold=None, background=None, known="measured"):
    if threshold:
        act.add("working_threshold", {
            "compound": "diacetyl", "family": threshold[1], "threshold_ug_l": threshold[0],
            "valid_from_on": threshold[2] if len(threshold) > 2 else "2026-01-01",
        })  # fmt: skip
    if background is not None:
        act.add("background", {
            "beer": "pils", "compound": "diacetyl", "known": known,
            "background_ug_l": background, "valid_from_on": "2026-01-01",
        })  # fmt: skip


def dosed(store, statements):
    with store.recording("shelf") as act:
        beer(act)
        for statement in statements:
            state(act, **statement)
    with store.recording("results") as act:
        glass(
            act, session(act), person(act, "ada"), "diacetyl", "diacetyl",
            level=None, dose_ug=33, volume_ml=330,
        )  # fmt: skip


def test_a_dose_becomes_a_total_level_with_volume_background_and_threshold(lab):
    """33 ug in 0.33 L over 20 ug/L is 120 ug/L, 3 x 40 (common practice, no source)."""
    dosed(lab, [{"threshold": (40, ""), "background": 20}])
    assert level_of(lab) == pytest.approx((3.0, 0.5))


def test_without_a_threshold_the_level_is_not_known_and_not_zero(lab):
    dosed(lab, [{"background": 20}])
    assert level_of(lab) == (None, None)


def test_a_familys_own_threshold_comes_before_the_general_one(lab):
    dosed(lab, [{"threshold": (40, "")}, {"threshold": (100, "pale")}])
    assert level_of(lab)[0] == pytest.approx(1.0)


def test_the_threshold_in_force_that_day_counts_not_a_later_one(lab):
    dosed(lab, [{"threshold": (40, "")}, {"threshold": (400, "", "2026-03-03")}])
    assert level_of(lab)[0] == pytest.approx(100 / 40)


@pytest.mark.parametrize(
    ("background", "known", "is_possible"),
    [(20, "measured", True), (19.9, "measured", False), (None, "unknown", True)],
)
def test_a_call_in_a_blank_may_be_the_beers_own(lab, background, known, is_possible):
    with lab.recording("shelf") as act:
        beer(act)
        state(act, threshold=(40, ""))
        act.add("background", {
            "beer": "pils", "compound": "diacetyl", "known": known,
            "background_ug_l": background, "valid_from_on": "2026-01-01",
        })  # fmt: skip
    with lab.recording("results") as act:
        glass(act, session(act), person(act, "ada"), None, "diacetyl")
    row = lab.rows("blank_counts", after_on="2026-01-01", until_on=DAY)[0]
    assert (row["false_calls"], row["possible_background"]) == ((0, 1) if is_possible else (1, 0))


def test_what_is_expected_of_a_beer_is_no_false_call(lab):
    with lab.recording("shelf") as act:
        beer(act)
        act.add("family_compound", {
            "family": "pale", "item_no": 0, "compound": "dms", "role": "expected",
        })  # fmt: skip
    with lab.recording("results") as act:
        sitting, who = session(act), person(act, "ada")
        glass(act, sitting, who, None, "dms", number=1)
        glass(act, sitting, who, None, "diacetyl", number=2)
        glass(act, sitting, who, None, None, number=3)
    row = lab.rows("blank_counts", after_on="2026-01-01", until_on=DAY)[0]
    assert (row["blanks"], row["false_calls"], row["possible_background"]) == (2, 1, 1)


def test_the_record_can_be_read_as_it_stood(lab):
    with lab.recording("results") as act:
        beer(act)
        serving = glass(act, session(act), person(act, "ada"), "dms", "corn")
    moment = lab.cursor().execute("select max(recorded_at) from history").fetchone()[0]
    with lab.recording("words") as act:
        act.add("synonym", {"words_key": "corn", "words": "corn", "compound": "dms"})
    then = lab.rows("scored_answers", moment, until_on=DAY)
    now = lab.rows("scored_answers", until_on=DAY)
    assert [row["outcome"] for row in then] == ["open"]
    assert [row["outcome"] for row in now] == ["right"]
    assert serving


def test_two_spellings_are_one_person_until_they_are_split(lab):
    with lab.recording("results") as act:
        beer(act)
        sitting, one, other = session(act), person(act, "ada"), person(act, "Ada")
        glass(act, sitting, one, "dms", "dms")
        glass(act, sitting, other, "dms", "dms")
    for is_same, people in ((True, {one}), (False, {one, other})):
        with lab.recording("same person") as act:
            row = {"person_id": other, "stands_for": one, "is_same": is_same}
            act.add("same_person", row)
        found = {row["person_id"] for row in lab.rows("scored_answers", until_on=DAY)}
        assert found == people


def test_only_the_threshold_in_force_decides_what_a_background_explains(lab):
    with lab.recording("shelf") as act:
        beer(act)
        state(act, threshold=(10, "", "2024-01-01"), background=10)
        state(act, threshold=(100, "", "2026-02-01"))
    with lab.recording("results") as act:
        glass(act, session(act), person(act, "ada"), None, "diacetyl")
    row = lab.rows("blank_counts", after_on="2026-01-01", until_on=DAY)[0]
    assert (row["false_calls"], row["possible_background"]) == (1, 0)


def test_a_list_stated_empty_later_is_empty(lab):
    def stated(*compounds):
        with lab.recording("shelf") as act:
            beer(act)
            for item_no, compound in enumerate(compounds):
                row = {"family": "pale", "item_no": item_no, "compound": compound}
                act.add("family_compound", {**row, "role": "critical"})
        return [row["compound"] for row in lab.rows("family_compounds")]

    assert stated("dms", "diacetyl") == ["dms", "diacetyl"]
    assert stated("dms") == ["dms"]
    assert stated() == []


def test_own_words_in_a_blank_wait_for_their_meaning(lab):
    with lab.recording("results") as act:
        beer(act)
        sitting, who = session(act), person(act, "ada")
        glass(act, sitting, who, None, "beer garden", number=1)
        glass(act, sitting, who, None, None, number=2)
    row = lab.rows("blank_counts", after_on="2026-01-01", until_on=DAY)[0]
    assert (row["blanks"], row["false_calls"]) == (1, 0)
    with lab.recording("words") as act:
        act.add("synonym", {"words_key": "beer garden", "words": "beer garden", "compound": None})
    row = lab.rows("blank_counts", after_on="2026-01-01", until_on=DAY)[0]
    assert (row["blanks"], row["false_calls"]) == (2, 1)


def rated(store):
    with store.reading() as cursor:
        rows = cursor.execute("select rating, duplicate_mark from rated_glass order by rating")
        return [(float(rating), mark) for rating, mark in rows.fetchall()]


def test_a_rating_is_evidence_of_repeatability_and_of_nothing_else(lab):
    with lab.recording("results") as act:
        beer(act)
        who, sitting = person(act, "ada"), session(act)
        glass(
            act, sitting, who, "dms", None, kind="rating", method="intensity", rating=6.5, mark="a"
        )
        aside = glass(
            act, sitting, who, "dms", None, kind="rating", method="intensity", rating=2, number=2
        )
        act.add("set_aside", {
            "serving_id": aside, "is_aside": True, "reason": None, "reason_salt": None,
            "reason_digest": None,
        })  # fmt: skip
    assert rated(lab) == [(6.5, "a")]
    assert outcomes(lab) == {}


def test_a_sample_supposed_aside_counts_for_nothing_and_stays_on_record(lab):
    with lab.recording("results") as act:
        beer(act)
        who, sitting = person(act, "ada"), session(act)
        glass(act, sitting, who, "dms", "dms")
        kept = glass(act, sitting, who, "diacetyl", "diacetyl")
    doubtful = f"{sitting} dms 3 None pils"
    with lab.reading(supposed_aside=[doubtful]) as cursor:
        rows = cursor.execute("select serving_id from scored_answer").fetchall()
    assert [row[0] for row in rows] == [kept]
    assert len(outcomes(lab)) == 2


def level_after(store, minutes, *, half_life_h, background_ug_l=None, **how):
    """Total level of one sample of diacetyl poured some minutes after dosing."""
    with store.recording("results") as act:
        beer(act)
        state(act, threshold=(10, ""), background=background_ug_l)
        act.add("keeping", {
            "compound": "diacetyl", "half_life_h": half_life_h, "valid_from_on": "2026-01-01",
        })  # fmt: skip
        glass(act, session(act), person(act, "ada"), "diacetyl", "diacetyl", **how)
        sample = act.cursor.execute("select sample_id from sample").fetchone()[0]
        act.add("sample_state", {
            "sample_id": sample, "actual_level": None, "age_minutes": minutes,
        })  # fmt: skip
    with store.reading() as cursor:
        return cursor.execute("select total_level from scored_answer").fetchone()[0]


def test_half_of_what_was_added_is_gone_after_its_half_life(lab):
    assert level_after(lab, 120, half_life_h=2, level=3) == pytest.approx(1.5)


def test_a_loss_takes_off_what_was_added_and_not_the_background(lab):
    assert level_after(lab, 120, half_life_h=2, level=3, background_ug_l=10) == pytest.approx(2.0)


def test_a_dose_is_lost_as_a_level_is(lab):
    found = level_after(
        lab, 240, half_life_h=2, background_ug_l=5, dose_ug=20, volume_ml=1000, level=None
    )
    assert found == pytest.approx(0.5 + 2.0 / 4)


def test_a_half_life_taken_back_loses_nothing(lab):
    assert level_after(lab, 120, half_life_h=None, level=3) == 3


def test_a_level_below_the_background_is_not_made_larger_by_a_loss(lab):
    assert level_after(lab, 120, half_life_h=2, level=0.5, background_ug_l=10) == 0.5


def test_what_is_lost_altogether_leaves_a_trace_and_not_zero(lab):
    assert level_after(lab, 10_080, half_life_h=0.1, level=3) == pytest.approx(3e-6)
