from dataclasses import fields, is_dataclass, replace
from datetime import date

import pytest

from seatworthy.rules.compound_rules import (
    AlsoRule,
    ChanceRule,
    GuessingRule,
    KOfNRule,
    SequentialRule,
)
from seatworthy.rules.read_aloud import Part, read_aloud
from seatworthy.rules.reading import examples, menu, rulebook_on_menu
from seatworthy.rules.rulebook import FamilyLists

DEFAULT = rulebook_on_menu("default")
GUESSING = GuessingRule(improbable=0.05, glasses=12, days=2, last_sessions=7)
EVERY_KIND = {
    **{name: rulebook_on_menu(name) for name in (*menu(), *examples())},
    "guessing": replace(DEFAULT, compound=GUESSING),
    "own glasses": replace(
        DEFAULT,
        compound=KOfNRule(
            right=10,
            of=12,
            leave_at=7,
            windows="sliding",
            lowest_level=1.5,
            highest_level=3.5,
            months=9,
            last_sessions=5,
        ),
        seat=replace(DEFAULT.seat, grace_days=14),
        panel=replace(DEFAULT.panel, trades=2),
        also=(
            AlsoRule("Sets", GUESSING, "each", ("dms", "h2s", "t2n"), 2, asked_for=False),
            AlsoRule("Panel's own", replace(DEFAULT.compound, answers="pooled"), "each", (), 1,
                     asked_for=False),
        ),
        families={"wheat": FamilyLists((("dms",), ("h2s", "so2")), ("vinylguaiacol",))},
    ),
}  # fmt: skip


def words(book, labels=None):
    return tuple(
        s for part in read_aloud(book, labels or {}) for s in (part.heading, *part.sentences)
    )


def other(value):
    """A value like it that a rulebook could hold."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int):
        return value + 1
    if isinstance(value, float):
        return value * 1.01
    return date(2027, 3, 1) if isinstance(value, date) else value


def with_other_numbers(thing, at=""):
    """Every copy of a rulebook in which one number, yes or no, or day is another."""
    for entry in fields(thing):
        value, where = getattr(thing, entry.name), f"{at}{entry.name}"
        if is_dataclass(value):
            inner = with_other_numbers(value, f"{where}.")
            yield from ((path, replace(thing, **{entry.name: new})) for path, new in inner)
        elif entry.name == "also":
            for nth, rule in enumerate(value):
                for path, new in with_other_numbers(rule, f"also.{nth}."):
                    yield path, replace(thing, also=(*value[:nth], new, *value[nth + 1 :]))
        elif entry.name == "met_in" and thing.over == "together":
            continue  # nobody asks in how many of one
        elif other(value) != value:
            yield where, replace(thing, **{entry.name: other(value)})


CHANGES = [
    (f"{name}: {path}", book, new)
    for name, book in EVERY_KIND.items()
    for path, new in with_other_numbers(book)
]


@pytest.mark.parametrize(
    ("book", "new"), [change[1:] for change in CHANGES], ids=[change[0] for change in CHANGES]
)
def test_another_number_is_heard(book, new):
    assert words(new) != words(book)


def test_numbers_of_every_section_were_changed():
    changed = {path.split(": ")[1].split(".")[0] for path, _, _ in CHANGES}
    assert changed >= {
        "version", "counts_from", "counted", "asked", "compound", "also", "insensitive",
        "false_calls", "duplicates", "deviation", "order", "attendance", "seat", "probation",
        "start_up", "recheck", "panel",
    }  # fmt: skip


@pytest.mark.parametrize("name", EVERY_KIND)
def test_every_sentence_is_finished(name):
    for part in read_aloud(EVERY_KIND[name], {}):
        assert part.sentences
        assert all(sentence.endswith((".", "?")) for sentence in part.sentences), part


@pytest.mark.parametrize("name", EVERY_KIND)
def test_no_two_parts_have_one_heading(name):
    headings = [part.heading for part in read_aloud(EVERY_KIND[name], {})]
    assert len(headings) == len(set(headings))


def test_the_rule_on_a_compound_is_said_with_its_numbers():
    parts = {part.heading: part for part in read_aloud(DEFAULT, {})}
    assert parts["A compound"] == Part(
        "A compound",
        (
            (
                "Met: at least 85% sure of what the estimate is asked, on their own answers alone, on "
                "at least 4 counted glasses over at least 2 days."
            ),
            "Not met: at most 5% sure, on at least 6 counted glasses.",
            (
                "A met stands 26 weeks from the last day it was met; it ends at once with not met or "
                "when less than 50% sure."
            ),
            "Nobody is judged on other people's answers.",
        ),
    )


def test_compounds_and_families_are_called_by_their_labels():
    book = EVERY_KIND["own glasses"]
    said = words(book, {"dms": "sweetcorn", "so2": "burnt match", "wheat": "Wheat beers"})
    assert "Beer family: Wheat beers" in said
    assert "Critical: sweetcorn and one of h2s or burnt match." in said
    assert "Looks at each of sweetcorn, h2s and t2n by itself; it must be met in at least 2 of them." in said  # fmt: skip


def test_what_a_rulebook_follows_is_said():
    assert rulebook_on_menu("matching").follows in words(rulebook_on_menu("matching"))


def test_what_is_left_out_is_said():
    assert "This rulebook has nothing on: distance from the panel's median and order of the levels." in words(DEFAULT)  # fmt: skip


def test_nothing_is_left_out_where_all_is_asked():
    matching, oil = rulebook_on_menu("matching"), rulebook_on_menu("olive_oil")
    book = replace(DEFAULT, deviation=oil.deviation, order=matching.order)
    assert "Left out" not in words(book)


def test_colleagues_answers_are_said_to_be_in_a_pooled_rule():
    pooled = replace(DEFAULT.compound, answers="pooled")
    assert isinstance(pooled, ChanceRule)
    book = replace(DEFAULT, also=(AlsoRule("More", pooled, "each", (), 0, asked_for=False),))
    part = next(part for part in read_aloud(book, {}) if part.heading == "More")
    assert "with the answers of colleagues" in " ".join(part.sentences)
    assert "A seat doesn't ask for it" not in part.sentences
    assert part.sentences[-1] == "It is only shown; a seat doesn't ask for it."


@pytest.mark.parametrize(
    ("leave_at", "said"),
    [(7, "With 8 to 9 right it stays what it was."), (8, "With 9 right it stays what it was.")],
)
def test_between_met_and_not_met_things_stay(leave_at, said):
    plain = rulebook_on_menu("plain")
    assert said in words(replace(plain, compound=replace(plain.compound, leave_at=leave_at)))


def test_nothing_lies_between_where_one_right_fewer_is_not_met():
    plain = rulebook_on_menu("plain")
    said = words(replace(plain, compound=replace(plain.compound, leave_at=9)))
    assert not any("stays what it was" in sentence for sentence in said)


def test_a_window_that_nobody_fills_wrongly_is_not_met_at_none():
    plain = rulebook_on_menu("plain")
    assert "Not met: none right of them." in words(
        replace(plain, compound=replace(plain.compound, leave_at=0))
    )


def test_months_say_how_long_a_finished_run_stands():
    rule = SequentialRule(poor=0.4, good=0.7, wrongly_met=0.05, wrongly_not_met=0.1, months=1)
    said = words(replace(DEFAULT, compound=rule))
    assert any("what a run decided lapses 1 month after its last glass" in s for s in said)
