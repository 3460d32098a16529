"""A weighed call on the page: the chances in squares, what to do next, and the ladder."""

from typing import Any, Final

import streamlit as st

from seatworthy.charts.dressing import dressed
from seatworthy.charts.ladder import ladder_chart
from seatworthy.charts.palette import Shade
from seatworthy.pages.addresses import release_address
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.record_charts import reader_shade
from seatworthy.phrases import weighed_hundredths, weighed_percent, weighed_range
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.weigh_views import (
    OutcomeLine,
    Possibility,
    RungLine,
    StepLine,
    WeighedView,
)

_SQUARES_NOTE: Final = (
    "Of twenty beers called like this one; a square is five chances in a hundred. In grey: the range "
    "that holds eight chances in ten."
)
_LADDER_NOTE: Final = (
    "Read down: each taster moves the chance to the right or to the left. Disc: called it. Half: another "
    "word. Ring: said nothing. Dashed: a word that moves it nowhere."
)


def top_of(view: WeighedView) -> str:
    """The sentence of the page."""
    return opening(view.where, view.answer, view.catch, view.lead)


def show_weighed(view: WeighedView) -> None:
    """Everything under the sentence; nothing where no chance is given."""
    if view.refusal:
        st.html(paper(small_print(view)))
        return
    left, right = st.columns(2, gap="large")
    with left:
        st.html(paper(tag("h2", "What is in the glass?"), _note(_SQUARES_NOTE), _chances(view)))
        st.html(paper(_next(view)))
    with right:
        about = "a fault" if view.about == "" else in_sentence(view.about)
        head = tag("h2", "Who moved it, and how far")
        st.html(paper(head, _note(f"{_LADDER_NOTE} The chance is that of {about}.")))
        said = ", then ".join(f"{rung.head} {weighed_percent(rung.chance)}" for rung in view.rungs)
        spec = _ladder_spec(view.rungs, reader_shade())
        st.vega_lite_chart(spec=spec, theme=None, width="stretch", alt=f"Ladder: {said}")


def other_steps(view: WeighedView) -> str:
    """Every step that was weighed, with what it is expected to tell, the chosen one first."""
    rows = "".join(
        tag("tr", tag("th", escaped(step.sentence), scope="row") + tag("td", escaped(step.told)))
        for step in (*([view.step] if view.step else []), *view.others)
        if step.kind != "nothing"
    )
    return tag("table", tag("tbody", rows), class_="listing") if rows else ""


def small_print(view: WeighedView) -> str:
    """What is assumed."""
    lines = [view.if_talked, *view.assumptions] if view.if_talked else list(view.assumptions)
    items = "".join(tag("li", escaped(line)) for line in lines)
    return tag("ul", items, class_="small-print")


# Altair checks a chart against its whole schema, which takes longer than the weighing.
@st.cache_data(max_entries=128, show_spinner=False)
def _ladder_spec(rungs: tuple[RungLine, ...], shade: Shade) -> dict[str, Any]:
    return dressed(ladder_chart(rungs, shade), shade).to_dict()


def _chances(view: WeighedView) -> str:
    return tag("ul", "".join(_chance(one) for one in view.possibilities), class_="chances")


def _chance(one: Possibility) -> str:
    number = tag("span", escaped(weighed_hundredths(one.chance)) + tag("small", "%"), class_="big")
    share = f"--share:{100 * one.chance:.1f}%"
    squares = tag("span", class_="squares", style=share, aria_hidden="true")
    words = escaped(one.label) + tag("small", escaped(weighed_range(one.limits)))
    what = tag("div", words + squares, class_="what")
    return tag("li", number + what, class_="is-leading" if one.is_leading else None)


def _next(view: WeighedView) -> str:
    step = view.step
    if step is None:
        return ""
    rows = "".join(_outcome(line) for line in step.lines)
    table = tag("table", tag("tbody", rows), class_="comes") if rows else ""
    inside = tag("h2", "The next step") + tag("p", escaped(step.sentence)) + table
    return tag("div", inside + _way(step, view), class_="next")


def _way(step: StepLine, view: WeighedView) -> str:
    if step.kind != "retaste":
        return ""
    address = release_address(view.question.batch_id, step.people)
    link = tag("a", "Plan the blind retaste", href=address, target="_self", class_="way")
    return tag("p", link, class_="ways")


def _outcome(line: OutcomeLine) -> str:
    likely = (
        ""
        if line.chance is None
        else tag(
            "span", escaped(f"happens {weighed_percent(line.chance)} of the time"), class_="likely"
        )
    )
    after = "" if line.after is None else tag("b", escaped(weighed_percent(line.after)))
    action = tag("small", escaped(line.action))
    return tag(
        "tr", tag("th", escaped(line.head) + likely, scope="row") + tag("td", after + action)
    )


def _note(words: str) -> str:
    return tag("p", escaped(words), class_="note")
