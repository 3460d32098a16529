"""What is kept about one person, for how long, and their ways: a copy, a longer time, no name any more."""

from datetime import date
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import asked_word, kept_address, record_address
from seatworthy.pages.choices import choose_person
from seatworthy.pages.figures import short_day
from seatworthy.pages.frame import headline, opening, paper
from seatworthy.pages.kept_anonymous import show_anonymous, show_copies
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import listing, written
from seatworthy.pages.telling import act, show_told, tell_only_about
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import kept_about, own_copy, people, retention
from seatworthy.steps.kept_views import KeptLine, KeptView
from seatworthy.steps.views import Choice

_HEADS: Final = ("What", "How many", "Recorded")
_COPY: Final = (
    "A zip file with a text to read and the same for a program. Other people stand in it as “another "
    "person”; digests, PINs and what opens a ballot are left out. That it was handed out is recorded."
)
_MADE: Final = "kept_copy"


def show() -> None:
    """Draw the page of the person that the address names."""
    who = asked_word("who")
    view = kept_about.kept_about(source.the_desk(), who) if who else None
    if view is None:
        st.html(_whose())
        show_copies()
        return
    tell_only_about(view.person_id)
    sentence, choices = st.columns([2.3, 1.25], vertical_alignment="bottom", gap="medium")
    with sentence:
        st.html(opening(["Kept about", view.name], view.answer, view.catch, view.lead))
    with choices:
        choose_person(view.people, view.person_id)
    st.html(_page(view))
    if view.nothing_in:
        with st.expander("What else can be kept, and isn't"):
            st.html(paper(tag("p", escaped(", ".join(view.nothing_in)), class_="note")))
    if not view.is_anonymous:
        _offer_copy(view)
        _offer_longer(view)
    show_anonymous(view)
    show_copies()


def _page(view: KeptView) -> str:
    said = [*view.said]
    if view.known_as:
        said.insert(0, f"Also written: {', '.join(view.known_as)}.")
    lines = "".join(tag("li", escaped(sentence)) for sentence in said)
    table = listing(_HEADS, [_row(line, view.today) for line in view.lines])
    address = record_address(view.person_id, family="")
    way = tag("a", "Their record", href=address, target="_self", class_="way")
    return paper(
        tag("ul", lines, class_="care"),
        table,
        tag("p", way, class_="ways"),
        class_="proof",
    )


def _row(line: KeptLine, today: date) -> tuple[str, ...]:
    days = [short_day(day, today) for day in (line.first_on, line.last_on) if day is not None]
    what = escaped(line.words) + tag("i", f" {escaped(line.head)}")
    return what, str(line.rows), escaped(" to ".join(dict.fromkeys(days)))


def _whose() -> str:
    known = people.everybody(source.the_desk())
    rows = "".join(
        tag("li", tag("a", escaped(one.name), href=kept_address(one.person_id), target="_self"))
        for one in known
    )
    if not rows:
        return paper(headline("Nothing is kept about anybody yet", ""))
    return paper(
        headline("About whom shall it be?", ""),
        tag("p", "Everybody on record, whether on the panel or not.", class_="lead"),
        tag("ul", rows, class_="people"),
    )


def _offer_copy(view: KeptView) -> None:
    st.html(paper(tag("h2", f"A copy for {escaped(view.name)}"), tag("p", _COPY, class_="note")))
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        names = labels_told_apart(
            Choice(one.person_id, one.name) for one in people.everybody(source.the_desk())
        )
        st.selectbox(
            "Handed out by (may stay empty)", list(names), index=None, format_func=names.get,
            placeholder="Nobody named", key="kept_by", width=260,
        )  # fmt: skip
        st.button("Make the copy", key="make_copy", on_click=_make_copy, args=(view.person_id,))
        made = st.session_state.get(_MADE)
        if made is not None and made[0] == view.person_id:
            st.download_button(
                "Save it", data=made[2], file_name=made[1], mime="application/zip",
                on_click="ignore", key="save_copy",
            )  # fmt: skip
    show_told("copy")


def _make_copy(person_id: str) -> None:
    act("copy", partial(_copied, person_id, written("kept_by") or None))


def _copied(person_id: str, by: str | None) -> str:
    name, data = own_copy.hand_out_copy(source.the_desk(), person_id, by)
    st.session_state[_MADE] = (person_id, name, data)
    return "The copy is made, and that it was handed out is recorded. Save it, and give it to nobody else."


def _offer_longer(view: KeptView) -> None:
    desk = source.the_desk()
    if not any(one.person_id == view.person_id for one in retention.past_their_time(desk)):
        show_told("longer")
        return
    st.html(paper(tag("h2", "Keep them longer")))
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        st.date_input("Keep until", value=None, format="YYYY-MM-DD", key="longer_until", width=200)
        st.button("Keep until then", on_click=_keep, args=(view.person_id,))
    show_told("longer")


def _keep(person_id: str) -> None:
    until = st.session_state.get("longer_until")
    if until is not None:
        act("longer", partial(retention.keep_longer, source.the_desk(), person_id, until))
