"""Panels kept: the list, and one of them as it was."""

import streamlit as st

from seatworthy import paper as papers_made
from seatworthy.pages.addresses import MISS, panel_address
from seatworthy.pages.figures import short_day, whole_day
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.miss_table import misses_table, show_charts, table_note, told_html
from seatworthy.pages.paper_sizes import choose_size
from seatworthy.pages.shelf_parts import listing
from seatworthy.phrases import MISS_CARE, MISS_NOTE
from seatworthy.steps.chain_head import grouped
from seatworthy.steps.desk import Desk
from seatworthy.steps.miss_views import KeptPanel
from seatworthy.steps.panels_kept import panel_kept, panels_kept
from seatworthy.steps.sentences import joined, the_beers


def kept_list(desk: Desk) -> None:
    """All panels kept, the latest first; nothing where there is none."""
    kept = _every(desk, desk.version)
    if not kept:
        return
    heads = ("Day", "For", "Who was chosen", "What they would miss")
    today = desk.today()
    rows = [
        (
            tag("a", short_day(one.chosen_on, today), href=panel_address(one.panel_id), target="_self", class_="way"),
            escaped(one.batch_label or one.family_label),
            escaped(joined(one.names)),
            escaped(one.told.whole),
        )
        for one in kept
    ]  # fmt: skip
    st.html(paper(tag("h2", "Panels kept"), listing(heads, rows, "brief"), class_="proof"))


def show_kept(desk: Desk, panel_id: str) -> None:
    """One panel as it was kept."""
    one = panel_kept(desk, panel_id)
    about = one.batch_label or one.family_label
    st.html(told_html(["Panel kept", about, whole_day(one.chosen_on)], one.told))
    by = f" by {one.kept_by}" if one.kept_by else ""
    facts = [
        f"Chosen: {joined(one.names)}. Kept at {one.moment:%H:%M} on {whole_day(one.moment.date())}{by}.",
        *one.rule_sentences,
        one.clean,
    ]
    st.html(paper(*(tag("p", escaped(fact)) for fact in facts if fact)))
    table = misses_table(one.figures, one.rows, the_beers(one.family_label))
    st.html(paper(table, tag("p", escaped(table_note(one.figures)), class_="note"), class_="proof"))
    show_charts(one.figures, one.rows)
    digest = tag("p", escaped(f"Digest of what was kept: {grouped(one.digest)}."), class_="note")
    back = tag("a", "To the panel of today", href=MISS, target="_self")
    st.html(paper(digest, tag("p", back, class_="ways")))
    _offer_paper(one)
    st.html(
        paper(
            tag("p", escaped(MISS_NOTE), class_="note"), tag("p", escaped(MISS_CARE), class_="note")
        )
    )


def _offer_paper(one: KeptPanel) -> None:
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        size = choose_size()
        st.download_button(
            "Print it (PDF)",
            data=lambda: papers_made.kept_panel_pdf(one, size),
            file_name=f"panel-{one.chosen_on}-{one.panel_id}.pdf",
            mime="application/pdf",
            on_click="ignore",
            key="print_kept",
        )


@st.cache_resource(max_entries=4, show_spinner=False)
def _every(_desk: Desk, version: int) -> tuple[KeptPanel, ...]:
    return panels_kept(_desk)
