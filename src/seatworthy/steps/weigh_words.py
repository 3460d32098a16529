"""Sentences about a weighed call: chances as people say them, and what a taster's word is worth."""

from typing import Final

from seatworthy.phrases import weighed_percent
from seatworthy.steps.sentences import number_word, sentence_start

NEVER_RELEASES: Final = "It supports a decision; it never releases beer."
POUR_AGAIN: Final = "Pour it again, blind, before you decide."
HOLD_AT: Final = 0.9  # chance from which a beer is held without pouring it again first
OPEN_AT: Final = 0.15  # below it there is no sign of it
LIKELY_AT: Final = 0.6

_SAID_AS: Final = (
    (0.005, "hardly any chance"),
    (0.015, "about one chance in a hundred"),
    (0.035, "about one chance in fifty"),
    (0.075, "about one chance in twenty"),
    (0.11, "about one chance in ten"),
    (0.16, "about one chance in eight"),
    (0.225, "about one chance in five"),
    (0.29, "about one chance in four"),
    (0.42, "about one chance in three"),
    (0.58, "about an even chance"),
    (0.71, "about two chances in three"),
    (0.775, "about three chances in four"),
    (0.85, "about four chances in five"),
    (0.925, "about nine chances in ten"),
    (0.965, "about nineteen chances in twenty"),
    (0.985, "about forty-nine chances in fifty"),
    (1.01, "as good as certain"),
)


def chance_words(chance: float) -> str:
    """A chance as people say it: "about two chances in three"."""
    return next(words for below, words in _SAID_AS if chance < below)


def at_most(words: str) -> str:
    """The same as an upper bound: "at most two chances in three"."""
    return "at most " + words.removeprefix("about ").replace("as good as certain", "that")


def action_after(chance: float, thing: str) -> str:
    """What an outcome means for the tank."""
    if chance >= HOLD_AT:
        return "hold it"
    if chance >= LIKELY_AT:
        return "hold it, pour a third time"
    return "still open" if chance >= OPEN_AT else f"no sign of {thing}"


def outcome_head(hits: int, people: int, thing: str) -> str:
    """What came of a retaste: "If all three say DMS", "If two do", "If none does"."""
    if people == 1:
        return f"If the answer is {thing}" if hits else "If it is another, or nothing"
    if hits == people:
        whole = "both" if people == 2 else f"all {number_word(people)}"
        return f"If {whole} say {thing}"
    if hits == 0:
        return "If none does"
    return f"If {number_word(hits)} {'does' if hits == 1 else 'do'}"


def told_words(bits: float) -> str:
    """What a step is expected to tell, in words."""
    if bits < 0.03:
        return "would tell next to nothing"
    return f"expected to tell {bits:.2f} bits" + (", a full yes or no being 1" if bits < 1 else "")


def finds_words(rate: float | None, *, counts: bool) -> str:
    """How somebody finds a compound, without a score.

    Args:
        rate: Chance to name it right at the reference level; None without a glass of it.
        counts: Whether their word counts for it.
    """
    if rate is None or not counts:
        return "doesn't count here"
    if rate >= 0.7:
        return "finds it well"
    return "finds it now and then" if rate >= 0.25 else "seldom finds it"


def confirmed_sentence(
    calls: int, given: float, confirmed: int, limits: tuple[float, float] | None
) -> str:
    """Such as "Of 23 calls given about 80%, 18 were confirmed (78%, 58 to 90)."."""
    if not calls:
        return "No call of this kind is known in truth yet."
    kind = f"{calls} {'call' if calls == 1 else 'calls'} given {_about(given)}"
    was = f"{confirmed} {'was' if confirmed == 1 else 'were'} confirmed"
    if limits is None:
        return sentence_start(f"of {kind}, {was}: too few yet to say more.")
    low, high = (f"{100 * limit:.0f}" for limit in limits)
    return sentence_start(f"of {kind}, {was} ({100 * confirmed / calls:.0f}%, {low} to {high}).")


def _about(given: float) -> str:
    """A mean of chances in words; none is 0 or 100%, since nothing weighed is certain."""
    words = weighed_percent(given)
    edges = {"<": "less than ", ">": "more than "}
    return edges[words[0]] + words[1:] if words[0] in edges else f"about {words}"
