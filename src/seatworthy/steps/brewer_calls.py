"""A weighed call for a brewer: how sure we are in words, whose word counts, what to do next."""

from typing import Final

from seatworthy.phrases import weighed_percent
from seatworthy.steps.brewer_sight import sees_scores
from seatworthy.steps.brewer_views import CallInWords, SaidLine
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.labels import first_names
from seatworthy.steps.sentences import in_sentence, joined
from seatworthy.steps.tasted import NOTHING
from seatworthy.steps.weigh import weigh_call
from seatworthy.steps.weigh_views import Question, RungLine, WeighedView

# From this chance on, the words that stand for it. Five steps and no more, since from finer ones
# a taster's score could be worked out. The limits are ours.
_STEPS: Final = (
    (0.95, "almost certain"),
    (0.75, "likely"),
    (0.25, "open"),
    (0.05, "unlikely"),
    (0.0, "very unlikely"),
)
_WHY_WORDS: Final = (
    "No number stands here, since from a few of them a taster's score could be worked out; the leader "
    "has it. It supports a decision and never releases beer."
)
_LIKELY: Final = "It supports a decision and never releases beer."
_NOTHING_COUNTS: Final = "No chance can be given of {beer}"
_HOLD: Final = "hold it and ask a laboratory, or tasters who can be asked about it."


def call_in_words(desk: Desk, question: Question) -> CallInWords:
    """Weigh what was said of one beer, and say it as a brewer may know it.

    Args:
        desk: The open store.
        question: Who said what.

    Raises:
        PanelError: as `weigh_call` does.
    """
    with_scores = sees_scores(desk)
    view = weigh_call(desk, question, in_words=not with_scores)
    if view.refusal:
        beer = in_sentence(question.label)
        said = tuple(SaidLine(_head(word.name), "") for word in question.words)
        return CallInWords(
            view.where, _NOTHING_COUNTS.format(beer=beer), _HOLD, _LIKELY, (), said, ""
        )
    possible = tuple(
        (one.label, _likely(one.chance, with_scores=with_scores)) for one in view.possibilities
    )
    return CallInWords(
        where=view.where,
        answer=_answer(view),
        catch="",
        lead=_LIKELY if with_scores else _WHY_WORDS,
        possible=possible,
        said=_said(view, with_scores=with_scores),
        step=_step(desk, view),
    )


def how_likely(chance: float) -> str:
    """A chance in one of five words."""
    return next(words for least, words in _STEPS if chance >= least)


def _likely(chance: float, *, with_scores: bool) -> str:
    words = how_likely(chance)
    return f"{words} ({weighed_percent(chance)})" if with_scores else words


def _answer(view: WeighedView) -> str:
    leading = next(one for one in view.possibilities if one.is_leading)
    words, what = how_likely(leading.chance), in_sentence(leading.label)
    beer = view.question.label
    joint = "whether" if words == "open" else "that"
    if all(word.kind == NOTHING for word in view.question.words):
        return f"Nobody called anything in {in_sentence(beer)}: it is {words} {joint} {what}"
    return f"{beer}: it is {words} {joint} {what}"


def _said(view: WeighedView, *, with_scores: bool) -> tuple[SaidLine, ...]:
    """Every taster's word by name: the ladder's own order tells whose word moves most."""
    lines = [_line(rung, with_scores=with_scores) for rung in view.rungs[1:]]
    return tuple(sorted(lines, key=lambda line: line.head.casefold()))


def _step(desk: Desk, view: WeighedView) -> str:
    """What to do next; whoever is asked for stands there by name, not by how much they tell."""
    step = view.step
    if step is None:
        return ""
    beer, short = in_sentence(view.question.label), first_names(judge_day(desk).people)
    names = joined(sorted((short.get(p, p) for p in step.people), key=str.casefold))
    if step.kind == "retaste":
        return f"Pour {beer} again, blind and under new codes, for {names}; the leader plans it."
    if step.kind == "triangle":
        return f"Triangle: {beer} against sound beer of the same kind, one set each for {names}."
    if step.kind == "laboratory":
        return f"Send {beer} to a laboratory, and hold it meanwhile."
    return "Nothing that can be poured or measured here would tell enough to be worth it."


def _line(rung: RungLine, *, with_scores: bool) -> SaidLine:
    words = "is not counted on for it" if rung.mark == "nowhere" else "counts"
    notes = f", {' '.join(rung.notes).rstrip(',')}" if with_scores and rung.notes else ""
    return SaidLine(rung.head, f"{words}{notes}")


def _head(name: str) -> str:
    return f"{name} tasted it"
