"""What we would miss: who sits today, what slips past them, who should sit, and the panels kept."""

import time
from datetime import datetime
from typing import Final

import streamlit as st

from seatworthy import paper as papers_made
from seatworthy.pages import source
from seatworthy.pages.addresses import BOARD, PLAN, asked_word, release_address
from seatworthy.pages.choices import choose_family
from seatworthy.pages.figures import whole_day
from seatworthy.pages.frame import paper, start_here
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.miss_batch import offer_batch
from seatworthy.pages.miss_choices import (
    choose_batch,
    choose_people,
    choose_rule,
    choose_size,
    take,
    wanted,
)
from seatworthy.pages.miss_kept import kept_list, show_kept
from seatworthy.pages.miss_table import misses_table, show_charts, table_note, told_html
from seatworthy.pages.paper_sizes import choose_size as choose_paper
from seatworthy.pages.shelf_parts import author, choose_author
from seatworthy.pages.telling import act, show_told, tell_only_about
from seatworthy.phrases import MISS_CARE, MISS_NOTE
from seatworthy.steps.boards import nothing_yet
from seatworthy.steps.desk import Desk
from seatworthy.steps.miss_views import MissView, SitterLine, Wanted
from seatworthy.steps.panels_kept import keep_panel
from seatworthy.steps.seat_ground import Ground, seat_ground
from seatworthy.steps.seat_panel import panel_on
from seatworthy.steps.sentences import in_sentence, number_word, the_beers

_TELL: Final = "miss_kept"
_QUARTER_HOUR: Final = 900


