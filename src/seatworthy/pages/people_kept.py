"""How long people are kept: what the brewery states, and who is past it."""

from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import KEPT, kept_address
from seatworthy.pages.figures import long_day
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.telling import act, show_told
from seatworthy.steps import retention

_PLACE: Final = "retention"
_LEAD: Final = (
    "Counted from the day somebody last sat or stated something. Whoever is past it is shown here and on "
    "the board; nothing is deleted by itself."
)


def show_kept() -> None:
    """Draw the statement, and those whose time is over."""
    desk = source.the_desk()
    way = tag("a", "What is kept about somebody", href=KEPT, target="_self", class_="way")
    st.html(
        paper(
            tag("h2", "How long people are kept"),
            tag("p", escaped(f"{retention.LOCAL_LAW} {_LEAD}"), class_="note"),
            tag("p", way, class_="ways"),
            _past(),
            class_="proof",
        )
    )
    months = retention.keep_months(desk)
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        st.number_input(
            "Months after the last sitting (empty: no end)", min_value=1,
            max_value=retention.MOST_MONTHS, value=months, step=1, width=320,
            key=f"keep_months_{months}",
        )  # fmt: skip
        st.button("State it", key="state_retention", on_click=_state, args=(months,))
    show_told(_PLACE)


def _past() -> str:
    desk = source.the_desk()
    today = desk.today()
    lines = "".join(
        tag("li", f"{_link(person)}: last on {escaped(long_day(person.last_on, today))}")
        for person in retention.past_their_time(desk)
    )
    if not lines:
        return ""
    head = tag("p", "Past it; make them anonymous, or say until when they are kept:")
    return head + tag("ul", lines, class_="hindrances")


def _link(person: retention.KeptPerson) -> str:
    return tag(
        "a", escaped(person.name), href=kept_address(person.person_id), target="_self", class_="way"
    )


def _state(months: int | None) -> None:
    wanted = st.session_state[f"keep_months_{months}"]
    desk = source.the_desk()
    back = partial(retention.state_retention, desk, months)
    act(_PLACE, partial(retention.state_retention, desk, wanted), undo=back)


def reminder_line() -> str:
    """One quiet line with the way to those past their time; "" where nobody is."""
    words = source.retention_reminder()
    if not words:
        return ""
    way = tag("a", "How long people are kept", href="people", target="_self")
    return paper(tag("p", f"{escaped(words)} {way}", class_="note"))
