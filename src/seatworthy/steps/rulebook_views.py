"""The rulebook in plain words beside its text, which others are at hand, and what each would do."""

import re
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from seatworthy.rules.compound import day_text
from seatworthy.rules.read_aloud import Part, read_aloud
from seatworthy.rules.reading import examples, menu, read_rulebook
from seatworthy.rules.rulebook import Item
from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.desk import Desk, InForce
from seatworthy.steps.judging import judge_day
from seatworthy.steps.labels import short_label
from seatworthy.steps.odds import rule_odds
from seatworthy.steps.odds_views import RulebookOdds
from seatworthy.steps.panel_pace import Pace, panel_pace
from seatworthy.steps.rulebooks import THIS, supposed_rulebook
from seatworthy.steps.sentences import in_sentence

IN_FORCE = "in_force"
KEPT = 8
EVER_SINCE = (
    "It came with the store; earlier days are judged by it too, since nobody had adopted any rules "
    "then."
)


@dataclass(frozen=True)
class AdoptedLine:
    """One rulebook on record.

    Attributes:
        digest: SHA-256 of its text.
        is_in_force: Whether verdicts of today are given by it.
    """

    name: str
    version: int
    counts_from: date
    adopted_at: datetime
    adopted_by: str
    digest: str
    is_in_force: bool


@dataclass(frozen=True)
class AtHand:
    """A rulebook to start from.

    Attributes:
        key: By which `start_text` finds it.
        label: What it is called.
    """

    key: str
    label: str


@dataclass(frozen=True)
class RulebookView:
    """The rulebook in force.

    Attributes:
        answer, catch, lead: The sentence on top and what stands under it.
        parts: What it says, in plain words.
        text: Its TOML.
        adopted: Every rulebook on record, the latest to count first.
        at_hand: Rulebooks to start a new one from.
    """

    answer: str
    catch: str
    lead: str
    parts: tuple[Part, ...]
    text: str
    adopted: tuple[AdoptedLine, ...]
    at_hand: tuple[AtHand, ...]


def rulebook_view(desk: Desk, as_of: date | None = None) -> RulebookView:
    """The rulebook in force on a day, today where None."""
    day = as_of or desk.today()
    now, every = desk.rulebook_on(day), desk.rulebooks()
    book = now.rulebook
    coming = [one for one in every if one.rulebook.counts_from > day and one.digest != now.digest]
    start = desk.in_force_since(now)
    first = EVER_SINCE if start > book.counts_from else ""
    catch = ""
    if coming:
        nxt = coming[0].rulebook
        catch = f"“{nxt.name}”, version {nxt.version}, counts from {day_text(nxt.counts_from)}"
    return RulebookView(
        answer=(
            f"People are judged by “{book.name}”, version {book.version}, "
            f"in force since {day_text(start)}"
        ),
        catch=catch,
        lead=" ".join(part for part in (book.about, book.follows, first) if part),
        parts=words_of(desk, now),
        text=now.text,
        adopted=_adopted(desk, now),
        at_hand=_at_hand(),
    )


def spoken_labels(desk: Desk) -> dict[str, str]:
    """What compounds and beer families are called in a sentence, by their keys."""
    labels = {
        row["compound"]: in_sentence(short_label(row["label"]))
        for row in desk.store.rows("compounds")
    }
    families = {row["family"]: row["label"] for row in desk.store.rows("known_families")}
    return {**families, **labels}


def start_text(desk: Desk, key: str) -> str:
    """The text of a rulebook at hand to start from, dated today; the one in force for `IN_FORCE`."""
    text = desk.rulebook_on(desk.today()).text if key == IN_FORCE else rulebook_text(key)
    return _ready_to_adopt(desk, text)


def _ready_to_adopt(desk: Desk, text: str) -> str:
    """The text with today's date, and the next version where its name is on record."""
    name = read_rulebook("the rulebook", text).name
    used = [
        one.rulebook.version
        for one in desk.rulebooks()
        if one.rulebook.name.casefold() == name.casefold()
    ]
    version = max(used, default=0) + 1
    text = re.sub(r"(?m)^version\s*=.*$", f"version = {version}", text, count=1)
    return re.sub(r"(?m)^counts_from\s*=.*$", f"counts_from = {desk.today()}", text, count=1)


def odds_of(desk: Desk, other: InForce) -> tuple[RulebookOdds, Pace]:
    """What a rulebook does in a year at the pace of this panel, in its most tasted beer family.

    Args:
        desk: The open store.
        other: The rulebook.
    """
    book, judged = other.rulebook, judge_day(desk)
    family = next(iter(judged.families), "")
    pace = panel_pace(judged, family)
    critical = judged.critical.get(family) or book.critical
    asked = (repr(book), pace, critical)
    if asked not in _kept:
        _kept[asked] = rule_odds(
            book, pace.glasses, pace.sessions, pace.blanks, pace.people, critical
        )
        while len(_kept) > KEPT:
            _kept.popitem(last=False)
    return _kept[asked], pace


_kept: OrderedDict[tuple[str, Pace, tuple[Item, ...]], RulebookOdds] = OrderedDict()


def words_of(desk: Desk, other: InForce) -> tuple[Part, ...]:
    """A rulebook in plain words."""
    return read_aloud(other.rulebook, spoken_labels(desk))


def texts_at_hand() -> tuple[str, ...]:
    """Names of the rulebooks that travel with the program."""
    return (*menu(), *examples())


def shipped_text(name: str) -> str:
    """The text of one of them."""
    return rulebook_text(name)


def differences(desk: Desk, other: InForce) -> tuple[tuple[str, str, str], ...]:
    """What another rulebook says otherwise than the one in force: heading, now, then."""
    now = _sentences_of(words_of(desk, desk.rulebook_on(desk.today())))
    then = _sentences_of(words_of(desk, other))
    return tuple(
        (heading, now.get(heading, NOT_SAID), then.get(heading, NOT_SAID))
        for heading in dict.fromkeys([*now, *then])
        if now.get(heading) != then.get(heading)
    )


NOT_SAID = "Nothing."


def _sentences_of(parts: tuple[Part, ...]) -> dict[str, str]:
    """Sentences by heading, the opening with name and version left out."""
    return {part.heading: " ".join(part.sentences) for part in parts[1:]}


def supposed(desk: Desk, text: str, name: str = THIS) -> InForce:
    """A rulebook as it would be if it were adopted.

    Raises:
        RulebookRefused: with every fault of the text.
    """
    shelf = frozenset(row["compound"] for row in desk.store.rows("compounds"))
    return supposed_rulebook(text, shelf, name)


def _adopted(desk: Desk, now: InForce) -> tuple[AdoptedLine, ...]:
    by = {row["rulebook_digest"]: row["author"] for row in desk.store.rows("rulebook_authors")}
    return tuple(
        AdoptedLine(
            one.rulebook.name,
            one.rulebook.version,
            one.rulebook.counts_from,
            one.adopted_at,
            by.get(one.digest) or "",
            one.digest,
            one.digest == now.digest,
        )
        for one in reversed(desk.rulebooks())
    )


def _at_hand() -> tuple[AtHand, ...]:
    words: Mapping[str, str] = EXAMPLE_WORDS
    return (
        AtHand(IN_FORCE, "the one in force"),
        *(AtHand(name, f"{name}, from the menu") for name in menu()),
        *(AtHand(name, words.get(name, name.replace("_", " "))) for name in examples()),
    )


EXAMPLE_WORDS = {
    "olive_oil": "example after olive-oil panels",
    "olfactometry": "example after olfactometry",
    "triangles": "example of sequential triangles",
    "matching": "example of matching and ranking",
}
