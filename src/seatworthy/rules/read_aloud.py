"""A rulebook in plain words, made from its numbers: what the file says and nothing else."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

import seatworthy.rules.rulebook as rb
from seatworthy.rules.compound import day_text
from seatworthy.rules.compound_rules import AlsoRule, Counted
from seatworthy.rules.person_rules import (
    AttendanceRule,
    DeviationRule,
    DuplicateDifference,
    DuplicateRule,
    DuplicateShare,
    FalseCallRule,
    FalseCallShare,
    InsensitiveRule,
    OrderRule,
)
from seatworthy.rules.read_aloud_beers import known_beer_sentences
from seatworthy.rules.read_aloud_compound import (
    compound_sentences,
    in_percent,
    in_the_last,
    joined,
)
from seatworthy.rules.verdict import counted

Sentences = Iterator[str]


@dataclass(frozen=True)
class Part:
    """One section in words.

    Attributes:
        heading: What it is about.
        sentences: What it says, finished sentences in their order.
    """

    heading: str
    sentences: tuple[str, ...]


def read_aloud(book: rb.Rulebook, labels: Mapping[str, str]) -> tuple[Part, ...]:
    """Say a rulebook in plain words; every number of it is said.

    Args:
        book: The rulebook.
        labels: What compounds and beer families are called, by their keys; a key without a label
            is said as it stands.
    """
    return (*_on_compounds(book, labels), *_on_people(book), *_on_lists(book, labels))


def _on_compounds(book: rb.Rulebook, labels: Mapping[str, str]) -> Iterator[Part]:
    yield Part(f"{book.name}, version {book.version}", tuple(_opening(book)))
    yield Part("Which glasses count", tuple(_counted(book.counted)))
    yield Part("What the estimate is asked", tuple(_asked(book.asked)))
    yield Part("A compound", tuple(compound_sentences(book.compound, book.counted)))
    for rule in book.also:
        yield Part(rule.name, tuple(_also(rule, book.counted, labels)))


def _on_people(book: rb.Rulebook) -> Iterator[Part]:
    left_out = []
    for name, (heading, say) in _OPTIONAL.items():
        if (rule := getattr(book, name)) is not None:
            yield Part(heading, tuple(say(rule)))
        else:
            left_out.append(f"{heading[0].lower()}{heading[1:]}")
    if book.knows_beer is not None:
        yield Part("Knowing a beer", tuple(known_beer_sentences(book.knows_beer)))
    yield Part("A seat", tuple(_seat(book.seat)))
    yield Part("The panel", tuple(_panel(book.panel)))
    if left_out:
        yield Part("Left out", (f"This rulebook has nothing on: {joined(left_out)}.",))


def _on_lists(book: rb.Rulebook, labels: Mapping[str, str]) -> Iterator[Part]:
    yield Part("Critical compounds", tuple(_critical(book.critical, labels)))
    for key, lists in book.families.items():
        yield Part(f"Beer family: {labels.get(key, key)}", tuple(_family(lists, labels)))


def _opening(book: rb.Rulebook) -> Sentences:
    yield book.about
    if book.follows:
        yield book.follows
    yield f"Verdicts are given by it from {day_text(book.counts_from)} on."
    yield "Every rule answers met, not met or too little evidence."


def _counted(rule: Counted) -> Sentences:
    yield (
        f"A glass to be named counts for or against a seat if it was poured {in_the_last(rule.months)} "
        f"at {rule.lowest_level:g} to {rule.highest_level:g} times the working threshold, "
        "with all that was in it."
    )
    yield "Weaker and stronger glasses count only where a rule below says so."


def _asked(rule: rb.Asked) -> Sentences:
    yield (
        f"How sure are we that somebody names a compound at least {in_percent(rule.named_right)} "
        f"of the time, at {rule.reference_level:g} times its working threshold?"
    )


def _also(rule: AlsoRule, counting: Counted, labels: Mapping[str, str]) -> Sentences:
    meant = joined([labels.get(key, key) for key in rule.compounds]) or "the critical compounds"
    if rule.over == "together":
        yield f"Looks at {meant} together, as if they were one."
    else:
        yield f"Looks at each of {meant} by itself; {_met_in(rule.met_in)}."
    yield from compound_sentences(rule.rule, counting)
    yield _asked_for(rule.asked_for)


def _met_in(number: int) -> str:
    return f"it must be met in {f'at least {number}' if number else 'all'} of them"


def _asked_for(is_asked: bool) -> str:
    return "A seat asks for it." if is_asked else "It is only shown; a seat doesn't ask for it."


def _insensitive(rule: InsensitiveRule) -> Sentences:
    yield (
        f"Somebody is not counted on for a compound if their own answers make it at least "
        f"{in_percent(rule.sure)} sure that their own threshold lies above "
        f"{rule.threshold_above:g} times the working threshold."
    )
    yield (
        f"At least {counted(rule.strong_glasses, 'glass')} at {rule.strong_level:g} times or more "
        "must be among them. It is no fault and costs nothing."
    )


def _false_calls(rule: FalseCallRule | FalseCallShare) -> Sentences:
    blanks = f"on at least {counted(rule.blanks, 'blank')} {in_the_last(rule.months)}"
    if isinstance(rule, FalseCallRule):
        yield (
            f"Met: at least {in_percent(rule.sure)} sure that something is called in at most "
            f"{in_percent(rule.ceiling)} of the glasses with nothing in them, {blanks}."
        )
        yield f"Not met: at most {in_percent(1 - rule.sure)} sure of that, on as many."
    else:
        yield (
            f"Met: something was called in at most {in_percent(rule.ceiling)} of the glasses with "
            f"nothing in them, {blanks}; not met: in more."
        )
    yield _asked_for(rule.asked_for)


def _duplicates(
    rule: DuplicateRule | DuplicateShare | DuplicateDifference,
) -> Sentences:
    pairs = f"on at least {counted(rule.pairs, 'pair')} {in_the_last(rule.months)}"
    if isinstance(rule, DuplicateRule):
        yield (
            "Flagged if so little agreement of hidden duplicates has a chance of at most "
            f"{in_percent(rule.improbable)} at the person's own rate, {pairs}."
        )
    elif isinstance(rule, DuplicateShare):
        yield (
            f"Met: at least {in_percent(rule.share)} of hidden duplicates are both right or both "
            f"not, {pairs}."
        )
    else:
        yield (
            f"Met: the squared difference of two ratings of one sample is {rule.at_most:g} or less "
            f"on average, {pairs}."
        )
    yield _asked_for(rule.asked_for)


def _deviation(rule: DeviationRule) -> Sentences:
    yield (
        "Met: the squared distance of a rating from the panel's median of the same sample is "
        f"{rule.at_most:g} or less on average, on at least {counted(rule.glasses, 'glass')} "
        f"{in_the_last(rule.months)}."
    )
    yield _asked_for(rule.asked_for)


def _order(rule: OrderRule) -> Sentences:
    swaps = f"{'at most ' * bool(rule.swaps_at_most)}{counted(rule.swaps_at_most, 'swap')}"
    yield (
        "Met: glasses of one compound, rated in one session, stand in the order of their levels "
        f"with {swaps} of neighbours in the worst series, on "
        f"at least {rule.series} series {in_the_last(rule.months)}."
    )
    yield _asked_for(rule.asked_for)


def _attendance(rule: AttendanceRule) -> Sentences:
    yield (
        f"Met: came to at least {in_percent(rule.share)} of the sessions offered "
        f"{in_the_last(rule.months)}, once at least {counted(rule.sessions, 'session')} were offered."
    )
    yield f"After more than {counted(rule.longest_absence_days, 'day')} away: a short recheck."
    yield _asked_for(rule.asked_for)


def _probation(rule: rb.ProbationRule) -> Sentences:
    yield (
        f"A first seat is on probation; it is full after {counted(rule.sessions, 'session')} "
        f"attended and {counted(rule.weeks, 'week')} since."
    )


def _start_up(rule: rb.StartUpRule) -> Sentences:
    yield (
        f"Until a beer family has {counted(rule.until_seats, 'seat')}, {rule.critical_met} critical "
        "compounds met are enough, and every page says so."
    )


def _recheck(rule: rb.RecheckRule) -> Sentences:
    yield (
        "Back after a pause, a long absence or a suspension: "
        f"{counted(rule.glasses, 'counted glass')} since, at least {rule.right} of them right."
    )


def _seat(rule: rb.SeatRule) -> Sentences:
    yield "A seat is for one beer family."
    if rule.critical_met:
        yield (
            f"At least {rule.critical_met} of its critical compounds are met (all of them where it "
            "lists fewer)."
        )
    else:
        yield "None of its critical compounds need be met."
    worst = f"at most {rule.critical_not_met}" if rule.critical_not_met else "none"
    yield f"Not met: {worst} of them."
    yield (
        f"A signed seat is valid for {counted(rule.valid_months, 'month')} and is said to be due "
        f"{counted(rule.notice_days, 'day')} before its end."
    )
    if rule.grace_days:
        yield (
            f"It is honoured for {counted(rule.grace_days, 'day')} after its end, "
            "and every page says so."
        )


def _panel(rule: rb.PanelRule) -> Sentences:
    yield f"A panel has at least {rule.quorum} people."
    if rule.people_per_compound:
        yield f"Each critical compound is met by at least {rule.people_per_compound} of them."
    else:
        yield "A critical compound may be met by nobody."
    if rule.from_other_crews:
        yield f"At least {rule.from_other_crews} of them did not make the batch."
    else:
        yield "Who made the batch is not asked."
    if rule.trades > 1:
        yield f"They come from at least {rule.trades} trades or departments."
    yield (
        f"A fault call takes {counted(rule.callers_for_fault, 'independent caller')}, a blind "
        f"retaste {counted(rule.callers_for_retaste, 'caller')}."
    )
    may = "may" if rule.probation_counts else "may not"
    yield f"Somebody on probation {may} sit."


def _critical(items: tuple[rb.Item, ...], labels: Mapping[str, str]) -> Sentences:
    yield f"Where a beer family has no list of its own: {_named(items, labels)}."


def _family(lists: rb.FamilyLists, labels: Mapping[str, str]) -> Sentences:
    yield f"Critical: {_named(lists.critical, labels)}."
    if lists.expected:
        names = joined([labels.get(key, key) for key in lists.expected])
        yield f"Expected, and no fault in it: {names}."


def _named(items: tuple[rb.Item, ...], labels: Mapping[str, str]) -> str:
    """Critical compounds in words; of a group one counts."""
    groups = [[labels.get(key, key) for key in item] for item in items]
    named = [names[0] if len(names) == 1 else f"one of {joined(names, 'or')}" for names in groups]
    return joined(named)


_OPTIONAL: Final = {
    "insensitive": ("Somebody who doesn't smell it", _insensitive),
    "false_calls": ("Calls where nothing was", _false_calls),
    "duplicates": ("Hidden duplicates", _duplicates),
    "deviation": ("Distance from the panel's median", _deviation),
    "order": ("Order of the levels", _order),
    "attendance": ("Coming to sessions", _attendance),
    "probation": ("Probation", _probation),
    "start_up": ("The start of a panel", _start_up),
    "recheck": ("Short recheck", _recheck),
}