def show() -> None:
    """Draw the page: one kept panel if the address names it, else the panel of today."""
    desk, kept = source.the_desk(), asked_word("panel")
    if kept:
        show_kept(desk, kept)
        return
    asked = wanted()
    ground = _ground(
        desk, desk.version, asked.family, asked.batch_id, int(time.time() // _QUARTER_HOUR)
    )
    view = panel_on(ground, asked)
    if view.empty:
        st.html(start_here(nothing_yet(desk)))
        return
    tell_only_about("miss")
    _show_top(view)
    _show_people(view)
    _show_misses(view)
    _show_proposals(view)
    _show_keeping(desk, asked, view)
    kept_list(desk)
    st.html(
        paper(
            tag("p", escaped(MISS_NOTE), class_="note"), tag("p", escaped(MISS_CARE), class_="note")
        )
    )


def _show_top(view: MissView) -> None:
    sentence, choices = st.columns([2.3, 1.25], vertical_alignment="bottom", gap="medium")
    with sentence:
        st.html(told_html(_where(view), view.told))
    with choices:
        if view.batch is None:
            choose_family(view.families, view.family.key)
        choose_batch(view.batches, view.batch)


def _where(view: MissView) -> list[str]:
    callers, count = view.figures.callers, len(view.figures.people)
    rule = (
        "one caller makes" if callers == 1 else f"{number_word(callers)} independent callers make"
    )
    about = f"{view.batch.label}, {view.batch.beer_label}" if view.batch else view.family.label
    who = f"{number_word(count)} for {in_sentence(about) if view.batch is None else about}"
    return [f"Today: {who}", f"Rule: {rule} a fault call"]


def _show_people(view: MissView) -> None:
    who, rule = st.columns(2, gap="medium")
    with who:
        choose_people(view)
    with rule:
        choose_rule(view)
    lines = [_sitter(line) for line in view.people if line.notes]
    noted = tag("ul", "".join(lines), class_="sitters") if lines else ""
    st.html(paper(noted, _rules(view)))


def _sitter(line: SitterLine) -> str:
    words = escaped(", ".join(line.notes))
    inside = f"{tag('b', escaped(line.short))} {tag('span', words, class_='is-warned') if line.is_warned else words}"
    return tag("li", inside)


def _rules(view: MissView) -> str:
    """Quorum, independence and cover, and what needs a person before anybody sits down."""
    hindered = "" if view.is_met or not view.rule_sentences else "hindrances"
    first, more = view.rule_sentences[:1], view.rule_sentences[1:]
    items = tag("ul", "".join(tag("li", escaped(one)) for one in first), class_=hindered or "care")
    rest = [*more, *view.warnings]
    if view.not_seated:
        board = tag("a", "See the board", href=BOARD, target="_self", class_="way")
        verb = "has" if view.not_seated == 1 else "have"
        count = number_word(view.not_seated)
        rest_html = tag(
            "li",
            escaped(f"{count.capitalize()} more {verb} no seat for {the_beers(view.family.label)}.")
            + f" {board}",
        )
    else:
        rest_html = ""
    lines = "".join(tag("li", escaped(one)) for one in rest) + rest_html
    return (items if first else "") + (tag("ul", lines, class_="care") if lines else "")


def _show_misses(view: MissView) -> None:
    if not view.figures.people:
        return
    table = misses_table(view.figures, view.rows, the_beers(view.family.label))
    note = tag("p", escaped(table_note(view.figures)), class_="note")
    clean = tag("p", escaped(view.clean)) if view.clean else ""
    st.html(paper(table, note, class_="proof"))
    show_charts(view.figures, view.rows)
    mending = "".join(tag("li", escaped(sentence)) for sentence in view.menders)
    parts = [tag("h2", "Of a clean beer"), clean] if clean else []
    if mending:
        plan = tag("a", "Plan a session", href=PLAN, target="_self", class_="way")
        parts += [
            tag("h2", "Who would mend it"),
            tag("ul", mending, class_="care"),
            tag("p", plan, class_="ways"),
        ]
    st.html(paper(*parts, class_="proof"))


def _show_proposals(view: MissView) -> None:
    if not view.proposals:
        return
    st.html(paper(tag("h2", "Who should sit"), class_="proof"))
    for line in view.proposals:
        if line.kind == "best":
            choose_size(view)
        is_taken = set(line.people) == set(view.figures.people)
        with st.container(horizontal=True, vertical_alignment="center", gap="medium"):
            st.html(paper(tag("p", escaped(line.sentence))), width="stretch")
            if line.people:
                label = f"The {line.kind} panel sits" if is_taken else f"Seat the {line.kind} panel"
                st.button(
                    label,
                    key=f"take_{line.kind}",
                    on_click=take,
                    args=(line.people,),
                    disabled=is_taken,
                )


def _show_keeping(desk: Desk, asked: Wanted, view: MissView) -> None:
    offer_batch(desk, view)
    if not view.figures.people:
        return
    st.html(paper(tag("h2", "Keep it, or print it"), class_="proof"))
    show_told(_TELL)
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        choose_author()
        st.button(
            "Keep this panel",
            type="primary",
            on_click=_keep,
            args=(desk, asked, view),
            key="keep_panel",
        )
        size = choose_paper()
        st.download_button(
            "Print it (PDF)",
            data=lambda: papers_made.panel_choice_pdf(view, datetime.now(desk.time_zone), size),
            file_name=f"panel-{view.family.key}-{view.as_of}.pdf",
            mime="application/pdf",
            on_click="ignore",
            key="print_panel",
        )
    _show_way_on(view)


def _show_way_on(view: MissView) -> None:
    """On to the sitting itself, for this batch and these people."""
    address = release_address(view.batch.batch_id if view.batch else None, view.figures.people)
    words = "Plan a release sitting for this panel"
    link = tag("a", words, href=address, target="_self", class_="way")
    st.html(paper(tag("p", link, class_="ways")))


def _keep(desk: Desk, asked: Wanted, view: MissView) -> None:
    def step() -> str:
        keep_panel(desk, asked, view, author())
        return f"Kept, with the figures of {whole_day(view.as_of)}; it stands in the list below."

    act(_TELL, step)


@st.cache_resource(max_entries=12, show_spinner="Counting glasses")
def _ground(
    _desk: Desk, version: int, family: str | None, batch_id: str | None, quarter: int
) -> Ground:
    return seat_ground(_desk, family, batch_id)
