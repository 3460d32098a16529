"""Papers for an audit to take away: a competence record, or the panel on a day."""

from collections.abc import Callable
from datetime import date, datetime
from typing import Final

import streamlit as st

from seatworthy import paper as papers_made
from seatworthy.errors import PanelError
from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.paper_sizes import choose_size
from seatworthy.steps.audit_exports import audit_csv, audit_json, audit_xlsx
from seatworthy.steps.audit_views import AuditPaper
from seatworthy.steps.competence import competence, competence_file_name
from seatworthy.steps.panel_day import panel_day, panel_file_name
from seatworthy.steps.spreadsheet import XLSX

_NOTHING: Final = "Nothing is on record for that, so there is nothing to take away."

Made = Callable[[datetime | None], AuditPaper | None]


def offer_competence(person_id: str, family: str, on: date | None) -> None:
    """Offer somebody's competence record for a day, today where ``on`` is None."""
    desk = source.the_desk()

    def made(known_at: datetime | None) -> AuditPaper | None:
        return competence(desk, person_id, family=family, as_of=on, known_at=known_at)

    known_at = source.known_at(desk, on)
    name = competence_file_name(desk, person_id, family, on or desk.today(), known_at)
    _offer("The competence record, for an audit", made, known_at, name)


def offer_panel_day(family: str, on: date | None) -> None:
    """Offer the panel of a beer family on a day, today where ``on`` is None."""
    desk = source.the_desk()

    def made(known_at: datetime | None) -> AuditPaper | None:
        return panel_day(desk, family=family, as_of=on, known_at=known_at)

    known_at = source.known_at(desk, on)
    name = panel_file_name(desk, family, on or desk.today(), known_at)
    _offer("The panel on this day, for an audit", made, known_at, name)


def _offer(title: str, made: Made, known_at: datetime | None, name: str) -> None:
    """What it is, the paper's size, and a button for each form; the address says which record."""
    st.html(paper(tag("h2", escaped(title)), class_="proof"))
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        size = choose_size()
        for words, ending, mime, written in (
            ("PDF", "pdf", "application/pdf", lambda view: papers_made.audit_pdf(view, size)),
            ("CSV", "csv", "text/csv", audit_csv),
            ("Workbook (XLSX)", "xlsx", XLSX, audit_xlsx),
            ("JSON", "json", "application/json", audit_json),
        ):
            st.download_button(
                words,
                data=lambda written=written: _bytes(made(known_at), written),
                file_name=f"{name}.{ending}",
                mime=mime,
                on_click="ignore",
                key=f"{name}-{ending}",
            )


def _bytes(view: AuditPaper | None, written: Callable[[AuditPaper], bytes]) -> bytes:
    if view is None:
        raise PanelError(_NOTHING)
    return written(view)
