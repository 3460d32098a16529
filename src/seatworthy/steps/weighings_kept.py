"""Weighed calls that are kept, what the beers turned out to have, and whether the calls keep their word."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from decimal import Decimal
from hashlib import sha256
from secrets import token_hex
from types import MappingProxyType
from typing import Any, Final

from seatworthy.decide.weighing import WEIGHING_VERSION
from seatworthy.errors import PanelError
from seatworthy.intake.words import Unreadable, read_label, read_text
from seatworthy.stats.ability.settings import MODEL_VERSION
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_release_words import NOTHING, UNLISTED
from seatworthy.steps.people import known_spellings
from seatworthy.steps.sentences import joined
from seatworthy.steps.signing import salted, sign
from seatworthy.steps.tasted import NAMED, Tasted
from seatworthy.steps.weigh import weigh_call
from seatworthy.steps.weigh_views import (
    KeptWeighing,
    Question,
    WeighedView,
)
from seatworthy.steps.weighing_rows import (
    compound_labels,
    found_words,
    weighing_chances,
    weighing_rows,
    weighing_words,
)

VERSION: Final = f"{MODEL_VERSION}, {WEIGHING_VERSION}"
HOW_KNOWN: Final = MappingProxyType(
    {
        "laboratory": "by a laboratory",
        "triangle": "by a triangle test",
        "retaste": "by pouring it again, blind",
        "market": "by what came back from the trade",
        "other": "in another way",
    }
)
_PLACES: Final = Decimal("0.00000001")


def keep_weighing(desk: Desk, question: Question, by: str | None = None) -> str:
    """Keep a weighed call with its words and chances; the same on the same day is one fact.

    Args:
        desk: The open store.
        question: Who said what of which beer.
        by: Who has it kept.

    Returns:
        Its id.

    Raises:
        PanelError: if it can't be weighed, gives no chance, or its beer has no name.
    """
    view = weigh_call(desk, question)
    if view.refusal:
        message = f"{view.answer}. Without a chance there is nothing to keep."
        raise PanelError(message)
    label = _label(question.label)
    weighing_id = token_hex(8)
    chances = [(what, Decimal(chance).quantize(_PLACES)) for what, chance in view.chances]
    text = _canonical(question, chances)
    digest = sha256(text.encode()).hexdigest()
    with desk.store.recording("weighing", counts=False) as act:
        same = (label, desk.today(), digest)
        for row in weighing_rows(desk):
            if (row["label"], row["weighed_on"], row["weighed_digest"]) == same:
                return row["weighing_id"]
        act.add(
            "weighed_call",
            {
                "weighing_id": weighing_id,
                "weighed_on": desk.today(),
                "family": question.family,
                "batch_id": question.batch_id,
                "sample_id": question.sample_id,
                "label": label,
                "is_blind": question.is_blind,
                "model_version": VERSION,
                "weighed_text": text,
                "weighed_digest": digest,
            },
        )
        act.add_all(("weighed_word", _word_row(weighing_id, word)) for word in question.words)
        act.add_all(
            ("weighed_chance", {"weighing_id": weighing_id, "what": what, "chance": chance})
            for what, chance in chances
        )
        sign(act, by)
    return weighing_id


def state_outcome(
    desk: Desk, weighing_id: str, what: str, how: str, remark: str = "", by: str | None = None
) -> str:
    """State what a weighed beer really had; stated again, the last statement holds.

    Args:
        desk: The open store.
        weighing_id: The weighed call.
        what: "nothing", "unlisted", or a compound.
        how: How that is known, one of `HOW_KNOWN`.
        remark: In somebody's words, "" for none.
        by: Who says so.

    Returns:
        What was recorded, in a sentence.

    Raises:
        PanelError: if there is no such call, nothing like it can be found, or the remark can't be
            read.
    """
    try:
        kept = read_text(remark)
    except Unreadable as fault:
        message = f"The remark {fault}"
        raise PanelError(message) from fault
    if how not in HOW_KNOWN:
        message = f"Say how it is known: {joined(list(HOW_KNOWN.values()), 'or')}."
        raise PanelError(message)
    with desk.store.recording("outcome", counts=False) as act:
        row = next((r for r in weighing_rows(desk) if r["weighing_id"] == weighing_id), None)
        if row is None:
            message = "That weighed call is not on record. Open it from the list of kept ones."
            raise PanelError(message)
        labels = compound_labels(desk)
        if what not in {NOTHING, UNLISTED, *labels}:
            message = f"“{what}” is nothing a beer can have here; choose from the list."
            raise PanelError(message)
        if (row["outcome"], row["how"], row["remark"]) == (what, how, kept or None):
            return "That is what was stated already."
        stated = {"weighing_id": weighing_id, "what": what, "how": how}
        act.add("call_outcome", stated | salted("remark", kept))
        sign(act, by)
    return f"{row['label']} turned out to have {found_words(what, labels)}, {HOW_KNOWN[how]}."


def kept_weighing(desk: Desk, weighing_id: str, *, in_words: bool = False) -> KeptWeighing | None:
    """One weighed call as it was kept, weighed again from the record as it stood; None if there is none."""
    row = next((r for r in weighing_rows(desk) if r["weighing_id"] == weighing_id), None)
    if row is None:
        return None
    names = {p["person_id"]: p["spelling"] for p in desk.store.rows("people")}
    stands_for = known_spellings(desk).stands_for
    # People as they were known then: two spellings that are one person since were two tasters.
    words = tuple(
        Tasted(
            w["person_id"],
            names.get(stands_for.get(w["person_id"], ""), "Somebody"),
            w["kind"],
            w["compound"],
        )
        for w in weighing_words(desk, row["recorded_at"])[weighing_id]
    )
    question = Question(
        row["family"], row["label"], words, row["is_blind"], row["batch_id"], row["sample_id"]
    )
    then = tuple(weighing_chances(desk)[weighing_id].items())
    view = _as_it_was(desk, question, row, dict(then), in_words=in_words)
    outcome = ""
    if row["outcome"]:
        remark = f" ({row['remark']})" if row["remark"] else ""
        outcome = f"It had {found_words(row['outcome'], compound_labels(desk))}, known {HOW_KNOWN[row['how']]}{remark}."
    return KeptWeighing(
        weighing_id=weighing_id,
        weighed_on=row["weighed_on"],
        view=view,
        differs=_differs(view, dict(then), row["model_version"]),
        outcome=outcome,
        digest=row["weighed_digest"],
        chances_then=then,
    )


def weighed_text_of(desk: Desk, weighing_id: str) -> tuple[str, str]:
    """The text that was sealed and its digest."""
    row = next(r for r in weighing_rows(desk) if r["weighing_id"] == weighing_id)
    return row["weighed_text"], row["weighed_digest"]


def _as_it_was(
    desk: Desk,
    question: Question,
    row: Mapping[str, Any],
    then: Mapping[str, float],
    *,
    in_words: bool,
) -> WeighedView:
    """Weighed from today's answers where they say the same, since that is soon done; else from then's."""
    moment: datetime = row["recorded_at"]
    stands_for = known_spellings(desk).stands_for
    is_as_known_now = all(stands_for.get(w.person_id) == w.person_id for w in question.words)
    if is_as_known_now and row["weighed_on"] == desk.today():
        view = weigh_call(desk, question, in_words=in_words, shares_known_at=moment)
        if not _differs(view, then, row["model_version"]):
            return view
    return weigh_call(desk, question, in_words=in_words, as_of=row["weighed_on"], known_at=moment)


def _differs(view: WeighedView, then: Mapping[str, float], version: str) -> str:
    now = dict(view.chances)
    apart = max((abs(now.get(what, 0.0) - then[what]) for what in then), default=0.0)
    if apart < 1e-6:
        return ""
    most = max(then, key=lambda what: abs(now.get(what, 0.0) - then[what]))
    model = (
        f"It was weighed on the model “{version}”; today's is “{VERSION}”. "
        if version != VERSION
        else ""
    )
    return (
        f"{model}What was kept gave {100 * then[most]:.0f}% where this weighing gives "
        f"{100 * now.get(most, 0.0):.0f}%; what was kept counts."
    )


def _label(text: str) -> str:
    try:
        label = read_label(text)
    except Unreadable as fault:
        message = f"The name of the beer {fault}"
        raise PanelError(message) from fault
    if not label:
        message = "The beer has no name; give it one, such as Tank 12, so that it is found again."
        raise PanelError(message)
    return label


def _canonical(question: Question, chances: Iterable[tuple[str, Decimal]]) -> str:
    """Ids and decimals only: no name, no float, no free text."""
    head = [
        f"family {question.family}", f"batch {question.batch_id or '-'}",
        f"sample {question.sample_id or '-'}", f"blind {'yes' if question.is_blind else 'no'}",
        f"model {VERSION}",
    ]  # fmt: skip
    words = sorted(f"word {w.person_id} {w.kind} {w.compound or '-'}" for w in question.words)
    given = sorted(f"chance {what} {chance:f}" for what, chance in chances)
    return "\n".join([*head, *words, *given])


def _word_row(weighing_id: str, word: Tasted) -> dict[str, object]:
    named = word.compound if word.kind == NAMED else None
    return {
        "weighing_id": weighing_id,
        "person_id": word.person_id,
        "kind": word.kind,
        "compound": named,
    }
