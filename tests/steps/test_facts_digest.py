"""A digest that stays for ever by the record as it stood, and changes with every fact behind it."""

import re
import shutil
from datetime import UTC, date, datetime
from decimal import Decimal
from hashlib import sha256

import pytest

from seatworthy.steps.accepted_words import accept_words, take_words_back
from seatworthy.steps.asides import put_glass_back, set_glass_aside
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.desk import open_desk
from seatworthy.steps.facts_text import facts_digest, facts_text
from seatworthy.steps.people import known_spellings, merge_people, split_people
from seatworthy.steps.signing import salted
from seatworthy.steps.words import map_words

DAY, LAST, LATER = date(2026, 3, 5), date(2026, 3, 12), date(2026, 4, 1)
HEADER = "date,panellist,method,code,compound,level,dose,volume,answer,base beer,beer family"
ROWS = """
2026-03-05,Ada,naming,101,diacetyl,3,,,diacetyl,Pils,Pale
2026-03-05,Ada,naming,102,dms,,40 ug,1 l,dms,Pils,Pale
2026-03-05,Ada,naming,103,blank,,,,acetaldehyde,Pils,Pale
2026-03-05,Ada,naming,104,t2n,3,,,wet dog,Pils,Pale
2026-03-05,Ada,intensity,105,diacetyl,2.5,,,6,Pils,Pale
2026-03-05,Bo,naming,201,diacetyl,3,,,nothing,Pils,Pale
2026-03-05,Bo,intensity,205,diacetyl,2.5,,,2,Pils,Pale
2026-03-05,Cleo,naming,301,dms,3,,,wet dog,Pils,Pale
2026-03-12,Ada,naming,111,diacetyl,3,,,diacetyl,Pils,Pale
2026-03-12,Adda,naming,411,dms,3,,,dms,Pils,Pale
"""


def bring_in(desk, folder, rows):
    path = folder / f"rows {desk.version}.csv"
    path.write_text(f"{HEADER}\n{rows.strip()}\n", encoding="utf-8")
    bring_in_results(desk, path, new_people=["*"])


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    folder = tmp_path_factory.mktemp("built")
    with_rows = open_desk(folder / "panel.duckdb")
    bring_in(with_rows, folder, ROWS)
    with_rows.close()
    return with_rows.store.path


@pytest.fixture
def desk(built, tmp_path):
    path = tmp_path / "panel.duckdb"
    shutil.copyfile(built, path)
    opened = open_desk(path)
    opened.today = lambda: LATER
    yield opened
    opened.close()


def who(desk, name="Ada"):
    return known_spellings(desk).ids[name]


def digest(desk, name="Ada", as_of=LAST, known_at=None):
    return facts_digest(desk, who(desk, name), "pale", as_of, known_at)


def now():
    return datetime.now(UTC).replace(tzinfo=None)


def served(desk, code):
    """Serving, sample and session of a glass."""
    return (
        desk.store.cursor()
        .execute(
            "select serving_id, sample_id, session_id from serving join sample using (sample_id) "
            "join sitting using (sitting_id) where blind_code = ?",
            [code],
        )
        .fetchone()
    )


def record(desk, table, **row):
    with desk.store.recording("shelf") as act:
        act.add(table, row)


def correct(desk, code, kind="nothing", words=None):
    row = {"serving_id": served(desk, code)[0], "kind": kind, **salted("words", words)}
    record(desk, "answer", **row, words_key=words, rating=None)


def threshold(desk, since=DAY, compound="dms", family=""):
    record(desk, "working_threshold", compound=compound, family=family,
           threshold_ug_l=Decimal(35), valid_from_on=since)  # fmt: skip


def background(desk, compound="acetaldehyde"):
    record(desk, "background", beer="pils", compound=compound, known="measured",
           background_ug_l=Decimal(4000), valid_from_on=DAY)  # fmt: skip


def keeping(desk):
    record(desk, "keeping", compound="dms", half_life_h=Decimal(40), valid_from_on=DAY)


def lists(desk):
    with desk.store.recording("shelf") as act:
        act.add("beer_family", {"family": "pale", "label": "Pale"})
        act.add("family_compound", {"family": "pale", "item_no": 0, "compound": "dms",
                                    "role": "critical"})  # fmt: skip


def other_family(desk):
    with desk.store.recording("shelf") as act:
        act.add("beer_family", {"family": "dark", "label": "Dark"})
        act.add("base_beer", {"beer": "pils", "label": "Pils", "family": "dark",
                              "abv_percent": None})  # fmt: skip


def really(desk, **state):
    record(desk, "sample_state", sample_id=served(desk, "104")[1],
           **{"actual_level": None, "age_minutes": None, **state})  # fmt: skip


