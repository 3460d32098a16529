"""The talk of a release sitting: opened by the leader, then who said what before it and after it."""

from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import sure_address
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import talk as talk_steps
from seatworthy.steps.talk_views import BeerTalk, SaidLine, SittingTalk, TalkView
from seatworthy.steps.views import Choice

PLACE: Final = "talk"
_SEALED: Final = (
    "What was said is sealed until the talk is open. From then on nobody changes it, and everybody may say "
    "again what they say of each glass, on their own phone or to you."
)
_OPEN: Final = "Ask for reasons, not for agreement. Nothing here is a vote: each beer has its way to be weighed."


def show_talk(view: TalkView) -> None:
    """Sitting by sitting: open the talk, see both answers side by side, type what is said after it.

    Args:
        view: A release sitting's talk.
    """
    show_told(PLACE)
    for sitting in view.sittings:
        if len(view.sittings) > 1:
            st.html(paper(tag("h3", escaped(sitting.label))))
        if sitting.is_open:
            block = talk_block(sitting, nothing="nothing yet")
            st.html(paper(tag("p", escaped(_OPEN), class_="note"), block))
            _offer_after(sitting)
        elif view.is_running:
            _offer_to_open(sitting)


def show_said(view: TalkView) -> None:
    """The same of a session that is closed: what was said of each beer."""
    parts = []
    for sitting in view.sittings:
        if len(view.sittings) > 1:
            parts.append(tag("h3", escaped(sitting.label)))
        parts.append(talk_block(sitting))
    st.html(paper(tag("h2", "The beers"), *parts))


def talk_block(sitting: SittingTalk, nothing: str = "nothing said") -> str:
    """Each beer with its sentence, its way to be weighed, and a line a person.

    Args:
        sitting: What was said at it.
        nothing: What stands where somebody said nothing after the talk.
    """
    return "".join(_beer(beer, nothing) for beer in sitting.beers)


def _beer(beer: BeerTalk, nothing: str) -> str:
    way = tag(
        "a", "How sure are we?", href=sure_address(beer.sample_id), target="_self", class_="way"
    )
    parts = [tag("h3", escaped(beer.label)), tag("p", f"{escaped(beer.sentence)} {way}")]
    if beer.lines:
        heads = "".join(
            tag("th", head, scope="col") for head in ("Who", "Before the talk", "After it")
        )
        rows = "".join(_line(line, nothing) for line in beer.lines)
        table = tag("thead", tag("tr", heads)) + tag("tbody", rows)
        parts.append(tag("table", table, class_="listing talked"))
    return "".join(parts)


def _line(line: SaidLine, nothing: str) -> str:
    crew = tag("i", "made it: not independent") if line.is_crew else ""
    after = tag("b", escaped(line.after)) if line.is_changed else escaped(line.after)
    cells = [
        tag("th", escaped(line.name) + crew, scope="row"),
        tag("td", escaped(line.before), data_head="before:"),
        tag("td", after or nothing, data_head="after:"),
    ]
    return tag("tr", "".join(cells))


def _offer_to_open(sitting: SittingTalk) -> None:
    st.html(paper(tag("p", escaped(_SEALED), class_="note")))
    stays = True
    if sitting.missing:
        st.html(paper(tag("p", escaped(sitting.missing), class_="ask")))
        stays = st.checkbox("They stay missing", key=f"stays_{sitting.sitting_id}")
    st.button(
        "Open the talk", key=f"open_talk_{sitting.sitting_id}", disabled=not stays,
        on_click=_open, args=(sitting.sitting_id, bool(sitting.missing)),
    )  # fmt: skip


def _open(sitting_id: str, without_missing: bool) -> None:
    desk = source.the_desk()
    act(
        PLACE,
        partial(talk_steps.open_talk, desk, sitting_id, without_missing=without_missing),
        partial(talk_steps.take_talk_back, desk, sitting_id),
    )


def _offer_after(sitting: SittingTalk) -> None:
    """A form for what is said after the talk by somebody without a phone."""
    if not sitting.glasses:
        return
    glasses = labels_told_apart(
        Choice(g.serving_id, f"{g.label}, {g.after}" if g.after else g.label)
        for g in sitting.glasses
    )
    key = f"after_{sitting.sitting_id}"
    with (
        st.expander("Type what somebody says after the talk"),
        st.form(key, border=False),
        st.container(horizontal=True, vertical_alignment="bottom", gap="small"),
    ):
        st.selectbox(
            "Whose glass", list(glasses), index=None, format_func=glasses.get,
            placeholder="Name or code", key=f"{key}_glass", width=300,
        )  # fmt: skip
        st.text_input("What they say now", placeholder="0, ? or a name in full", key=f"{key}_said",
                      width=240)  # fmt: skip
        st.checkbox("These are own words", key=f"{key}_own")
        st.form_submit_button("Keep it", on_click=_keep_after, args=(key,))
    if sitting.may_take_back:
        st.button(
            "The talk is not open yet: take that back", key=f"back_{sitting.sitting_id}",
            on_click=_take_back, args=(sitting.sitting_id,),
        )  # fmt: skip


def _keep_after(key: str) -> None:
    state, desk = st.session_state, source.the_desk()
    serving_id, said = state[f"{key}_glass"], state[f"{key}_said"]
    if serving_id is None:
        act(PLACE, lambda: "Choose a glass first. Nothing was recorded.")
        return
    is_own = bool(state.get(f"{key}_own"))
    step = partial(talk_steps.say_after, desk, serving_id, said, keep_own_words=is_own)
    if act(PLACE, step):
        state[f"{key}_glass"], state[f"{key}_said"], state[f"{key}_own"] = None, "", False


def _take_back(sitting_id: str) -> None:
    act(PLACE, partial(talk_steps.take_talk_back, source.the_desk(), sitting_id))
