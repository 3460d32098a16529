"""The two tables of somebody's own page: their glasses, and where they stand.

Marks are glasses seen from above in ink alone: disc, half disc, ring, dot in a ring.
"""

from collections.abc import Mapping
from typing import Final

from seatworthy.pages.figures import percent, spread
from seatworthy.pages.marks import mark
from seatworthy.pages.markup import escaped, tag, unseen
from seatworthy.phrases import (
    ANSWERED_WORDS,
    OUTCOME_WORDS,
    PICKED_WORDS,
    STANDING_WORDS,
    words_of_marks,
)
from seatworthy.sessions.wish import YES_NO
from seatworthy.steps.reveal_views import FeedbackGlass, FeedbackView, ProgressRow

_PICKED: Final = {"right": PICKED_WORDS["right"], "missed": PICKED_WORDS["wrong"]}


def outcome_mark(outcome: str) -> str:
    """The glass from above for one answer, without words; nothing for one that was rated."""
    if outcome == "rated":
        return ""
    return tag("span", class_=f"seen seen-{outcome}", aria_hidden="true")


def glasses_table(glasses: tuple[FeedbackGlass, ...]) -> str:
    """Their own glasses in the order tasted, with the key to the marks under it."""
    has_sets = any(glass.codes for glass in glasses)
    has_others = any(glass.others is not None or glass.others_rated for glass in glasses)
    words = ["code", "what was in it", "you said"] + (["the others"] if has_others else [])
    heads = tag("th", unseen("how it was answered"), scope="col", class_="mark-column")
    heads += "".join(tag("th", word, scope="col") for word in words)
    rows = "".join(_glass(glass, has_others=has_others) for glass in glasses)
    table = tag(
        "table",
        tag("thead", tag("tr", heads)) + tag("tbody", rows),
        class_=f"listing own{' has-sets' * has_sets}",
    )
    words_of = words_of_marks({glass.method for glass in glasses}, has_sets=has_sets)
    entries = [outcome_mark(key) + escaped(words) for key, words in words_of.items()]
    return table + tag("div", "".join(tag("span", entry) for entry in entries), class_="key")


def progress_table(view: FeedbackView) -> str:
    """Each compound of the session: where they stand, this time and in the months before."""
    heads = [
        tag("th", unseen("compound"), scope="col"),
        tag("th", _axis(view.needed), scope="col", class_="strips"),
        tag("th", "this time", scope="col", class_="count"),
        tag("th", "in the 12 months before", scope="col", class_="count"),
        tag("th", "so about (8 in 10)", scope="col", class_="chance"),
        tag("th", unseen("what is missing"), scope="col"),
    ]
    rows = "".join(_progress(row, view.needed) for row in view.progress)
    body = tag("thead", tag("tr", "".join(heads))) + tag("tbody", rows)
    style = f"--needed:{100 * view.needed:.1f}%"
    return tag("table", body, class_="listing standing", style=style)


def _glass(glass: FeedbackGlass, *, has_others: bool) -> str:
    word = unseen(_words_of(glass).get(glass.outcome, "rated"))
    note = tag("i", escaped(glass.note)) if glass.note else ""
    said = tag("b" if glass.outcome == "wrong" else "span", escaped(glass.said))
    codes = [tag("span", escaped(code), class_="code") for code in glass.codes or (glass.code,)]
    cells = [
        tag("td", outcome_mark(glass.outcome) + word, class_="mark-column"),
        tag("th", " ".join(codes), scope="row"),
        tag("td", escaped(glass.was), class_="what"),
        tag("td", said + note, class_="said", data_head="you said:"),
    ]
    if has_others:
        cells.append(tag("td", _others(glass), class_="others"))
    return tag("tr", "".join(cells))


def _words_of(glass: FeedbackGlass) -> Mapping[str, str]:
    if glass.codes:
        return _PICKED
    return ANSWERED_WORDS if glass.method == YES_NO else OUTCOME_WORDS


def _others(glass: FeedbackGlass) -> str:
    if glass.others_rated is not None:
        return f"rated by {glass.others_rated.ratings} others: {glass.others_rated.words}"
    if glass.others is None or glass.others_right is None:
        return ""
    return f"{glass.others_right} of {glass.others} others right"


def _progress(row: ProgressRow, needed: float) -> str:
    word = unseen(f": {STANDING_WORDS.get(row.standing, '')}")
    cells = [
        tag("th", mark(row.standing) + tag("span", escaped(row.label) + word), scope="row"),
        tag("td", range_bar(row, needed), class_="strips"),
        tag("td", _count(row.now_right, row.now_glasses), class_="count", data_head="this time:"),
        tag(
            "td", _count(row.before_right, row.before_glasses), class_="count", data_head="before:"
        ),
        tag("td", _chance(row), class_="chance"),
        tag("td", escaped(row.words), class_="words"),
    ]
    return tag("tr", "".join(cells), class_=f"is-{row.standing}")


def range_bar(row: ProgressRow, needed: float) -> str:
    """The 8-in-10 range as a bar with a tick at the best guess; nothing where nothing is known.

    Args:
        row: Its chance and range.
        needed: Where the dashed line stands, 0 to 1.
    """
    if row.chance is None or row.low is None or row.high is None:
        return ""
    place = f"left:{100 * row.low:.1f}%;width:{100 * (row.high - row.low):.1f}%"
    bar = tag("span", class_="bar", style=place)
    best = tag("span", class_="best", style=f"left:{100 * row.chance:.1f}%")
    words = f"{percent(row.chance)}, {percent(needed)} needed"
    hue = f"strip hue-{row.standing}"
    return tag("div", bar + best, class_=hue, role="img", aria_label=words)


def _axis(needed: float) -> str:
    words = f"{percent(needed).rstrip('%')} needed"
    asked = tag("b", words, style=f"left:{100 * needed:.1f}%")
    ends = tag("span", "0", style="left:0%") + tag("span", "100%", style="left:100%")
    return tag("span", asked + ends, class_="axis")


def _count(right: int, glasses: int) -> str:
    return f"{tag('b', str(right))} of {glasses}" if glasses else ""


def _chance(row: ProgressRow) -> str:
    if row.chance is None or row.low is None or row.high is None:
        return ""
    return f"{percent(row.chance)} {tag('small', f'({spread((row.low, row.high))})')}"
