"""Where somebody stands: what is answered and what still waits, glasses and sets counted apart."""

from collections.abc import Sequence
from typing import Final

from seatworthy.ballot.wording import Wording
from seatworthy.steps.ballot_views import BallotGlass, BallotView
from seatworthy.steps.sentences import sentence_start

MOST_CODES: Final = 8  # named in a reminder; the rest is counted


def standing(words: Wording, view: BallotView) -> str:
    """The sentence on top of a ballot: how many are in, how many still wait."""
    name = words.person(view.name)
    if not (view.waiting or view.answered):
        return words.texts.say("overview.none", name=name)
    if any(glass.is_set for glass in view.glasses):
        return _standing_apart(words, view, name)
    say, waiting = words.texts.say, len(view.waiting)
    if not waiting:
        return say("overview.all", view.answered)
    if not view.answered:
        return say("overview.fresh", waiting, name=name)
    numbers = {
        "answered": words.texts.number(view.answered),
        "all": words.texts.number(view.answered + waiting),
    }
    return sentence_start(say("overview.some", waiting, **numbers))


def _standing_apart(words: Wording, view: BallotView, name: str) -> str:
    say, waiting = words.texts.say, len(view.waiting)
    answered = counted(words, [one for one in view.glasses if one.state == "answered"])
    if not waiting:
        return say("overview.all_apart", what=answered)
    wait = counted(words, view.waiting)
    if not view.answered:
        return say("overview.fresh_apart", waiting, name=name, what=wait)
    return sentence_start(say("overview.some_apart", waiting, answered=answered, what=wait))


def counted(words: Wording, glasses: Sequence[BallotGlass]) -> str:
    """How many glasses and how many sets: "six glasses and one set"."""
    sets = sum(glass.is_set for glass in glasses)
    singles = len(glasses) - sets
    say = words.texts.say
    of_glasses, of_sets = say("counted.glasses", singles), say("counted.sets", sets)
    if sets and singles:
        return say("counted.both", glasses=of_glasses, sets=of_sets)
    return of_sets if sets else of_glasses


def place_among_its_kind(words: Wording, view: BallotView, glass: BallotGlass) -> str:
    """Which of the glasses, or which of the sets, a page is about: "Glass 3 of 6"."""
    kind = [one.place for one in view.glasses if one.is_set == glass.is_set]
    key = "where.set" if glass.is_set else "where.glass"
    numbers = {"place": kind.index(glass.place) + 1, "all": len(kind)}
    return words.texts.say(key, **numbers)


def codes_waited_for(words: Wording, view: BallotView) -> str:
    """The codes of what waits, in order; beyond `MOST_CODES` only how many more there are."""
    waiting = view.waiting
    codes = ", ".join(words.codes(glass) for glass in waiting[:MOST_CODES])
    more = len(waiting) - MOST_CODES
    return words.texts.say("overview.nudge_more", more, codes=codes) if more > 0 else codes
