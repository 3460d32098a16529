"""Papers as PDF, of a session and for an audit: views in, finished bytes out; none asks or judges.

Whoever imports this waits for no PDF library; a paper's module is imported when it is made.
"""

from collections.abc import Iterable, Sequence
from datetime import datetime

from seatworthy.paper.ballot_card_words import BallotCard
from seatworthy.paper.label_sheets import Kind, LabelSheet
from seatworthy.steps.audit_views import AuditPaper
from seatworthy.steps.miss_views import KeptPanel, MissView
from seatworthy.steps.month_views import MonthsView
from seatworthy.steps.paper_views import PaperView
from seatworthy.steps.reveal_views import FeedbackView
from seatworthy.steps.weigh_papers import WeighingPaper


def preparation_pdf(view: PaperView, size: str) -> bytes:
    """What to put into which vessel, with lines to write down what was really added.

    Args:
        view: The session.
        size: "A4" or "Letter", as for every paper here.
    """
    from seatworthy.paper.preparation import preparation_pdf as made

    return made(view, size)


def pouring_pdf(view: PaperView, size: str) -> bytes:
    """Which vessel goes into which glass: one row a person, one column a glass."""
    from seatworthy.paper.pouring import pouring_pdf as made

    return made(view, size)


def key_pdf(view: PaperView, size: str) -> bytes:
    """What was in each glass, sorted by code."""
    from seatworthy.paper.key import key_pdf as made

    return made(view, size)


def ballots_pdf(view: PaperView, size: str) -> bytes:
    """One sheet a person to answer on; nothing on it tells what is in a glass."""
    from seatworthy.paper.ballots import ballots_pdf as made

    return made(view, size)


def ballot_cards_pdf(cards: Sequence[BallotCard], size: str, made_at: datetime) -> bytes:
    """One card a person with the link to their own ballot; at least one."""
    from seatworthy.paper.ballot_cards import ballot_cards_pdf as made

    return made(cards, size, made_at)


def labels_pdf(view: PaperView, what: Kind, sheet: LabelSheet, first: int = 1) -> bytes:
    """Labels for "caps", "bottles" or "glasses" on a sheet that somebody has measured.

    Raises:
        LabelsRefused: if they don't go on such a sheet.
    """
    from seatworthy.paper.labels import labels_pdf as made

    return made(view, what, sheet, first)


def unprintable(texts: Iterable[str]) -> tuple[str, ...]:
    """Which texts hold letters that none of our faces can print."""
    from seatworthy.paper.lettering import unprintable as found

    return found(texts)


def feedback_pdf(views: Sequence[FeedbackView], size: str) -> bytes:
    """One page for each person about their own answers; at least one view."""
    from seatworthy.paper.feedback import feedback_pdf as made

    return made(views, size)


def weighing_pdf(paper: WeighingPaper, size: str) -> bytes:
    """One weighed call: the chances, the ladder, the next step and what is assumed."""
    from seatworthy.paper.weighing import weighing_pdf as made

    return made(paper, size)


def audit_pdf(paper: AuditPaper, size: str) -> bytes:
    """A competence record, or the panel on a day, with sign-off lines and the record's digest."""
    from seatworthy.paper.audit_sections import audit_pdf as made

    return made(paper, size)


def panel_choice_pdf(view: MissView, made_at: datetime, size: str) -> bytes:
    """Who would sit today and what they would miss; nothing of it is kept by printing."""
    from seatworthy.paper.panel_choice import panel_choice_pdf as made

    return made(view, made_at, size)


def kept_panel_pdf(kept: KeptPanel, size: str) -> bytes:
    """A panel that was kept, as it was."""
    from seatworthy.paper.panel_choice import kept_panel_pdf as made

    return made(kept, size)


def months_pdf(view: MonthsView, size: str) -> bytes:
    """The panel over the months, for a meeting; who came stands there by name and without a rank."""
    from seatworthy.paper.panel_months import months_pdf as made

    return made(view, size)