def prepared(desk, name):
    record(desk, "preparer", session_id=served(desk, "101")[2], person_id=who(desk, name),
           is_preparer=True)  # fmt: skip


def poured_instead(desk):
    record(desk, "poured_instead", serving_id=served(desk, "101")[0],
           sample_id=served(desk, "104")[1])  # fmt: skip


def sample_aside(desk, code):
    record(desk, "sample_aside", sample_id=served(desk, code)[1], is_aside=True,
           **salted("reason", "The jug was warm."))  # fmt: skip


def glass_aside(desk, code):
    set_glass_aside(desk, served(desk, code)[0], "It was spilt.", who(desk, "Bo"))


# In this order on one store, so that each changes something that those before it left.
CONCERNING = {
    "an answer corrected": lambda desk, _: correct(desk, "101"),
    "a word that means a compound": lambda desk, _: map_words(desk, "wet dog", "t2n"),
    "a word corrected to another": lambda desk, _: correct(desk, "104", "words", "wet hay"),
    "a word that means none": lambda desk, _: map_words(desk, "wet hay", "none"),
    "a word accepted for a compound": lambda desk, _: accept_words(desk, "wet hay", ["h2s"]),
    "the same for one more": lambda desk, _: accept_words(desk, "wet hay", ["ethanethiol"]),
    "a threshold of what a word is accepted for": lambda desk, _: threshold(
        desk, compound="ethanethiol"
    ),
    "a background of what a word is accepted for": lambda desk, _: background(desk, "ethanethiol"),
    "a word not accepted any more": lambda desk, _: take_words_back(desk, "wet hay", ["h2s"]),
    "a glass set aside": lambda desk, _: glass_aside(desk, "102"),
    "a sample set aside": lambda desk, _: sample_aside(desk, "111"),
    "another sample in the glass": lambda desk, _: poured_instead(desk),
    "two spellings merged": lambda desk, _: merge_people(desk, "Adda", "Ada"),
    "a threshold": lambda desk, _: threshold(desk),
    "a threshold of what was called in a blank": lambda desk, _: threshold(
        desk, compound="acetaldehyde"
    ),
    "a background": lambda desk, _: background(desk),
    "a half-life": lambda desk, _: keeping(desk),
    "the lists of the family": lambda desk, _: lists(desk),
    "another family of the beer": lambda desk, _: other_family(desk),
    "an actual level": lambda desk, _: really(desk, actual_level=Decimal("2.2")),
    "the age of a jug": lambda desk, _: really(desk, age_minutes=90),
    "a session prepared by oneself": lambda desk, _: prepared(desk, "Ada"),
    "a session of others held": lambda desk, folder: bring_in(
        desk, folder, "2026-03-09,Bo,naming,901,dms,3,,,dms,Pils,Pale"
    ),
    "an own glass brought in late": lambda desk, folder: bring_in(
        desk, folder, "2026-03-05,Ada,naming,150,dms,3,,,dms,Pils,Pale"
    ),
    "a rating of the same sample": lambda desk, folder: bring_in(
        desk, folder, "2026-03-05,Cleo,intensity,905,diacetyl,2.5,,,7,Pils,Pale"
    ),
    "a rating of the same sample set aside": lambda desk, _: glass_aside(desk, "905"),
    "a rating of the same sample by who prepared it": lambda desk, _: prepared(desk, "Bo"),
}
OF_OTHERS = {
    "a glass of somebody else": lambda desk, folder: bring_in(
        desk, folder, "2026-03-05,Bo,naming,950,dms,3,,,dms,Pils,Pale"
    ),
    "an answer of somebody else corrected": lambda desk, _: correct(desk, "201"),
    "a glass of somebody else set aside": lambda desk, _: glass_aside(desk, "301"),
    "somebody else's rating of another sample": lambda desk, folder: bring_in(
        desk, folder, "2026-03-05,Dora,intensity,955,dms,3,,,7,Pils,Pale"
    ),
    "a session prepared by somebody without a rating": lambda desk, _: prepared(desk, "Dora"),
    "a later session": lambda desk, folder: bring_in(
        desk, folder, "2026-03-13,Ada,naming,960,dms,3,,,dms,Pils,Pale"
    ),
    "a threshold from a later day": lambda desk, _: threshold(desk, since=date(2026, 3, 13)),
    "a threshold of a compound never touched": lambda desk, _: threshold(desk, compound="h2s"),
    "a word not used by this person": lambda desk, _: map_words(desk, "old boots", "h2s"),
    "a word accepted that this person did not use": lambda desk, _: accept_words(
        desk, "old boots", ["dms"]
    ),
    "two spellings of somebody else merged": lambda desk, _: merge_people(desk, "Dora", "Cleo"),
}


