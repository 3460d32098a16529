"""The people: who is on the panel, and what somebody is not to be served."""

from collections.abc import Sequence
from datetime import date
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import KEPT, asked_word, record_address
from seatworthy.pages.doubting import ask_again, record_unless_doubted
from seatworthy.pages.figures import short_day
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.going import link_to
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.people_brewers import show_brewers
from seatworthy.pages.people_kept import show_kept
from seatworthy.pages.people_signers import show_signers
from seatworthy.pages.shelf_parts import cleared, listing, written
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import ballot_languages, panel
from seatworthy.steps.ballot_languages import LANGUAGES
from seatworthy.steps.shelf_views import PanelLine, PanelListView
from seatworthy.steps.views import Choice

_NO_REASON: Final = (
    "No reason is asked and none is kept. Beer holds gluten from barley or wheat, and may hold "
    "sulfites; for allergies, medicines or pregnancy medical advice comes first, and nobody has to "
    "taste."
)


def show() -> None:
    """Draw the list, the way to add people, and what can be said of one of them."""
    view = panel.panel(source.the_desk())
    st.html(opening(["People"], view.answer, view.catch, view.lead))
    signers_first = asked_word("first") == "signers"
    if view.people and signers_first:
        show_signers(view)
    if view.people:
        st.html(paper(_table(view), class_="proof"))
    _add(is_first=not view.people)
    if view.people:
        _one(view)
        if not signers_first:
            show_signers(view)
        show_kept()
    show_brewers()


def _table(view: PanelListView) -> str:
    heads = ("Name", "On the panel", "Ballot speaks", "Not to be served")
    here = [person for person in view.people if person.is_panellist]
    gone = [person for person in view.people if not person.is_panellist]
    return listing(heads, [_row(person, view.today) for person in (*here, *gone)])


def _row(person: PanelLine, today: date) -> tuple[str, ...]:
    address = record_address(person.person_id, family="")
    name = tag("a", escaped(person.name), href=address, target="_self", class_="way")
    since = f"since {short_day(person.since_on, today)}" if person.since_on else "yes"
    state = since if person.is_panellist else "not any more"
    return name, state, LANGUAGES[person.language], escaped(", ".join(person.refused))


def _add(*, is_first: bool) -> None:
    st.html(paper(tag("h2", "Put people on the panel")))
    with st.form("add_people", border=False):
        st.text_area("Names, one a line", key="new_names", height=140)
        st.date_input(
            "On the panel since (may stay empty)", value=None, format="YYYY-MM-DD", width=240,
            min_value=date(1990, 1, 1), key="new_since",
        )  # fmt: skip
        kind = "primary" if is_first else "secondary"
        st.form_submit_button("Put them on the panel", type=kind, on_click=_record_names)
    ask_again("add_people", "They are other people: add them", _record_names)
    show_told("add_people")


def _record_names() -> None:
    desk, names = source.the_desk(), tuple(written("new_names").splitlines())
    since = st.session_state["new_since"]
    doubts = panel.lookalikes(desk, names)
    step = partial(panel.add_people, desk, names, since, lookalikes_are_new=True)
    place = "add_people"
    if record_unless_doubted(place, (names, since), doubts, lambda: act(place, step)):
        cleared("new_names")


def _one(view: PanelListView) -> None:
    st.html(paper(tag("h2", "About one of them")))
    names = labels_told_apart(Choice(person.person_id, person.name) for person in view.people)
    st.selectbox("Who", list(names), format_func=names.get, key="about")
    person = next(person for person in view.people if person.person_id == written("about"))
    _ballot_language(person)
    _not_to_be_served(person, view)
    label = "Not on the panel any more" if person.is_panellist else "On the panel again"
    args = (person.person_id, not person.is_panellist)
    with st.container(horizontal=True, vertical_alignment="center", gap="medium"):
        st.button(label, key="set_panellist", on_click=_set_panellist, args=args)
        link_to(KEPT, "What is kept about them", who=person.person_id)
    show_told("set_panellist")


def _ballot_language(person: PanelLine) -> None:
    """In which language their ballot on a phone speaks; one click states it."""
    key = f"language_{person.person_id}"
    st.session_state[key] = person.language
    st.segmented_control(
        "Their ballot on a phone speaks", list(LANGUAGES), format_func=LANGUAGES.get,
        required=True, key=key, on_change=_speak, args=(person.person_id, person.language),
    )  # fmt: skip
    show_told("language")


def _speak(person_id: str, before: str) -> None:
    desk, language = source.the_desk(), st.session_state[f"language_{person_id}"]
    back = partial(ballot_languages.speaks, desk, person_id, before)
    act("language", partial(ballot_languages.speaks, desk, person_id, language), undo=back)


def _set_panellist(person_id: str, is_panellist: bool) -> None:
    step = partial(panel.set_panellist, source.the_desk(), person_id, is_panellist)
    act("set_panellist", step, undo=partial(_put_back, person_id, not is_panellist))


def _put_back(person_id: str, is_panellist: bool) -> str:
    return panel.set_panellist(source.the_desk(), person_id, is_panellist)


def _not_to_be_served(person: PanelLine, view: PanelListView) -> None:
    compounds, beers = labels_told_apart(view.compounds), labels_told_apart(view.beers)
    # What is on record stands in the key, so that a list stated elsewhere shows at once.
    stated = hash((person.refused_compounds, person.refused_beers))
    keys = [f"refused_{kind}_{person.person_id}_{stated}" for kind in ("compounds", "beers")]
    _choose_refused("Not to be served: compounds", compounds, person.refused_compounds, keys[0])
    if beers:
        _choose_refused("Not to be served: base beers", beers, person.refused_beers, keys[1])
    st.html(paper(tag("p", escaped(_NO_REASON), class_="note")))
    st.button(
        "Record what is not to be served", key="record_refused",
        on_click=_record_refused, args=(person.person_id, *keys),
    )  # fmt: skip
    show_told("refused")


def _choose_refused(label: str, labels: dict[str, str], stated: Sequence[str], key: str) -> None:
    st.session_state.setdefault(key, list(stated))
    st.multiselect(
        label, list(labels), format_func=labels.get, placeholder="Nothing", key=key,
        filter_mode="contains", select_all=False, wrap=True,
    )  # fmt: skip


def _record_refused(person_id: str, compounds: str, beers: str) -> None:
    chosen = [st.session_state.get(key, []) for key in (compounds, beers)]
    act("refused", partial(panel.not_to_serve, source.the_desk(), person_id, *chosen))
