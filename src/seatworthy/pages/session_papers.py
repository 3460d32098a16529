"""The papers of a session to take away; each is made when it is asked for."""

import zipfile
from collections.abc import Callable
from io import BytesIO
from typing import Final

import streamlit as st

from seatworthy import paper as papers_made
from seatworthy.errors import PanelError
from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.paper_sizes import choose_size
from seatworthy.pages.session_labels import offer_labels, warn_of_letters
from seatworthy.steps import papers as paper_steps
from seatworthy.steps.desk import Desk
from seatworthy.steps.session_views import SessionView

# What is on the button, the file's name, the function in `paper`.
_PAPERS: Final = (
    ("Preparation list", "preparation-list", "preparation_pdf"),
    ("Pouring sheet", "pouring-sheet", "pouring_pdf"),
    ("Key", "key", "key_pdf"),
    ("Ballots", "ballots", "ballots_pdf"),
)
_CAUTION: Final = (
    "The preparation list says what each letter is, the pouring sheet which letter is behind each "
    "code, and the key says both: keep all three out of the tasting room. Only the ballots go on the "
    "tables. The pouring sheet is for whoever puts the codes on, and not for the preparer."
)


def offer_papers(view: SessionView) -> None:
    """Five downloads: four papers, and all of them in one file."""
    desk, start = source.the_desk(), view.session_on.isoformat()
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        size = choose_size()
        for words, name, function in _PAPERS:
            _download(
                words,
                lambda function=function: paper_bytes(desk, view.session_id, function, size),
                f"{start}-{name}.pdf",
                "application/pdf",
            )
        _download(
            "All four",
            lambda: papers_zip(desk, view.session_id, size, start),
            f"{start}-papers.zip",
            "application/zip",
        )
    st.html(paper(tag("p", escaped(_CAUTION), class_="note")))
    warn_of_letters(view)
    offer_labels(view, size)


def paper_bytes(desk: Desk, session_id: str, function: str, size: str) -> bytes:
    """One paper as PDF.

    Args:
        desk: The open store.
        session_id: The session.
        function: Name of the function in `seatworthy.paper`.
        size: "A4" or "Letter".
    """
    view = paper_steps.papers(desk, session_id)
    if view is None:
        message = "This session has no plan, so there is nothing to print."
        raise PanelError(message)
    return getattr(papers_made, function)(view, size)


def papers_zip(desk: Desk, session_id: str, size: str, start: str) -> bytes:
    """All papers in one archive; ``start`` begins each file's name."""
    box = BytesIO()
    with zipfile.ZipFile(box, "w", zipfile.ZIP_DEFLATED) as archive:
        for _, name, function in _PAPERS:
            archive.writestr(f"{start}-{name}.pdf", paper_bytes(desk, session_id, function, size))
    return box.getvalue()


def _download(words: str, made: Callable[[], bytes], file_name: str, mime: str) -> None:
    st.download_button(words, data=made, file_name=file_name, mime=mime, on_click="ignore")
