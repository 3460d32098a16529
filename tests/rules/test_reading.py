from contextlib import suppress
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seatworthy.errors import RulebookRefused
from seatworthy.rules.compound_rules import (
    AlsoRule,
    ChanceRule,
    GuessingRule,
    KOfNRule,
    SequentialRule,
    ShareRule,
    ThresholdRule,
)
from seatworthy.rules.impossible import MOST_A_SESSION
from seatworthy.rules.person_rules import FalseCallShare
from seatworthy.rules.reading import read_rulebook, rulebook_on_menu
from seatworthy.rules.rulebook import Asked, FamilyLists, Rulebook
from seatworthy.rules.texts import rulebook_text
from seatworthy.sessions.pouring import HIGHEST_CAP

TEXT = rulebook_text("default")
SHORTEST = """
name = "own"
version = 3
counts_from = 2026-03-01
about = "Ours."
[counted]
lowest_level = 2
highest_level = 4
months = 12
[compound]
by = "share"
share = 0.8
glasses = 6
[seat]
critical_met = 1
critical_not_met = 0
valid_months = 6
notice_days = 30
[panel]
quorum = 4
people_per_compound = 2
from_other_crews = 2
callers_for_fault = 2
callers_for_retaste = 1
[critical]
compounds = ["dms"]
"""


def own(old="", new=""):
    assert old in SHORTEST
    return read_rulebook("own.toml", SHORTEST.replace(old, new, 1) if old else SHORTEST + new)


def refused(text):
    with pytest.raises(RulebookRefused, match="own.toml cannot be used as a rulebook") as found:
        read_rulebook("own.toml", text)
    return found.value.faults


def test_the_default_rulebook_says_the_numbers_it_was_simulated_with():
    book = rulebook_on_menu("default")
    assert book.asked == Asked(reference_level=3.0, named_right=0.70)
    assert (book.compound.met_when_sure, book.compound.not_met_when_below) == (0.85, 0.05)
    assert (book.false_calls.blanks, book.false_calls.sure) == (10, 0.75)
    assert (book.duplicates.improbable, book.duplicates.pairs) == (0.01, 6)
    assert (book.seat.critical_met, book.seat.critical_not_met) == (4, 1)
    assert (book.start_up.until_seats, book.start_up.critical_met) == (4, 3)
    assert book.critical[-1] == ("acetic_acid", "lactic_acid")
    assert (book.version, book.counts_from) == (1, date(2025, 1, 1))


def test_a_name_that_is_not_on_the_menu_is_the_callers_slip():
    with pytest.raises(ValueError, match="no rulebook called 'kind'"):
        rulebook_on_menu("kind")


def test_sections_that_are_left_out_are_not_asked_for():
    book = own()
    left_out = ("insensitive", "false_calls", "duplicates", "deviation", "order", "attendance",
                "probation", "start_up", "recheck")  # fmt: skip
    assert [getattr(book, section) for section in left_out] == [None] * 9
    assert (book.also, book.families, book.follows) == ((), {}, "")


def test_the_estimate_is_asked_the_same_where_a_rulebook_does_not_say():
    assert own().asked == Asked()


def test_keys_with_a_usual_value_may_be_left_out():
    book = own()
    assert (book.compound.methods, book.compound.days, book.compound.months) == (
        ("naming",),
        1,
        None,
    )
    assert (book.seat.grace_days, book.panel.trades, book.panel.probation_counts) == (0, 1, True)


def test_a_section_without_by_is_of_its_first_kind():
    book = own(new="[false_calls]\nceiling = 0.2\nsure = 0.75\nblanks = 10\nmonths = 12\n")
    assert book.false_calls.sure == 0.75


def test_by_chooses_the_kind():
    book = own(new='[false_calls]\nby = "share"\nceiling = 0\nblanks = 10\nmonths = 12\n')
    assert book.false_calls == FalseCallShare(ceiling=0, blanks=10, months=12)


