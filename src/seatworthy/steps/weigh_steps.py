"""The next step of a weighed call, with what may come of it, in plain lines."""

from dataclasses import replace
from typing import Final

from seatworthy.decide.next_step import Outcome, Step, next_steps
from seatworthy.decide.states import States
from seatworthy.steps.sentences import in_sentence, joined, number_word
from seatworthy.steps.weigh_about import About
from seatworthy.steps.weigh_panel import WeighPanel
from seatworthy.steps.weigh_views import OutcomeLine, Question, StepLine
from seatworthy.steps.weigh_words import action_after, outcome_head, told_words

_MOST_LINES: Final = 4
_NOTHING: Final = "Nothing that can be poured or measured here would tell enough to be worth it."


def step_lines(
    panel: WeighPanel,
    states: States,
    about: About,
    question: Question,
    present: frozenset[str] | None,
) -> tuple[StepLine, ...]:
    """Every step, the most worth first.

    Args:
        panel: Who tasted, and who could.
        states: What the beer may still have.
        about: What the call is about.
        question: What was asked.
        present: Who could taste it again; None for everybody who has glasses of the compound.
    """
    places = [
        place
        for place, person in enumerate(panel.noses.people)
        if (present is None or person in present) and _could_tell(panel, place, about)
    ]
    steps = next_steps(panel.noses.of(places), states, panel.words[places])
    named = [
        replace(step, people=tuple(places[person] for person in step.people)) for step in steps
    ]
    return tuple(_line(step, panel, about, question) for step in named)


def _could_tell(panel: WeighPanel, place: int, about: About) -> bool:
    if about.is_anything:
        return bool(panel.noses.is_tested[place].any())
    return panel.counts_for(place, about.compound)


def _line(step: Step, panel: WeighPanel, about: About, question: Question) -> StepLine:
    people = tuple(panel.noses.people[place] for place in step.people)
    names = joined([panel.name(place) for place in step.people])
    sentence = _sentence(step, names, about, question)
    lines = tuple(_outcomes(step, about))
    return StepLine(step.kind, sentence, lines, step.bits, told_words(step.bits), people)


def _sentence(step: Step, names: str, about: About, question: Question) -> str:
    beer, thing = in_sentence(question.label), _thing(about)
    if step.kind == "retaste" and about.is_anything:
        return f"Pour {beer} again beside sound beer of its kind, new codes, blind, for {names}."
    if step.kind == "retaste":
        return (
            f"Pour {beer} again among one blank and one glass with {thing}, new codes, blind, for "
            f"{names}."
        )
    if step.kind == "triangle":
        return f"Triangle: {beer} against sound beer of the same kind, one set each for {names}."
    if step.kind == "laboratory":
        return f"Send {beer} to a laboratory for {thing}, and hold it meanwhile."
    return _NOTHING


def _thing(about: About) -> str:
    return "a fault" if about.is_anything else in_sentence(about.label)


def _outcomes(step: Step, about: About) -> list[OutcomeLine]:
    thing = _thing(about)
    if step.kind == "nothing":
        return []
    if step.kind == "laboratory":
        found, not_found = step.outcomes
        return [
            _outcome("If it is found", found, thing),
            _outcome("If it is not", not_found, thing),
        ]
    people = len(step.people)
    if step.kind == "triangle":
        return _triangle_lines(step.outcomes, people, thing)
    outcomes = _merged(step.outcomes) if len(step.outcomes) > _MOST_LINES else step.outcomes
    lines = [_outcome(outcome_head(o.hits, people, thing), o, thing) for o in outcomes]
    if len(step.outcomes) > _MOST_LINES:
        lines[-1] = replace(lines[-1], head="If one does, or none")
    return lines


def _triangle_lines(outcomes: tuple[Outcome, ...], people: int, thing: str) -> list[OutcomeLine]:
    # As many as guessing gives, or fewer; and more than that.
    cut = people // 3
    high = _together([o for o in outcomes if o.hits > cut])
    low = _together([o for o in outcomes if o.hits <= cut])
    if cut == 0:
        return [
            _outcome("If anybody picks it out", high, thing),
            _outcome("If nobody does", low, thing),
        ]
    number = number_word(cut)
    return [
        _outcome(f"If more than {number} pick it out", high, thing),
        _outcome(f"If {number} or fewer do", low, thing),
    ]


def _merged(outcomes: tuple[Outcome, ...]) -> tuple[Outcome, ...]:
    return (*outcomes[: _MOST_LINES - 1], _together(list(outcomes[_MOST_LINES - 1 :])))


def _together(outcomes: list[Outcome]) -> Outcome:
    chance = sum(o.chance for o in outcomes)
    both = sum(o.chance * o.after for o in outcomes)
    return Outcome(outcomes[-1].hits, chance, both / chance if chance else 0.0)


def _outcome(head: str, outcome: Outcome, thing: str) -> OutcomeLine:
    return OutcomeLine(head, outcome.after, action_after(outcome.after, thing), outcome.chance)
