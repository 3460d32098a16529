"""A verdict with its reasons, opened step by step down to the glasses."""

from seatworthy.pages.feedback_tables import outcome_mark
from seatworthy.pages.figures import whole_day
from seatworthy.pages.marks import mark
from seatworthy.pages.markup import escaped, tag, unseen
from seatworthy.phrases import STANDING_WORDS
from seatworthy.steps.reason_views import GlassLine, ReasonView


def reason_tree(reason: ReasonView, depth: int = 0) -> str:
    """A reason as HTML; whatever has something behind it can be opened.

    Args:
        reason: What to draw.
        depth: How deep it lies; the outermost is open.
    """
    head = _head(reason)
    inside = "".join(reason_tree(part, depth + 1) for part in reason.parts) + _glasses(reason)
    if not inside:
        return tag("div", head, class_="reason leaf")
    opened = {"open": "open"} if depth == 0 else {}
    return tag("details", tag("summary", head) + inside, class_="reason", **opened)


def _head(reason: ReasonView) -> str:
    word = unseen(f" {STANDING_WORDS[reason.standing]}.")
    shown = "" if reason.asked_for else " (shown only)"
    name = tag("b", escaped(reason.title + shown)) + word
    change = tag("span", escaped(reason.change), class_="change") if reason.change else ""
    return mark(reason.standing) + tag("span", f"{name} {escaped(reason.sentence)}{change}")


def _glasses(reason: ReasonView) -> str:
    if not reason.glasses:
        return ""
    rows = "".join(_glass(line) for line in reversed(reason.glasses))
    return tag("table", tag("tbody", rows), class_="behind")


def _glass(line: GlassLine) -> str:
    seen = outcome_mark(line.outcome) if line.outcome else ""
    cells = (
        tag("td", whole_day(line.day), class_="day"),
        tag("td", escaped(line.what)),
        tag("td", f"{seen} {escaped(line.said)}".strip()),
        tag("td", "" if line.counts else escaped(line.why_not or "doesn't count here")),
    )
    return tag("tr", "".join(cells), class_="" if line.counts else "pale")