KINDS = {
    ChanceRule: """by = "chance"
        met_when_sure = 0.85
        glasses = 4
        days = 2
        not_met_when_below = 0.05
        not_met_glasses = 6
        met_stands_weeks = 26
        met_ends_below = 0.5""",
    KOfNRule: 'by = "k_of_n"\nright = 10\nof = 12\nleave_at = 7\nwindows = "sliding"',
    ShareRule: 'by = "share"\nshare = 1\nglasses = 6',
    GuessingRule: 'by = "guessing"\nimprobable = 0.05\nglasses = 6',
    SequentialRule: """by = "sequential"
        poor = 0.4
        good = 0.7
        wrongly_met = 0.05
        wrongly_not_met = 0.1""",
    ThresholdRule: """by = "threshold"
        lowest = 0.5
        highest = 2
        spread_at_most = 2.3
        estimates = 10
        days = 3
        last_estimates = 20
        months = 12""",
}


@pytest.mark.parametrize("kind", KINDS)
def test_a_compound_can_be_judged_by_each_kind(kind):
    book = own('by = "share"\nshare = 0.8\nglasses = 6', KINDS[kind])
    assert type(book.compound) is kind


@pytest.mark.parametrize("kind", KINDS)
def test_a_further_rule_can_be_of_each_kind(kind):
    book = own(new=f'[[also]]\nname = "More"\n{KINDS[kind]}\n')
    assert type(book.also[0].rule) is kind


def test_a_further_rule_looks_at_each_critical_compound_unless_it_says_otherwise():
    (rule,) = own(new='[[also]]\nname = "More"\nby = "share"\nshare = 0.5\nglasses = 6\n').also
    assert rule == AlsoRule("More", ShareRule(share=0.5, glasses=6), "each", (), 0, asked_for=True)


@pytest.mark.parametrize(("words", "number"), [('"all"', 0), ('"any"', 1), ("2", 2)])
def test_a_further_rule_may_be_met_in_fewer_than_all(words, number):
    text = f"""
        [[also]]
        name = "More"
        compounds = ["dms", "h2s"]
        met_in = {words}
        asked_for = false
        by = "share"
        share = 0.5
        glasses = 6
    """
    (rule,) = own(new=text).also
    assert (rule.met_in, rule.compounds, rule.asked_for) == (number, ("dms", "h2s"), False)


def test_a_beer_family_may_have_lists_of_its_own():
    text = '[family.wheat]\ncritical = ["dms", ["h2s", "so2"]]\nexpected = ["vinylguaiacol"]\n'
    lists = FamilyLists((("dms",), ("h2s", "so2")), ("vinylguaiacol",))
    assert own(new=text).families == {"wheat": lists}


def test_a_text_with_a_byte_order_mark_is_read():
    assert read_rulebook("own.toml", f"\ufeff{SHORTEST}") == own()


def test_line_ends_of_another_system_change_nothing():
    assert read_rulebook("own.toml", SHORTEST.replace("\n", "\r\n")) == own()


def test_any_compound_is_taken_where_no_shelf_is_given():
    assert own('"dms"', '"marzipan_note"').critical == (("marzipan_note",),)


def test_all_faults_come_at_once_in_the_order_of_the_file():
    text = TEXT.replace("ceiling = 0.20", "ceiling = 7").replace("share = 0.50", "share = -1")
    text = text.replace("days = 2 ", "days = 5 ").replace('"h2s",', '"dms",')
    lines = text.splitlines()
    found = [lines[fault.line - 1].split()[0] for fault in refused(text)]
    assert found == ["days", "ceiling", "share", '"dms",']


def test_faults_of_values_and_contradictions_come_together():
    text = TEXT.replace("ceiling = 0.20", "ceiling = 7").replace("quorum = 4", "quorum = 1")
    said = " ".join(fault.text for fault in refused(text))
    assert "ceiling must lie" in said
    assert "more than a full quorum of 1 people" in said


