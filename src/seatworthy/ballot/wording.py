"""Views in words: what stands on a glass, what was said of it, what came of it."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Final

from seatworthy.ballot.shown import folded, shown, well_broken
from seatworthy.ballot.texts import Texts
from seatworthy.phrases import multiple
from seatworthy.steps.ballot_views import (
    BallotGlass,
    BallotView,
    FormAnswer,
    NameOffered,
    OwnAnswer,
    OwnFeedback,
    OwnGlass,
)
from seatworthy.steps.sentences import in_sentence, sentence_start

_MARKED: Final = ("right", "wrong", "open", "missed")
_MARKED_AS: Final = {"called": "wrong", "taken_for": "wrong", "not_known": "missed"}
_PLAIN_KINDS: Final = frozenset({"nothing", "something", "yes", "no"})


@dataclass(frozen=True)
class Wording:
    """One language, and the names that are on the list.

    Attributes:
        texts: The language.
        names: The list, to know a chosen name from own words.
        is_release: Whether every glass asks if the beer is as it should be.
    """

    texts: Texts
    names: Sequence[NameOffered] = field(default=())
    is_release: bool = False

    def codes(self, glass: BallotGlass | OwnGlass) -> str:
        """What stands on a glass, or on all of a set from left to right."""
        codes = "/".join(shown(code) for code in glass.codes)
        return codes or self.texts.say("where.without_code", place=glass.place)

    def person(self, name: str) -> str:
        """Somebody's name."""
        return shown(name)

    def when(self, view: BallotView) -> str:
        """Day and time of a ballot's table, on their own; never what the session is called."""
        when = (
            self.texts.day_at(view.starts_at) if view.starts_at else self.texts.day(view.session_on)
        )
        return sentence_start(when)

    def day(self, day: date) -> str:
        """A day on its own."""
        return sentence_start(self.texts.day(day))

    def go_on(self, view: BallotView, glass: BallotGlass) -> str:
        """What the way to the next glass is called."""
        begun = "go_on" if view.answered else "start"
        what = "set" if glass.is_set else "glass"
        return self.texts.say(f"overview.{begun}_{what}", code=self.codes(glass))

    def row(self, glass: BallotGlass) -> str:
        """What became of a glass so far."""
        if glass.state == "spilled":
            return self.texts.say("spilled.row")
        return self.said(glass.answer) if glass.answer else self.texts.say("overview.waits")

    def inside(self, label: str) -> str:
        """The name of a compound inside a sentence."""
        return self.name(in_sentence(label) if self.texts.lowers_labels and label else label)

    def name(self, label: str) -> str:
        """The name of a compound on its own."""
        return well_broken(shown(label))

    def chosen(self, words: str) -> NameOffered | None:
        """The name on the list that these words are; None for own words."""
        key = folded(words)
        return next(
            (name for name in self.names if key in (folded(name.label), folded(name.compound))),
            None,
        )

    def said(self, answer: OwnAnswer | None) -> str:
        """What somebody said, with how sure they were: "papery, fairly"."""
        if answer is None:
            return self.texts.say("said.none")
        return self._sure(self._said(answer), answer.sureness)

    def _said(self, answer: OwnAnswer) -> str:
        if answer.kind in _PLAIN_KINDS:
            return self._plain(answer.kind)
        if answer.kind == "words":
            return self._named(answer.words)
        if answer.kind == "picked" and answer.picked:
            return shown(answer.picked)
        if answer.kind == "rating" and answer.rating is not None:
            return self.texts.say("said.rating", rating=self.texts.amount(answer.rating))
        return self.texts.say("said.unknown")

    def _plain(self, kind: str) -> str:
        if self.is_release and kind in ("nothing", "something"):
            return self.texts.say(
                "release.said_nothing" if kind == "nothing" else "release.said_something"
            )
        return self.texts.say(f"said.{kind}")

    def _named(self, words: str) -> str:
        name = self.chosen(words)
        return self.inside(name.label) if name else self.texts.say("quoted", words=shown(words))

    def sent(self, form: FormAnswer) -> str:
        """What a form says that was not stored."""
        parts = [self._choice(form.choice), self._rating(form.rating)]
        if form.words:
            parts.append(self.texts.say("quoted", words=shown(form.words)))
        said = ", ".join(part for part in parts if part) or self.texts.say("said.none")
        return self._sure(said, form.sureness)

    def _choice(self, choice: str) -> str:
        if choice in _PLAIN_KINDS:
            return self._plain(choice)
        label = next((name.label for name in self.names if name.compound == choice), None)
        return self.inside(label) if label else shown(choice)

    def _rating(self, rating: str) -> str:
        return self.texts.say("said.rating", rating=shown(rating)) if rating else ""

    def _sure(self, said: str, sureness: str) -> str:
        return f"{said}, {self.texts.say(f'said.{sureness}')}" if sureness else said

    def level(self, level: Decimal) -> str:
        """A multiple of threshold: "2.5×", or "2,5×"."""
        return multiple(float(level)).replace(".", self.texts.decimal)

    def was(self, glass: OwnGlass) -> str:
        """What was in a glass, at which level; of a set, in which of its glasses."""
        if glass.beer:
            return shown(glass.beer)
        if not glass.was:
            return self.texts.say("revealed.nothing_added")
        level = f", {self.level(glass.level)}" if glass.level is not None else ""
        was = f"{self.inside(glass.was)}{level}"
        if not glass.odd:
            return was
        key = "revealed.in_all_but" if glass.held_by_others else "revealed.in_one"
        filled = {"was": was, "code": shown(glass.odd)}
        return self.texts.say(key, **filled)

    def understood(self, glass: OwnGlass) -> str:
        """What was said of a glass, and what own words were read as if they are no name themselves."""
        said = self.said(glass.said)
        is_own = glass.said is not None and glass.said.kind == "words"
        if (
            not is_own
            or not glass.said_label
            or folded(glass.said_label) == folded(glass.said.words)
        ):
            return said
        label = self.inside(glass.said_label)
        return self.texts.say("revealed.said_meaning", said=said, label=label)

    def came_to(self, glass: OwnGlass) -> str:
        """What became of a glass."""
        outcome = glass.outcome or "unanswered"
        if len(glass.codes) > 1:
            outcome = {"right": "right_set", "wrong": "missed_set", "missed": "missed_set"}.get(
                outcome, outcome
            )
        elif outcome == "wrong" and not glass.was:
            outcome = "false_call"
        return self.texts.say(f"outcome.{outcome}")

    def mark(self, glass: OwnGlass) -> str:
        """Which mark stands before what became of a glass: "right", "wrong", "open", "missed", "none"."""
        outcome = _MARKED_AS.get(glass.outcome, glass.outcome)
        return outcome if outcome in _MARKED else "none"

    def found(self, found: int, find: str) -> str:
        """What came of looking for a name."""
        if not found:
            return self.texts.say("find.nothing", find=find)
        return sentence_start(self.texts.say("find.found", found, find=find))

    def summary(self, feedback: OwnFeedback) -> str:
        """The sentence on top of somebody's own page: how many were right, what passed for what."""
        if not feedback.has_tasted:
            return self.texts.say("revealed.not_tasted")
        if not feedback.counted:
            return self.texts.say("revealed.none_counts")
        number = self.texts.number
        right = self.texts.say(
            "revealed.right", right=number(feedback.right), counted=number(feedback.counted)
        )
        right = sentence_start(right)
        if feedback.mixed_up is None:
            return right
        was, said = feedback.mixed_up
        mixed_up = self.texts.say(
            "revealed.mixed_up", was=self.name(sentence_start(was)), said=self.inside(said)
        )
        return f"{right} {mixed_up}"
