"""From a release sitting, or the page's form, to a question that can be weighed."""

from datetime import timedelta
from typing import Final

from seatworthy.errors import PanelError
from seatworthy.steps.batches import batch_named
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import choice_label
from seatworthy.steps.panel import people_of_panel
from seatworthy.steps.release_answers import glasses_with, open_talks, tasted_of
from seatworthy.steps.session_facts import session_with
from seatworthy.steps.views import Choice
from seatworthy.steps.weigh_views import Choices, Question, ToWeigh

_LATELY: Final = timedelta(weeks=2)


def question_of_sample(desk: Desk, sample_id: str) -> Question:
    """What was said of one beer at a sitting, before any talk.

    Where a talk was opened, taken back, and somebody then answered anew, it counts as not blind.

    Args:
        desk: The open store.
        sample_id: Of the jug.

    Raises:
        PanelError: if there is no such sample, it holds no batch, or what was said is still sealed.
    """
    facts = session_with(desk, "sample", sample_id, is_open=False)
    sample = facts.samples[sample_id]
    if sample.batch_id is None:
        message = (
            "That jug holds a known preparation and no beer to be released; nothing is weighed."
        )
        raise PanelError(message)
    if facts.is_open and sample.sitting_id not in open_talks(facts):
        message = (
            "What was said of it is sealed until the talk is opened. Open the talk of the sitting, or "
            "close the session, and weigh it then."
        )
        raise PanelError(message)
    batch = batch_named(desk, sample.batch_id)
    words = tasted_of(desk, sample_id)
    rows = desk.store.rows("session_heard_answers", session_id=facts.head.session_id)
    heard = {row["serving_id"] for row in rows}
    is_blind = not any(glass.serving_id in heard for glass in glasses_with(facts, sample_id))
    return Question(batch.family, batch.label, words, is_blind, batch.batch_id, sample_id)


def beers_to_weigh(desk: Desk) -> tuple[ToWeigh, ...]:
    """Beers of the last fortnight's sittings whose talk is open or over, and that nobody has weighed."""
    rows = desk.store.rows("beers_to_weigh", after_on=desk.today() - _LATELY)
    return tuple(
        ToWeigh(
            row["sample_id"],
            f"{row['label']}, {row['beer_label']}",
            row["session_label"],
            row["session_on"],
        )
        for row in rows
    )


def choices_of(desk: Desk) -> Choices:
    """What the form offers: families, people on the panel, compounds by the word people say."""
    families = desk.store.rows("known_families")
    compounds = [
        Choice(row["compound"], choice_label(row["label"])) for row in desk.store.rows("compounds")
    ]
    return Choices(
        tuple(Choice(row["family"], row["label"] or row["family"]) for row in families),
        tuple(Choice(one.person_id, one.name) for one in people_of_panel(desk) if one.is_panellist),
        tuple(sorted(compounds, key=lambda one: one.label.casefold())),
    )