def swapped(old, new, text=TEXT):
    assert old in text
    return text.replace(old, new, 1)


def with_also(keys):
    return f'{TEXT}\n[[also]]\nname = "Further"\n{keys}\n'


BY_CHANCE = TEXT[TEXT.index("[compound]") : TEXT.index("[insensitive]")]
COUNT = '[compound]\nby = "k_of_n"\nright = 10\nof = 12\nleave_at = 7\nwindows = "apart"\n'
ON_THE_LIMIT = {
    "as many days as glasses": swapped("days = 2 ", "days = 4 "),
    "all right of a window": swapped(BY_CHANCE, COUNT.replace("10", "12")),
    "as many days as a window": swapped(BY_CHANCE, COUNT + "days = 12\n"),
    "a day of a month each": swapped(
        BY_CHANCE, COUNT.replace("12", "60") + "days = 31\nmonths = 1\n"
    ),
    "a session each day": swapped(BY_CHANCE, COUNT + "days = 5\nlast_sessions = 5\n"),
    "as many glasses as sessions hold": with_also(
        'by = "share"\nshare = 0.8\nglasses = 48\nlast_sessions = 2'
    ),
    "windows that reach behind the sessions": swapped(
        BY_CHANCE, COUNT.replace("12", "25") + "last_sessions = 1\n"
    ),
    "left at one fewer": swapped(BY_CHANCE, COUNT.replace("7", "9")),
    "one level for a rule": swapped(BY_CHANCE, COUNT + "lowest_level = 4.0\n"),
    "one level": swapped("lowest_level = 2.0", "lowest_level = 4.0"),
    "just above guessing": with_also(
        'by = "share"\nshare = 0.51\nglasses = 6\nmethods = ["duo_trio"]'
    ),
    "just enough sets": with_also(
        'by = "guessing"\nimprobable = 0.01\nglasses = 5\nmethods = ["triangle"]'
    ),
    "good just above poor": with_also(
        'by = "sequential"\npoor = 0.4\ngood = 0.41\nwrongly_met = 0.05\nwrongly_not_met = 0.1'
    ),
    "poor as by guessing": with_also(
        'by = "sequential"\npoor = 0.33\ngood = 0.68\nwrongly_met = 0.05\nwrongly_not_met = 0.1\n'
        'methods = ["triangle"]'
    ),
    "every estimate counts": with_also(
        'by = "threshold"\nlowest = 1.99\nhighest = 2\nspread_at_most = 2\nestimates = 10\n'
        "days = 10\nlast_estimates = 10\nmonths = 12"
    ),
    "met in all named": with_also(
        'by = "share"\nshare = 0.8\nglasses = 6\nmet_in = 2\ncompounds = ["dms", "h2s"]'
    ),
    "colleagues' answers shown": with_also(
        BY_CHANCE.partition("\n")[2] + 'answers = "pooled"\nasked_for = false'
    ),
    "as many met as listed": swapped("critical_met = 4", "critical_met = 6"),
    "start as a seat": swapped("critical_met = 3", "critical_met = 4"),
    "notice as long as a seat": swapped("notice_days = 30", "notice_days = 180"),
    "grace as long as a seat": swapped("notice_days = 30", "grace_days = 90\nnotice_days = 30"),
    "all right in a recheck": swapped("right = 3", "right = 4"),
    "everybody for a compound": swapped("people_per_compound = 2", "people_per_compound = 4"),
    "everybody of other crews": swapped("from_other_crews = 2", "from_other_crews = 4"),
    "everybody calls": swapped("callers_for_fault = 2", "callers_for_fault = 4"),
    "everybody of another trade": swapped("quorum = 4", "trades = 4\nquorum = 4"),
    "as many callers for a retaste": swapped("callers_for_retaste = 1", "callers_for_retaste = 2"),
    "just enough blanks": swapped(
        "sure = 0.75", "sure = 0.99", swapped("blanks = 10", "blanks = 15")
    ),
    "strong as the threshold": swapped("strong_level = 5.0", "strong_level = 3.0"),
    "not met just below met": swapped(
        "not_met_when_below = 0.05",
        "not_met_when_below = 0.5",
        swapped("met_when_sure = 0.85", "met_when_sure = 0.501"),
    ).replace("met_ends_below = 0.50", "met_ends_below = 0.5"),
    "met ends where it begins": swapped("met_ends_below = 0.50", "met_ends_below = 0.85"),
    "longest name": swapped('name = "default"', f'name = "{"long" * 15}"'),
    "least of a value": swapped("ceiling = 0.20", "ceiling = 0.01\nasked_for = true").replace(
        "blanks = 10", "blanks = 100"
    ),
}


