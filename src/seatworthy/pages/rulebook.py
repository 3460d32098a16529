"""The rulebook: what people are judged by, in plain words beside its text, and what another would do."""

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.figures import whole_day
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.rulebook_change import offer_another
from seatworthy.pages.rulebook_odds import show_odds
from seatworthy.pages.rulebook_words import numbered, read_out
from seatworthy.pages.shelf_parts import listing
from seatworthy.steps.rulebook_views import AdoptedLine, RulebookView, rulebook_view


def show() -> None:
    """Draw the rulebook in force, its odds, the way to another one, and all that were adopted."""
    desk = source.the_desk()
    view = rulebook_view(desk)
    st.html(opening(["Rulebook"], view.answer, view.catch, view.lead))
    words, text = st.columns([1.25, 1], gap="large")
    with words:
        st.html(paper(tag("h2", "In plain words"), read_out(view.parts)))
    with text:
        st.html(paper(tag("h2", "The text itself"), numbered(view.text)))
    now = desk.rulebook_on(desk.today())
    show_odds(now, "What these rules do in a year", "in force")
    offer_another(view)
    st.html(paper(tag("h2", "Every rulebook on record"), _adopted(view), class_="proof"))


def _adopted(view: RulebookView) -> str:
    heads = ("Name", "Version", "Counts from", "Adopted", "By", "Digest of its text")
    return listing(heads, [_line(line) for line in view.adopted], "brief")


def _line(line: AdoptedLine) -> tuple[str, ...]:
    name = escaped(line.name) + (" (in force)" if line.is_in_force else "")
    return (
        name,
        str(line.version),
        whole_day(line.counts_from),
        whole_day(line.adopted_at.date()),
        escaped(line.adopted_by or "came with the store"),
        tag("code", line.digest[:16]),
    )
