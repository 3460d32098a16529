"""What stands around the content of every page: its sentence, its empty state, its foot."""

import re
from collections.abc import Sequence

from streamlit.delta_generator import DeltaGenerator

from seatworthy.network.paths import DOOR
from seatworthy.network.settings import network_settings
from seatworthy.pages.addresses import SAFEKEEPING
from seatworthy.pages.markup import escaped, tag
from seatworthy.phrases import CARE, START_COMMANDS, START_PAGES, SUPPORTS


def opening(where: Sequence[str], answer: str, catch: str, lead: str) -> str:
    """The top of a page: where we are, the sentence, what proves it.

    Args:
        where: Short plain words, escaped here.
        answer: First half of the sentence; it gets its full stop or semicolon here.
        catch: The half that needs a person, "" if nothing does.
        lead: One or two sentences.
    """
    places = tag("div", "".join(tag("span", escaped(place)) for place in where), class_="where")
    return paper(places, headline(answer, catch), tag("p", escaped(lead), class_="lead"))


def headline(answer: str, catch: str) -> str:
    """The sentence on top; the catch carries the amber rule."""
    start = escaped(numbers_kept(answer.rstrip(".;")))
    if not catch:
        return tag("h1", start + ("" if start.endswith("?") else "."), class_="answer")
    end = tag("em", escaped(numbers_kept(catch.rstrip(".") + ".")))
    return tag("h1", f"{start}; {end}", class_="answer")


def paper(*parts: str, class_: str = "") -> str:
    """A stretch of the page in the page's own type."""
    return tag("div", "".join(parts), class_=f"sheet {class_}".strip())


def start_here(sentence: str) -> str:
    """The page of a store without glasses: one sentence, the first pages and the commands to run."""
    pages = [
        tag("dt", tag("a", escaped(label), href=address, target="_self", class_="way"))
        + tag("dd", escaped(what))
        for address, label, what in START_PAGES
    ]
    commands = [
        tag("dt", tag("code", escaped(command))) + tag("dd", escaped(what))
        for command, what in START_COMMANDS
    ]
    return paper(
        tag("h1", escaped(sentence), class_="answer"), tag("dl", "".join([*pages, *commands]))
    )


def other_day(day: str, words: str, back: str) -> str:
    """The line that says that this is not today's board, and by which record it is answered.

    Args:
        day: The day seen.
        words: Which of the two questions is answered; escaped here.
        back: Address of today's page.
    """
    link = tag("a", "Back to today", href=back, target="_self")
    return paper(tag("p", f"Seen for {escaped(day)}. {escaped(words)} {link}", class_="not-today"))


def tell_alarms(place: DeltaGenerator, sentences: Sequence[str]) -> None:
    """Say in a kept place who misses more than before; nothing where nobody does."""
    if sentences:
        lines = "".join(tag("li", escaped(sentence)) for sentence in sentences)
        place.html(paper(tag("ul", lines, class_="hindrances")))


def refusal(message: str) -> str:
    """What stands in the way, in the words of the fault itself."""
    return paper(tag("p", escaped(message), class_="refusal", role="alert"))


def copies_note(reminder: str | None) -> str:
    """The way to the page on which copies are made, after what there is to remind of."""
    words = escaped(f"{reminder} " if reminder else "")
    link = tag("a", "Safekeeping: copies of the record", href=SAFEKEEPING, target="_self")
    return paper(tag("p", words + link, class_="note"))


def footer() -> str:
    """Care for the people and the limits of the tool, on every page."""
    care = tag("p", f"{escaped(CARE)} {tag('b', escaped(SUPPORTS))}")
    return paper(care + (_way_out() if network_settings().is_lan else ""), class_="foot")


def _way_out() -> str:
    """Where a browser that shows the leader's pages on a network is signed out."""
    way = tag("a", "Sign this browser out", href=f"{DOOR}?to=/", target="_self")
    return tag("p", way, class_="ways")


def numbers_kept(sentence: str) -> str:
    """A sentence whose numbers stay on one line with what they count: "14 December", "5.7 g"."""
    return re.sub(r"(?<=\d) (?=\w)|(?<=version) (?=\d)", "\N{NO-BREAK SPACE}", sentence)