@pytest.fixture(scope="module")
def lived(built, tmp_path_factory):
    """A store in which all of this happened, and each act's moment with the digests around it."""
    folder = tmp_path_factory.mktemp("lived")
    shutil.copyfile(built, folder / "panel.duckdb")
    desk = open_desk(folder / "panel.duckdb")
    desk.today = lambda: LATER
    around, before = {}, digest(desk)
    for name, act in {**CONCERNING, **OF_OTHERS}.items():
        moment = now()
        act(desk, folder)
        around[name] = (moment, before, before := digest(desk))
    yield desk, around
    desk.close()


@pytest.mark.parametrize("name", CONCERNING)
def test_what_concerns_somebody_changes_the_digest(lived, name):
    _, before, after = lived[1][name]
    assert after != before


@pytest.mark.parametrize("name", OF_OTHERS)
def test_what_concerns_others_or_a_later_day_leaves_the_digest(lived, name):
    _, before, after = lived[1][name]
    assert after == before


@pytest.mark.parametrize("name", CONCERNING)
def test_by_the_record_as_it_stood_the_digest_stays_for_ever(lived, name):
    desk, around = lived
    moment, before, _ = around[name]
    assert digest(desk, known_at=moment) == before


def test_the_same_facts_have_the_same_digest(desk):
    assert digest(desk) == digest(desk)


def test_the_digest_is_the_sha_256_of_the_text(desk):
    text = facts_text(desk, who(desk), "pale", LAST)
    assert digest(desk) == sha256(text.encode()).hexdigest()


def test_the_digest_is_the_same_once_the_store_was_closed_and_opened(desk):
    before, path = digest(desk), desk.store.path
    desk.close()
    again = open_desk(path)
    found = digest(again)
    again.close()
    assert found == before


def test_a_later_own_glass_changes_the_digest_from_its_day_on(desk, tmp_path):
    day = date(2026, 3, 13)
    before = facts_text(desk, who(desk), "pale", day)
    bring_in(desk, tmp_path, f"{day},Ada,naming,960,dms,3,,,dms,Pils,Pale")
    assert facts_text(desk, who(desk), "pale", day) != before


def test_an_earlier_day_leaves_later_glasses_out(desk):
    serving, _, _ = served(desk, "111")
    assert serving not in facts_text(desk, who(desk), "pale", DAY)


def test_a_glass_put_back_gives_the_digest_of_before(desk):
    before = digest(desk)
    glass_aside(desk, "101")
    put_glass_back(desk, served(desk, "101")[0], "It was another.", who(desk, "Bo"))
    assert digest(desk) == before


def test_spellings_split_again_give_the_digest_of_before(desk):
    before = digest(desk)
    merge_people(desk, "Adda", "Ada")
    split_people(desk, "Adda")
    assert digest(desk) == before


def test_another_person_has_another_digest(desk):
    assert digest(desk) != digest(desk, "Bo")


def test_the_text_holds_every_own_glass(desk):
    text = facts_text(desk, who(desk), "pale", LAST)
    lines = [line for line in text.split("\n") if line.startswith("glass\x1f")]
    own = {served(desk, code)[0] for code in ("101", "102", "103", "104", "105", "111")}
    assert {line.split("\x1f")[1] for line in lines} == own


def test_the_text_holds_no_name(desk):
    text = facts_text(desk, who(desk), "pale", LAST)
    assert not re.search("Ada|Adda|Bo|Cleo", text)


def test_the_text_holds_no_word_that_somebody_used(desk):
    assert "wet dog" not in facts_text(desk, who(desk), "pale", LAST)


def test_the_text_holds_no_number_of_floating_point(desk):
    threshold(desk)
    really(desk, actual_level=Decimal("2.2"))
    text = facts_text(desk, who(desk), "pale", LAST)
    numbers = [
        part for part in re.split("[\x1f\n]", text) if re.fullmatch(r"[0-9.e+-]*\.[0-9e+-]*", part)
    ]
    assert numbers
    assert all(re.fullmatch(r"[0-9]+\.[0-9]{9}", number) for number in numbers)


def test_an_unknown_part_stands_as_its_own_sign(desk):
    blank = next(
        line
        for line in facts_text(desk, who(desk), "pale", LAST).split("\n")
        if served(desk, "103")[0] in line
    )
    assert blank.split("\x1f")[8] == "\x1e"


@pytest.mark.parametrize("words", ["hay\nglass\x1fforged", "hay\x1fright", "hay\x1e"])
def test_a_word_with_a_separator_forges_no_line(desk, words):
    before = facts_text(desk, who(desk), "pale", LAST)
    correct(desk, "104", "words", words)
    after = facts_text(desk, who(desk), "pale", LAST)
    shapes = [[line.count("\x1f") for line in text.split("\n")] for text in (before, after)]
    assert shapes[0] == shapes[1]
