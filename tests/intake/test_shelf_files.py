from contextlib import suppress
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seatworthy.errors import FileRefused
from seatworthy.intake.shelf import read_shelf
from seatworthy.intake.shelf_items import Background, Compound, Synonym, WorkingThreshold

FULL = """
[brewery]
name = "Quillmere Brewery"
time_zone = "Europe/Dublin"

[beer_families.pale_lager]
label = "Pale lagers"
critical = ["diacetyl", "Dimethyl sulfide", ["acetic_acid", "lactic_acid"]]
expected = []

[[base_beers]]
label = "Quillmere Pils"
family = "pale_lager"
abv = 4.8

[[working_thresholds]]
compound = "diacetyl"
family = "pale_lager"        # left out = every family
value = 0.06
unit = "mg/L"
from = 2025-01-01

[[working_thresholds]]
compound = "t2n"
value = 100
unit = "ng/l"
from = 2025-01-01

[[backgrounds]]
beer = "quillmere pils"
compound = "dms"
value = 25
unit = "µg/L"
known = "measured"
from = 2025-01-01

[[backgrounds]]
beer = "Quillmere Pils"
compound = "h2s"
known = "unknown"
from = 2025-01-01

[[synonyms]]
compound = "dms"
words = ["sweetcorn", "creamed corn"]

[[compounds]]
key = "marzipan_note"
label = "Marzipan note"
"""


@pytest.fixture
def shelf(tmp_path, vocabulary):
    def _shelf(content):
        path = tmp_path / "shelf.toml"
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return read_shelf(path, vocabulary)

    return _shelf


def test_a_full_shelf(shelf):
    found = shelf(FULL)
    assert (found.brewery.name, found.brewery.time_zone) == ("Quillmere Brewery", "Europe/Dublin")
    (family,) = found.families
    assert (family.key, family.label) == ("pale_lager", "Pale lagers")
    assert family.critical == (("diacetyl",), ("dms",), ("acetic_acid", "lactic_acid"))
    assert family.expected == ()
    assert found.base_beers[0].abv == Decimal("4.8")
    since = date(2025, 1, 1)
    assert found.working_thresholds == (
        WorkingThreshold("diacetyl", "pale_lager", Decimal(60), since),
        WorkingThreshold("t2n", None, Decimal("0.1"), since),
    )
    assert found.backgrounds == (
        Background("Quillmere Pils", "dms", Decimal(25), "measured", since),
        Background("Quillmere Pils", "h2s", None, "unknown", since),
    )
    assert found.synonyms == (Synonym("dms", ("sweetcorn", "creamed corn")),)
    assert found.compounds == (Compound("marzipan_note", "Marzipan note"),)


def test_what_the_file_does_not_speak_of_is_left_open(shelf):
    found = shelf('\ufeff[[synonyms]]\ncompound = "dms"\nwords = ["sweetcorn"]\n')
    assert found.brewery is None
    assert found.families == ()
    assert shelf("").synonyms == ()


def test_a_compound_of_the_file_may_be_used_in_it(shelf):
    text = FULL.replace('["diacetyl", ', '["Marzipan note", "diacetyl", ')
    assert shelf(text).families[0].critical[0] == ("marzipan_note",)


def test_a_compound_on_the_shelf_already_is_not_stated_anew(shelf):
    assert shelf('[[compounds]]\nkey = "dms"\nlabel = "DMS"\n').compounds == ()


