"""The sentence on top of a weighed call, what leads to it, and its small print."""

from collections.abc import Sequence
from typing import Final

from seatworthy.decide.ladder import Rung
from seatworthy.decide.states import LABORATORY_FALSE, LABORATORY_FINDS
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import in_sentence, joined
from seatworthy.steps.tasted import NAMED
from seatworthy.steps.tasted import NOTHING as SAID_NOTHING
from seatworthy.steps.weigh_about import About, unweighable
from seatworthy.steps.weigh_panel import WeighPanel
from seatworthy.steps.weigh_priors import Known
from seatworthy.steps.weigh_views import Question, StepLine
from seatworthy.steps.weigh_words import (
    HOLD_AT,
    NEVER_RELEASES,
    OPEN_AT,
    POUR_AGAIN,
    at_most,
    chance_words,
)

_LITTLE: Final = 0.7  # log odds; a word that moves less counts a little


_LEVELS: Final = (
    "Everybody tasted the same beer, whose level nobody knows: it is averaged over from two thirds to "
    "thirty times threshold, about twice being the most common."
)
_OWN_ANSWERS: Final = (
    "Each taster is taken as their own answers on record show them, and as answering on their own."
)
_WEAK: Final = "weak default. Beers that nobody looked into are not among them, so it leans high."
_RANGES: Final = (
    "The ranges hold eight chances in ten for what we don't know of the tasters; how common a fault is "
    "counts as stated."
)
_LABORATORY: Final = (
    f"A laboratory is taken to find {100 * LABORATORY_FINDS:.0f} in 100 of what is there and "
    f"{100 * LABORATORY_FALSE:.0f} in 100 of what is not; assumed."
)


def answer_of(
    question: Question, about: About, chance: float, start: float, step: StepLine
) -> tuple[str, str]:
    """Both halves of the sentence on top."""
    beer = in_sentence(question.label)
    words = chance_words(chance)
    if not question.is_blind and chance > start:
        words = at_most(words)
    if about.is_anything:
        if about.callers:
            answer = f"Something wrong in {beer}, without a name: {words}"
        else:
            answer = f"Nobody called anything in {beer}: {words} that something is wrong"
    elif about.rivals:
        both = joined([about.label, *map(in_sentence, about.rival_labels)], "or")
        answer = f"{both} in {beer}? They contradict one another. {about.label}: {words}"
    else:
        answer = f"{about.label} in {beer}: {words}"
    return answer.replace("; ", ", "), _catch(chance, step, about)


def _catch(chance: float, step: StepLine, about: About) -> str:
    if chance >= HOLD_AT:
        return "hold it"
    if step.kind == "retaste":
        return POUR_AGAIN[:1].lower() + POUR_AGAIN[1:]
    if step.kind == "triangle":
        return "set it against sound beer in a triangle before you decide"
    if step.kind == "laboratory":
        return "hold it and ask a laboratory"
    return "hold it until somebody decides" if chance >= OPEN_AT and about.callers else ""


def lead_of(
    panel: WeighPanel,
    about: About,
    rungs: Sequence[Rung],
    question: Question,
    *,
    in_words: bool,
) -> str:
    """Who said what, whose word moved it, whose silence means nothing."""
    said = {word.person_id: word for word in question.words}
    sentences: list[str] = []
    groups: dict[str, list[str]] = {}
    for word in question.words:
        place = panel.noses.people.index(word.person_id)
        if word.kind == NAMED:
            what = in_sentence(short_label(panel.judged.labels.get(word.compound or "", "")))
        else:
            what = "" if word.kind == SAID_NOTHING else "something without a name"
        if what:
            groups.setdefault(what, []).append(panel.name(place))
    sentences += [f"{joined(names)} said {what}." for what, names in groups.items()]
    sentences += _calls_apart(panel, about, question)
    silent = [
        r for r in rungs if said[panel.noses.people[panel.tasters[r.taster]]].kind == SAID_NOTHING
    ]
    sentences += _silences(panel, about, silent)
    sentences += _left_out(panel, question)
    if len(question.words) == 1:
        sentences.append("One taster alone: a second one, blind, is worth more than anything else.")
    return " ".join(sentences)


def _silences(panel: WeighPanel, about: About, silent: Sequence[Rung]) -> list[str]:
    if about.is_anything:
        names = [panel.name(panel.tasters[r.taster]) for r in silent]
        return [f"{joined(names)} said nothing."] if names else []
    counting, nowhere = [], []
    for rung in silent:
        place = panel.tasters[rung.taster]
        if panel.counts_for(place, about.compound):
            counting.append(rung)
        else:
            nowhere.append(place)
    found = []
    if counting:
        names = [panel.name(panel.tasters[r.taster]) for r in counting]
        moved = sum(-r.moved for r in counting)
        weight = (
            "next to nothing" if moved < 0.1 else "a little" if moved < _LITTLE else "a good deal"
        )
        found.append(f"{joined(names)} said nothing, and that counts {weight} against it.")
    label = in_sentence(about.label)
    for place in nowhere:
        found.append(f"{_why_apart(panel, place, about, label)}, so silence there means nothing.")
    return found


def _calls_apart(panel: WeighPanel, about: About, question: Question) -> list[str]:
    """Who called it without being counted on for it; their word is no evidence of it."""
    if about.is_anything:
        return []
    label = in_sentence(about.label)
    called = [word.person_id for word in question.words if word.compound == about.compound]
    places = [panel.noses.people.index(person) for person in called]
    return [
        f"{_why_apart(panel, place, about, label)}, so that call doesn't count here."
        for place in places
        if not panel.counts_for(place, about.compound)
    ]


def _why_apart(panel: WeighPanel, place: int, about: About, label: str) -> str:
    tested = panel.is_tested(place, about.compound)
    why = f"doesn't smell {label}" if tested else f"never had a glass with {label}"
    return f"{panel.name(place)} {why}"


def _left_out(panel: WeighPanel, question: Question) -> list[str]:
    labels = [
        in_sentence(short_label(panel.judged.labels.get(c, c)))
        for c in unweighable(panel, question)
    ]
    if not labels:
        return []
    return [
        f"Nobody who tasted can be counted on for {joined(labels)}, so no chance is given for it."
    ]


def talked_words(question: Question, chance: float, talked: float, start: float) -> str:
    """What the number would be worth if they had talked, or weren't blind."""
    if len(question.words) < 2:
        return ""
    if question.is_blind:
        if talked >= chance or chance <= start:
            return ""
        return (
            f"If they had talked first, or seen one another's faces, it would be at most "
            f"{100 * talked:.0f}%, and nobody could say how much less."
        )
    bound = "an upper bound" if chance > start else "less than it looks"
    return (
        f"They were not blind to one another, which no sum repairs: the number is {bound}. Each "
        "further word was taken for a little less."
    )


def assumptions_of(known: Known) -> tuple[str, ...]:
    """The small print."""
    unlisted = known.line("unlisted")
    beers = "no beer" if not known.beers else f"{known.beers} beer{'' if known.beers == 1 else 's'}"
    return (
        _LEVELS,
        _OWN_ANSWERS + f" Something unlisted that several call by one name is kept in mind "
        f"({unlisted.words} beers).",
        "One fault a beer; two at once are not weighed.",
        f"How common each fault is: stated, or from {beers} of this family whose truth is known, or a "
        + _WEAK,
        _RANGES,
        _LABORATORY,
        NEVER_RELEASES,
    )
