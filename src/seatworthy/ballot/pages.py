"""The pages of one ballot: what each of them shows, given the view."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import Any, Final
from urllib.parse import quote

from starlette.responses import Response

from seatworthy.ballot.drawing import drawn
from seatworthy.ballot.forms import WORDS_LENGTH
from seatworthy.ballot.look import MOST_ROWS
from seatworthy.ballot.name_words import in_language, wordings_offered
from seatworthy.ballot.shown import FIND_LENGTH, found_names, shown
from seatworthy.ballot.standing import codes_waited_for, place_among_its_kind, standing
from seatworthy.ballot.texts import texts_of
from seatworthy.ballot.wording import Wording
from seatworthy.steps.ballot_views import (
    HANDED_IN,
    OPEN,
    TALK,
    BallotGlass,
    BallotView,
    FormAnswer,
    NameOffered,
    OwnAnswer,
    OwnFeedback,
)

FIND_FROM: Final = 17  # names; fewer are seen at a glance
HIGHEST_ON_SCALE: Final = 10
_FORCED: Final = ("triangle", "3afc", "2afc", "duo_trio")


@dataclass(frozen=True)
class Notice:
    """Why a form comes back.

    Attributes:
        text: In the panellist's language.
        status: Of the answer.
    """

    text: str = ""
    status: int = 200


NO_NOTICE: Final = Notice()


def words_of(view: BallotView) -> Wording:
    """The language and the names of a ballot."""
    return Wording(texts_of(view.language), view.names, view.is_release)


def address_of(secret: str, rest: object = "") -> str:
    """Where a page of a ballot stands."""
    return f"/b/{quote(secret, safe='')}" + (f"/{rest}" if rest else "")


def overview_page(
    view: BallotView, secret: str, kept: BallotGlass | None = None, notice: Notice = NO_NOTICE
) -> Response:
    """Where somebody stands: every glass with what was said of it, or why nothing is to be said.

    Args:
        view: The ballot.
        secret: Of the link.
        kept: The glass whose answer was stored just now.
        notice: Why a form comes back.
    """
    template = {OPEN: "overview", TALK: "talk"}.get(view.state, "state")
    waiting = view.waits_after if view.state == TALK else view.waiting
    values: dict[str, Any] = {
        "standing": standing(words_of(view), view),
        "next_glass": waiting[0] if waiting else None,
        "shows_said": view.state == HANDED_IN,
    }
    return drawn(
        template, words_of(view), notice.status, **_frame(view, secret, kept, notice), **values
    )


def unfit_page(view: BallotView, secret: str) -> Response:
    """Asks whether somebody really does not taste today."""
    return drawn("unfit", words_of(view), **_frame(view, secret, None, NO_NOTICE))


def glass_page(
    view: BallotView,
    glass: BallotGlass,
    secret: str,
    *,
    form: FormAnswer | None = None,
    find: str = "",
    kept: BallotGlass | None = None,
    notice: Notice = NO_NOTICE,
) -> Response:
    """One glass or one set, with its form.

    Args:
        view: The ballot.
        glass: The glass.
        secret: Of the link.
        form: What was sent and could not be stored; None for what is on record.
        find: What is looked for on the list of names.
        kept: The glass whose answer was stored just now.
        notice: Why the form comes back.
    """
    words = words_of(view)
    values = {
        "glass": glass,
        "where": place_among_its_kind(words, view, glass),
        "is_first": glass.place == view.glasses[0].place,
        "is_talk": view.state == TALK,
        "asks": _asks(words, glass),
        "kind": _kind(glass),
        "filled": form or _on_record(words, glass.after if view.state == TALK else glass.answer),
        "is_sure_as_before": form is None
        and glass.answer is not None
        and bool(glass.answer.sureness),
        "seen": glass.afters if view.state == TALK else glass.answers,
        "scale": range(HIGHEST_ON_SCALE + 1),
        "words_length": WORDS_LENGTH,
    }
    values |= _names(view, values["filled"], find)
    return drawn("glass", words, notice.status, **_frame(view, secret, kept, notice), **values)


def feedback_page(feedback: OwnFeedback, names: Sequence[NameOffered]) -> Response:
    """Somebody's own glasses after the reveal."""
    words = Wording(texts_of(feedback.language), names, feedback.is_release)
    return drawn("feedback", words, feedback=feedback)


def gone_page(language: str) -> Response:
    """For a link that opens nothing, whatever the reason."""
    return drawn("gone", Wording(texts_of(language)), 404)


def busy_page(language: str, address: str, form: FormAnswer | None = None) -> Response:
    """For a store that can't be asked: what was sent is kept in the page, to be sent again.

    Args:
        language: Of the page.
        address: What was asked for.
        form: What was sent; None if nothing was.
    """
    return drawn("busy", Wording(texts_of(language)), 503, address=address, form=form)


def _frame(
    view: BallotView, secret: str, kept: BallotGlass | None, notice: Notice
) -> dict[str, Any]:
    words = words_of(view)
    return {
        "view": view,
        "here": address_of(secret),
        "kept": kept,
        "notice": notice.text,
        "nudge": codes_waited_for(words, view) if view.is_nudged and view.state == OPEN else "",
        "grams": words.texts.amount(view.alcohol_limit_g),
    }


def _kind(glass: BallotGlass) -> str:
    """How a glass is answered."""
    if glass.is_set:
        return "picks"
    if glass.method in ("intensity", "a_not_a"):
        return glass.method
    return "paper" if glass.method in _FORCED else "naming"


def _asks(words: Wording, glass: BallotGlass) -> str:
    """The question of a glass."""
    if glass.method == "naming":
        return words.texts.say("release.asks" if words.is_release else "naming.asks")
    if glass.method in _FORCED:
        return words.texts.say(f"asks.{glass.method}")
    if glass.asks_beer:
        return words.texts.say("asks.beer", beer=shown(glass.asks_beer))
    if not glass.asked:
        return words.texts.say(f"asks.{glass.method}_any")
    return words.texts.say(f"asks.{glass.method}", asked=words.inside(glass.asked))


def _on_record(words: Wording, answer: OwnAnswer | None) -> FormAnswer:
    """The form that would say again what is on record."""
    if answer is None:
        return FormAnswer()
    if answer.kind == "words":
        name = words.chosen(answer.words)
        filled = {"choice": name.compound} if name else {"words": answer.words}
    elif answer.kind == "rating" and answer.rating is not None:
        filled = {"rating": words.texts.amount(answer.rating)}
    else:
        filled = {"choice": answer.picked or answer.kind}
    return FormAnswer(**filled, sureness=answer.sureness)


def _names(view: BallotView, filled: FormAnswer, find: str) -> dict[str, Any]:
    """The names to choose from, and what came of looking for some of them."""
    find = find.strip()[:FIND_LENGTH]
    names = in_language(view.names, view.language)
    found = found_names(names, find)
    offered = [
        name for name in names if not find or name in found or name.compound == filled.choice
    ]
    rows = ceil(len(offered) / 2)
    return {
        "names": offered,
        "wordings": wordings_offered(view.names, view.language),
        "rows": rows if rows <= MOST_ROWS else 0,
        "may_find": len(view.names) >= FIND_FROM,
        "find": shown(find),
        "found": len(found),
        "own_words": filled.words or (find if find and not found else ""),
    }