@pytest.mark.parametrize(
    ("old", "new", "reason"),
    [
        ("Europe/Dublin", "Dublin", "line 4: time_zone must be a time zone like Europe/Dublin"),
        ('"Quillmere Brewery"', '"=1"', "line 3: name must be a name"),
        ('name = "Quillmere Brewery"', "", "line 2: name is missing"),
        ("pale_lager]", "Pale-Lager]", "line 6: the key “Pale-Lager” must be small letters"),
        ('"diacetyl", ', '"diacetil", ', "line 8: a compound in critical .*Nearest: diacetyl"),
        ('"diacetyl", ', '"dms", ', "line 8: critical lists dms twice"),
        ('"diacetyl", ', "[], ", "line 8: critical holds an empty group"),
        ('"diacetyl", ', "7, ", "line 8: a compound in critical is not on the shelf: “7”"),
        ("expected = []", 'expected = "dms"', "line 9: expected must be a list"),
        ("abv = 4.8", "abv = 31", "line 14: abv must lie between 0 and 30"),
        ("abv = 4.8", "abv = nan", "line 14: abv must lie between 0 and 30"),
        ("abv = 4.8", 'abv = "4.8"', "line 14: abv must be a number without"),
        ("abv = 4.8", "abv = true", "line 14: abv must be a number without"),
        (
            "abv = 4.8",
            "strength = 4.8",
            "line 14: “strength” is not known in .base_beers.; it knows",
        ),
        ("value = 0.06", "value = -1", "line 19: value must lie between 0 and"),
        ("value = 0.06", "value = 0", "line 19: value must be above 0"),
        ("value = 0.06", "value = 1e-13", "line 19: value is beyond belief"),
        ("value = 0.06", "", "value is missing"),
        ('unit = "mg/L"', 'unit = "ppm"', "line 20: unit must be ng/L, ug/L or mg/L"),
        ('family = "pale_lager"        #', 'family = "ales" #', "line 18: family must be one of"),
        ("value = 100", "value = inf", "line 25: value must lie between"),
        ('"quillmere pils"', '"Helles"', "line 30: beer must be one of the beers"),
        ('known = "measured"', 'known = "guessed"', "line 34: known must be measured, assumed or"),
        ('known = "unknown"', 'known = "unknown"\nvalue = 3', "line 41: a value is given although"),
        ("from = 2025-01-01\n\n[[syn", 'from = "2025"\n\n[[syn', "line 41: from must be a day"),
        ('["sweetcorn", ', '["nothing", ', "line 45: “nothing” names no compound; take it out"),
        ('["sweetcorn", ', '["!!", ', "line 45: a wording must be a text with letters"),
        ('["sweetcorn", ', '["sweetcorn", 7, ', "line 45: a wording must be a text"),
        ("marzipan_note", "Marzipan Note", "line 48: key must be small letters"),
        ("marzipan_note", "butter", "line 48: “butter” is a wording of diacetyl already"),
        ("[brewery]", "[[brewery]]", "line 2: brewery must be a table"),
        ("[[base_beers]]", "[base_beers]", "line 11: base_beers must be written as"),
        (
            "[beer_families.pale_lager]",
            "[[beer_families]]",
            "line 6: beer_families must be written",
        ),
        ("[brewery]", "[brewer]", "line 2: “brewer” is not known here; known are brewery"),
        ("[brewery]", "[brewery", "line 2: cannot be read as TOML"),
    ],
)
def test_a_faulty_entry_is_named_with_its_line_and_reason(shelf, old, new, reason):
    assert old in FULL
    with pytest.raises(FileRefused, match=reason):
        shelf(FULL.replace(old, new, 1))


def test_all_faults_come_at_once(shelf):
    text = FULL.replace("4.8", "40").replace("0.06", "-1").replace("measured", "guessed")
    with pytest.raises(FileRefused, match="abv must lie") as refused:
        shelf(text)
    assert [fault.line for fault in refused.value.faults] == [14, 19, 34]


@pytest.mark.parametrize(
    ("entry", "reason"),
    [
        (
            '[[base_beers]]\nlabel = "QUILLMERE PILS"\nfamily = "pale_lager"',
            "stated already on line 11",
        ),
        (
            '[[working_thresholds]]\ncompound = "t2n"\nvalue = 90\nunit = "ng/L"\nfrom = 2025-01-01',
            "t2n from 2025-01-01 is stated already on line 23",
        ),
        ('[[synonyms]]\ncompound = "h2s"\nwords = ["Sweetcorn"]', "“Sweetcorn” stands for dms too"),
        ('[[compounds]]\nkey = "marzipan_note"\nlabel = "M"', "marzipan_note is stated already"),
    ],
)
def test_nothing_is_stated_twice(shelf, entry, reason):
    with pytest.raises(FileRefused, match=reason):
        shelf(f"{FULL}\n{entry}\n")


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b'name = "Zo\xeb"', "line 1: is not UTF-8 text"),
        ("a = " + "[" * 50_000, "nested too deeply"),
        ("a = 2025-02-31", "cannot be read as TOML"),
        ("a = " + "9" * 5_000, "cannot be read as TOML"),
        ("[[base_beers]]\nlabel = 0x" + "f" * 5_000, "label must be a text"),
        ("x" * 1_000_001, "at most 1 MB"),
    ],
)
def test_text_that_is_no_toml_is_refused(shelf, content, reason):
    with pytest.raises(FileRefused, match=reason):
        shelf(content)


@settings(max_examples=150, deadline=None)
@given(at=st.integers(0, len(FULL) - 1), cut=st.integers(0, 30), put=st.text(max_size=6))
def test_no_change_to_a_shelf_file_ends_in_a_traceback(tmp_path_factory, vocabulary, at, cut, put):
    path = tmp_path_factory.getbasetemp() / "mutated.toml"
    path.write_bytes((FULL[:at] + put + FULL[at + cut :]).encode())
    with suppress(FileRefused):
        assert read_shelf(path, vocabulary)
