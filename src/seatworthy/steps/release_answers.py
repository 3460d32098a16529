"""What was said of the beers of a release sitting, before the talk and after it."""

from collections.abc import Iterator
from dataclasses import dataclass

from seatworthy.steps.desk import Desk
from seatworthy.steps.session_facts import SessionFacts, session_facts, session_with
from seatworthy.steps.session_parts import Glass
from seatworthy.steps.tasted import NAMED, NOTHING, SOMETHING, Kind, Tasted


@dataclass(frozen=True)
class ReleaseSample:
    """One batch at one sitting.

    Attributes:
        sample_id: Of the jug.
        batch_id: The batch in it.
        label: "Tank 12, House Pils".
        sitting: The sitting's label.
        mark: Letter of the jug.
    """

    sample_id: str
    batch_id: str
    label: str
    sitting: str
    mark: str


@dataclass(frozen=True)
class Said:
    """What one answer comes to: its kind, the one compound it names, and the words."""

    kind: Kind
    compound: str | None = None
    words: str = ""


def release_samples(desk: Desk, session_id: str) -> tuple[ReleaseSample, ...]:
    """The batches of a session, sitting by sitting, by letter; empty if it judges none."""
    facts = session_facts(desk, session_id)
    return () if facts is None else tuple(_samples(facts))


def _samples(facts: SessionFacts) -> Iterator[ReleaseSample]:
    for sitting in facts.sittings:
        for sample in facts.samples_at(sitting.sitting_id):
            if sample.batch_id is not None:
                yield ReleaseSample(
                    sample.sample_id,
                    sample.batch_id,
                    sample.poured_label,
                    sitting.label,
                    sample.mark,
                )


def tasted_of(desk: Desk, sample_id: str) -> tuple[Tasted, ...]:
    """What everybody said of one sample, by name; nobody who said nothing of it before the talk.

    A glass that was set aside is left out. Of two glasses of one sample the one served first counts.

    Args:
        desk: The open store.
        sample_id: What was really in the glasses.

    Raises:
        PanelError: if there is no such sample.
    """
    facts = session_with(desk, "sample", sample_id, is_open=False)
    after = said_after(facts)
    found: dict[str, Tasted] = {}
    for glass in glasses_with(facts, sample_id):
        before, later = said_before(glass), after.get(glass.serving_id)
        if before is None or glass.is_aside or glass.person_id in found:
            continue
        found[glass.person_id] = Tasted(
            person_id=glass.person_id,
            name=facts.names[glass.person_id],
            kind=before.kind,
            compound=before.compound,
            words=before.words,
            after=later.kind if later else None,
            after_compound=later.compound if later else None,
            after_words=later.words if later else "",
        )
    return tuple(sorted(found.values(), key=lambda one: one.name.casefold()))


def glasses_with(facts: SessionFacts, sample_id: str) -> list[Glass]:
    """Single glasses in which a sample really was, in the order of serving."""
    held = [g for g in facts.glasses if g.sample_id == sample_id and not g.parts]
    return sorted(held, key=lambda glass: glass.position or 0)


def said_before(glass: Glass) -> Said | None:
    """What an answer comes to; None without one, or where no name was asked for."""
    return _said(glass.kind, glass.words, glass.named_compound)


def said_after(facts: SessionFacts) -> dict[str, Said]:
    """What was said after the talk, by serving."""
    rows = facts.desk.store.rows("session_talk_answers", session_id=facts.head.session_id)
    found = {
        row["serving_id"]: _said(row["kind"], row["words"], row["named_compound"]) for row in rows
    }
    return {serving: said for serving, said in found.items() if said is not None}


def open_talks(facts: SessionFacts) -> frozenset[str]:
    """Ids of the sittings whose talk is open."""
    rows = facts.desk.store.rows("session_talks", session_id=facts.head.session_id)
    return frozenset(row["sitting_id"] for row in rows)


def talk_waits(facts: SessionFacts) -> bool:
    """Whether a sitting that judges beer has neither talked nor been called over."""
    if not facts.head.is_release:
        return False
    talks = open_talks(facts)
    return any(s.sitting_id not in talks and not s.is_over for s in facts.sittings)


def _said(kind: str | None, words: str | None, compound: str | None) -> Said | None:
    """Words that name one compound are its name; any others are something, in own words."""
    if kind == "nothing":
        return Said(NOTHING)
    if kind == "something":
        return Said(SOMETHING)
    if kind != "words":
        return None
    return Said(NAMED, compound, words or "") if compound else Said(SOMETHING, None, words or "")
