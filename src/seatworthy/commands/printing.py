"""sessions and papers: what is planned, and its papers as files."""

import argparse

from seatworthy import paper
from seatworthy.commands.command import Command, Said, as_path, existing_desk_of, store_word
from seatworthy.errors import PanelError
from seatworthy.steps.desk import Desk
from seatworthy.steps.feedback import feedback, feedback_people
from seatworthy.steps.papers import papers
from seatworthy.steps.session_views import SessionLine
from seatworthy.steps.sessions import sessions

_SIZES = ("A4", "Letter")


def _sessions(said: Said) -> None:
    desk = existing_desk_of(said)
    try:
        view = sessions(desk)
    finally:
        desk.close()
    for line in view.sessions:
        answered = f"{line.answered} of {line.glasses}"
        print(
            f"{line.session_id}  {line.session_on}  {answered:>11} answered  "
            f"{line.label or 'no name'}. {line.sentence}"
        )
    if not view.sessions:
        print(f"{view.answer}; {view.catch}")


def _papers_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "session",
        nargs="?",
        metavar="SESSION",
        help="its name, day or number from the list (default: the next one that is planned)",
    )
    parser.add_argument(
        "--to", type=as_path, default=".", metavar="FOLDER", help="where to (default: here)"
    )
    parser.add_argument("--size", choices=_SIZES, default=_SIZES[0], help="paper (default: A4)")
    store_word(parser)


def _papers(said: Said) -> None:
    desk = existing_desk_of(said)
    try:
        line = _session_meant(sessions(desk).sessions, said.session)
        made = dict(_papers_of(desk, line, said.size))
    finally:
        desk.close()
    said.to.mkdir(parents=True, exist_ok=True)
    for name, content in made.items():
        path = said.to / f"{line.session_on}-{name}.pdf"
        path.write_bytes(content)
        print(path)


def _session_meant(lines: tuple[SessionLine, ...], named: str | None) -> SessionLine:
    planned = [line for line in lines if line.purpose and line.state != "called_off"]
    if named is not None:
        word = named.casefold()
        planned = [
            line
            for line in planned
            if word in (line.session_id, line.label.casefold(), line.session_on.isoformat())
        ]
    if len(planned) == 1 or (planned and named is None):
        return planned[0]
    what = f"{len(planned)} planned sessions answer to" if planned else "No planned session is"
    message = f"{what} “{named or 'the next one'}”. See them with: seatworthy sessions."
    raise PanelError(message)


def _papers_of(desk: Desk, line: SessionLine, size: str) -> list[tuple[str, bytes]]:
    """The papers of a session; once it is closed, everybody's own page."""
    if line.state == "closed":
        people = feedback_people(desk, line.session_id)
        views = [feedback(desk, line.session_id, person.key) for person in people]
        return [("feedback", paper.feedback_pdf([v for v in views if v is not None], size))]
    view = papers(desk, line.session_id)
    if view is None:
        message = f"“{line.label}” has no plan to print."
        raise PanelError(message)
    return [
        ("preparation", paper.preparation_pdf(view, size)),
        ("pouring", paper.pouring_pdf(view, size)),
        ("key", paper.key_pdf(view, size)),
        ("ballots", paper.ballots_pdf(view, size)),
    ]


SESSIONS = Command(
    "Every session: what is planned or under way first, then the newest.", store_word, _sessions
)
PAPERS = Command(
    "Write the papers of a planned session as PDF: preparation list, pouring sheet, key, ballots.\n"
    "All but the ballots say what is in the glasses. Of a closed session: everybody's own page.",
    _papers_words,
    _papers,
)