@pytest.mark.parametrize("name", ON_THE_LIMIT)
def test_what_stands_on_a_limit_is_taken(name):
    assert isinstance(read_rulebook("own.toml", ON_THE_LIMIT[name]), Rulebook)


def test_a_session_holds_as_many_glasses_as_a_plan_pours():
    assert MOST_A_SESSION == HIGHEST_CAP


def test_one_blank_fewer_is_refused():
    text = ON_THE_LIMIT["just enough blanks"].replace("blanks = 15", "blanks = 14")
    (fault,) = refused(text)
    assert fault.text.startswith("14 blanks without a single call")


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=200))
def test_any_text_is_a_rulebook_or_is_refused(text):
    with suppress(RulebookRefused):
        assert isinstance(read_rulebook("own.toml", text), Rulebook)


VALUES = st.sampled_from(
    ["nan", "-inf", "1e400", f"0x{'f' * 4000}", "-0.0", "true", '""', '"\\u0000"', "[]", "[[]]", "{}",
     "{a = 1}", "[{a.b = 1}]", "2025-01-01", "2025-01-01T00:00:00Z", "07:30:00", "'''\n'''", "[\n1,\n]",
     '["dms", ["dms"]]', "a", "", "{", "'"]
)  # fmt: skip
HEADS = st.sampled_from(
    ["[also]", "[[also]]", "[[seat]]", "[family]", "[family.x]", "[[family.x]]", "['a b']", "[a.b]",
     "[panel.x]", "[[critical.compounds]]", "seat.x = 1", "'quorum' = 2", "[", "]"]
)  # fmt: skip
KEYS = [n for n, line in enumerate(TEXT.splitlines()) if " = " in line]
TABLES = [n for n, line in enumerate(TEXT.splitlines()) if line.startswith("[")]


@settings(max_examples=300, deadline=None)
@given(
    st.lists(st.tuples(st.sampled_from(KEYS), VALUES), max_size=3),
    st.lists(st.tuples(st.sampled_from(TABLES), HEADS), max_size=2),
    st.lists(st.tuples(st.integers(0, len(TEXT)), st.text(max_size=3)), max_size=2),
)
def test_a_damaged_rulebook_is_read_or_refused(values, heads, pieces):
    lines = TEXT.splitlines()
    for number, value in values:
        lines[number] = f"{lines[number].split(' = ')[0]} = {value}"
    for number, head in heads:
        lines[number] = head
    text = "\n".join(lines)
    for place, piece in pieces:
        text = text[:place] + piece + text[place + len(piece) + 1 :]
    with suppress(RulebookRefused):
        assert isinstance(read_rulebook("own.toml", text, ["dms"]), Rulebook)


@pytest.mark.parametrize(
    "text",
    ["x = " + "[" * 5000, "a" + ".a" * 3000 + " = 1", f"x = {'9' * 5000}", "[also]\nx" + ".a" * 3000
     + " = 1", "critical = [" + "{a.b = 1}," * 9 + "]"],
)  # fmt: skip
def test_a_monstrous_text_is_refused(text):
    assert refused(text)
