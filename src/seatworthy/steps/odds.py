"""What a rulebook does to people, before anybody is judged by it.

The operating characteristic of every rule at the number of glasses a panel has, with repeated looks
included: how often it says met and not met of people whose true rates are known. Nobody's answers
enter.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import prod
from typing import Final

from seatworthy.rules.also import items_of
from seatworthy.rules.compound_rules import COMPOUND_KINDS, AlsoRule
from seatworthy.rules.person_rules import DuplicateDifference
from seatworthy.rules.rulebook import Item, Rulebook
from seatworthy.steps.odds_compound import compound_odds
from seatworthy.steps.odds_person import (
    CALLS_OF_THE_GOOD,
    agreement_odds,
    deviation_odds,
    difference_odds,
    false_call_odds,
    order_odds,
)
from seatworthy.steps.odds_seat import Person, also_chance, panel_odds, seat_row
from seatworthy.steps.odds_views import RulebookOdds, RuleOdds
from seatworthy.steps.odds_words import rule_view, seat_sentence
from seatworthy.steps.odds_year import Found, naming_kinds

_KIND_OF: Final = {kind: name for name, kind in COMPOUND_KINDS.items()}


@dataclass(frozen=True)
class Parts:
    """Odds of the single rules of a rulebook.

    Attributes:
        compound: The rule for compounds.
        further: Each further rule, in one compound or in all of them together.
        personal: Rules that concern a person, by name.
        told_by_rates: Names of those that a seat asks for and that rates of right answers and of
            calls in blanks decide.
    """

    compound: Found
    further: Sequence[tuple[AlsoRule, Found]]
    personal: dict[str, Found]
    told_by_rates: frozenset[str]


def rule_odds(
    book: Rulebook,
    glasses_a_year: float,
    sessions_a_year: int,
    blanks_a_year: int,
    people: int,
    family_critical: Sequence[Item],
) -> RulebookOdds:
    """Say what each rule, the seat and the panel come to in a year that begins without evidence.

    Args:
        book: The rulebook.
        glasses_a_year: Counted glasses of one compound that one person gets, >= 0; taken to the
            nearest whole number.
        sessions_a_year: Sessions, >= 0, evenly spread; without any nothing is poured.
        blanks_a_year: Blanks that one person gets, >= 0.
        people: People on the panel, >= 0.
        family_critical: Critical compounds of the beer family, a group in one tuple.

    Raises:
        ValueError: if a number is negative.
    """
    numbers = (glasses_a_year, sessions_a_year, blanks_a_year, people)
    if min(numbers) < 0:
        msg = f"Glasses, sessions, blanks and people must not be negative, got {numbers}."
        raise ValueError(msg)
    glasses = round(glasses_a_year) if sessions_a_year else 0
    blanks = blanks_a_year if sessions_a_year else 0
    parts = _parts(book, glasses, sessions_a_year, blanks, family_critical)
    persons = [_person(parts, place, family_critical) for place in range(3)]
    seat = tuple(seat_row(person, book, family_critical) for person in persons)
    return RulebookOdds(
        glasses=glasses,
        sessions=sessions_a_year,
        blanks=blanks,
        rules=tuple(_views(book, parts)),
        seat=seat,
        seat_sentence=seat_sentence(seat),
        seat_assumed=_seat_assumed(parts, book),
        panel=panel_odds(persons[-1], book, family_critical, people),
    )


def _parts(
    book: Rulebook, glasses: int, sessions: int, blanks: int, critical: Sequence[Item]
) -> Parts:
    def odds_of(rule: AlsoRule) -> Found:
        together = sum(len(item) for item in items_of(rule, critical))
        times = together if rule.over == "together" else 1
        return compound_odds(rule.rule, book.asked, book.counted, times * glasses, sessions)

    told = {"false_calls": book.false_calls, "duplicates": book.duplicates}
    return Parts(
        compound=compound_odds(book.compound, book.asked, book.counted, glasses, sessions),
        further=[(rule, odds_of(rule)) for rule in book.also],
        personal=dict(_personal(book, sessions, blanks)),
        told_by_rates=frozenset(
            name
            for name, rule in told.items()
            if rule is not None and rule.asked_for and not isinstance(rule, DuplicateDifference)
        ),
    )


def _personal(book: Rulebook, sessions: int, blanks: int) -> Iterator[tuple[str, Found]]:
    if book.false_calls is not None:
        yield "false_calls", false_call_odds(book.false_calls, blanks, sessions)
    if isinstance(book.duplicates, DuplicateDifference):
        yield "duplicates", difference_odds(book.duplicates, sessions)
    elif book.duplicates is not None:
        yield "duplicates", agreement_odds(book.duplicates, naming_kinds(book.asked), sessions)
    if book.deviation is not None:
        yield "deviation", deviation_odds(book.deviation, sessions)
    if book.order is not None:
        yield "order", order_odds(book.order, sessions)


def _person(parts: Parts, place: int, critical: Sequence[Item]) -> Person:
    """Chances of the guesser (0), the true 60 % (1) and the true 85 % (2) when the year ends."""
    compound, at = parts.compound.odds, parts.compound.for_seat[place]
    others = [
        found.odds.met_at_end[found.for_seat[place]]
        for name, found in parts.personal.items()
        if name in parts.told_by_rates
    ]
    for rule, found in parts.further:
        if rule.asked_for and rule.over == "together":
            others.append(found.odds.met_at_end[found.for_seat[place]])
        elif rule.asked_for:
            items = items_of(rule, critical)
            others.append(also_chance(found.odds, found.for_seat[place], items, rule.met_in))
    return Person(
        kind=parts.compound.kinds[at],
        met=float(compound.met_at_end[at]),
        not_met=float(compound.not_met_at_end[at]),
        others=float(prod(others)),
    )


def _views(book: Rulebook, parts: Parts) -> Iterator[RuleOdds]:
    yield rule_view("compound", _KIND_OF[type(book.compound)], parts.compound, asked_for=True)
    for rule, found in parts.further:
        yield rule_view(rule.name, _KIND_OF[type(rule.rule)], found, asked_for=rule.asked_for)
    for section, found in parts.personal.items():
        asked_for = getattr(book, section).asked_for
        yield rule_view(section.replace("_", " "), section, found, asked_for=asked_for)


def _seat_assumed(parts: Parts, book: Rulebook) -> str:
    words = ["Compounds are independent of each other; attendance and ratings are taken as met."]
    if book.knows_beer is not None and book.knows_beer.asked_for:
        words.append("Knowing a beer is taken as met, too.")
    if "false_calls" in parts.told_by_rates:
        words.append(
            f"Who guesses calls something in every blank, the others in {100 * CALLS_OF_THE_GOOD:g} "
            "of 100."
        )
    if any(rule.asked_for for rule, _ in parts.further):
        words.append("Further rules rest on glasses of their own, with the same rates in them.")
    return " ".join(words)
