import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seatworthy.intake.words import Unreadable, Vocabulary, fold, quoted, read_name, tidy


@pytest.mark.parametrize(
    ("written", "folded"),
    [
        ("Isovaleric acid", "isovaleric acid"),
        ("  (E)-2-Nonenal ", "e 2 nonenal"),
        ("José", "jose"),
        ("STRASSE", "strasse"),
        ("Straße", "strasse"),
        ("dose_ug", "dose ug"),
        ("µg", "μg"),  # micro sign to Greek mu
        ("\u00a0wet\u2003paper", "wet paper"),
        ("?!", ""),
    ],
)
def test_fold_keeps_letters_and_digits_only(written, folded):
    assert fold(written) == folded


@settings(deadline=None)
@given(st.text(max_size=60))
def test_folding_twice_changes_nothing(text):
    assert fold(fold(text)) == fold(text)


@settings(deadline=None)
@given(st.text(alphabet=st.characters(codec="ascii"), max_size=40))
def test_fold_is_the_same_for_ascii_whichever_way_it_is_taken(text):
    assert fold(text) == fold(text + "\u0301")


@settings(deadline=None)
@given(st.text(max_size=60))
def test_capitals_do_not_matter_to_fold(text):
    assert fold(text.casefold()) == fold(text)


def test_tidy_composes_letters_and_closes_gaps():
    assert tidy("  Jose\u0301   Luis\t") == "José Luis"


def test_quoted_is_short_and_shows_what_is_hidden():
    assert quoted("a\x00b") == "“a\\x00b”"
    assert len(quoted("x" * 10_000)) < 50


def test_vocabulary_finds_any_spelling(vocabulary):
    assert vocabulary.find("  DIMETHYL  Sulfide") == "dms"
    assert vocabulary.find("Acetic-acid") == "acetic_acid"
    assert vocabulary.find("marzipan door") is None
    assert vocabulary.find("") is None


def test_vocabulary_suggests_compounds_once_each(vocabulary):
    assert vocabulary.nearest("diacetil")[0] == "diacetyl"
    assert vocabulary.nearest("acid")[:2] in (("acetic_acid", "lactic_acid"), ())
    assert vocabulary.nearest("qqqqqq") == ()


def test_a_wording_without_letters_is_no_wording():
    assert Vocabulary({"???": "dms"}).find("!!!") is None


@pytest.mark.parametrize(
    "name", ["Łucja", "Bjørn-Åge", "O’Brien", "D. Müller", "Ann (early)", "李"]
)
def test_names_of_all_scripts_are_kept_as_written(name):
    assert read_name(f" {name} ") == name


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("=SUM(A1)", "formula"),
        ("+1", "formula"),
        ("@ann", "formula"),
        ("-ann", "formula"),
        ("＝ann", "formula"),
        ("Ann\x07", "hidden character"),
        ("Ann\u202e", "hidden character"),
        ("Ann\u200b", "hidden character"),
        ("<b>Ann</b>", "leave out < >"),
        ("[Ann](x)", "leave out"),
        ("Jos\ufffd", "lost in saving"),
        ("...", "letters or digits"),
        ("x" * 61, "at most 60 characters, got 61"),
        ("x" * 10_000, "at most 60 characters, got 10000"),
    ],
)
def test_names_that_would_do_harm_are_refused(name, reason):
    with pytest.raises(Unreadable, match=reason):
        read_name(name)


def test_a_name_of_sixty_letters_is_the_longest():
    assert read_name("x" * 60) == "x" * 60


@pytest.mark.parametrize(
    ("written", "plain"), [("Søren", "soren"), ("Łukasz", "lukasz"), ("Þóra", "thora")]
)
def test_stroked_letters_fold_to_plain_ones(written, plain):
    assert fold(written) == plain
