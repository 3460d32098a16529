"""What a beer family is expected to have is no fault of its beers, and naming it is no call."""

from dataclasses import replace
from datetime import datetime

from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import first_names, short_label
from seatworthy.steps.sentences import in_sentence, joined
from seatworthy.steps.tasted import NAMED
from seatworthy.steps.tasted import NOTHING as SAID_NOTHING
from seatworthy.steps.weigh_views import Question


def expected_in(desk: Desk, family: str, known_at: datetime | None = None) -> frozenset[str]:
    """Compounds expected in a beer family: the rulebook's list of it, else the shelf's.

    Args:
        desk: The open store.
        family: Beer family's key.
        known_at: As the record stood then (UTC), by the rulebook of that day; None for all of it.
    """
    day = desk.today() if known_at is None else desk.day_of(known_at)
    lists = desk.rulebook_on(day, known_at).rulebook.families
    if family in lists:
        return frozenset(lists[family].expected)
    rows = desk.store.rows("family_compounds", known_at)
    return frozenset(
        row["compound"] for row in rows if (row["family"], row["role"]) == (family, "expected")
    )


def as_no_fault(question: Question, expected: frozenset[str]) -> Question:
    """The same question, in which naming what is expected says that the beer is as it should be."""
    words = tuple(
        replace(word, kind=SAID_NOTHING, compound=None)
        if word.kind == NAMED and word.compound in expected
        else word
        for word in question.words
    )
    return replace(question, words=words)


def expected_words(question: Question, expected: frozenset[str], judged: Judged) -> str:
    """Who named something that is no fault here, in a sentence; "" if nobody did."""
    named = [word for word in question.words if word.kind == NAMED and word.compound in expected]
    if not named:
        return ""
    names = first_names(judged.people)
    who = joined([names.get(word.person_id, word.name) for word in named])
    labels = {short_label(judged.labels.get(w.compound or "", w.compound or "")) for w in named}
    what = joined([in_sentence(label) for label in sorted(labels)])
    beers = in_sentence(judged.families[question.family])
    are = "are" if len(labels) > 1 else "is"
    return f"{who} named {what}, which {are} expected in {beers}: no fault, and no call."
