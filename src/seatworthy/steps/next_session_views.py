"""What the page of the next session shows: the proposal, the gaps behind it, the forecast."""

from dataclasses import dataclass

from seatworthy.sessions.wish import Wish
from seatworthy.steps.views import Choice


@dataclass(frozen=True)
class JugLine:
    """One line of the proposal: a jug, or the jugs of a ladder together.

    Attributes:
        what: "Papery, 3×".
        times: "once", "twice".
        why: Finished sentences.
    """

    what: str
    times: str
    why: str


@dataclass(frozen=True)
class GapLine:
    """What one person lacks in one compound.

    Attributes:
        person_id: Whose.
        name: As shown.
        compound: Compound's key.
        label: As shown.
        is_critical: Whether it is critical for these beers.
        standing: What the rule says, "no_glasses" where nothing counts.
        kind: What sort of gap, in words.
        count: "7 of 12"; "" without a counted glass.
        chance: "58% (41 to 73)", of naming it; "" without a glass.
        ahead: How many more glasses it takes; "" where nothing is foretold.
    """

    person_id: str
    name: str
    compound: str
    label: str
    is_critical: bool
    standing: str
    kind: str
    count: str
    chance: str
    ahead: str


@dataclass(frozen=True)
class CompoundGaps:
    """Who lacks what in one compound.

    Attributes:
        label: As shown.
        is_critical: Whether it is critical for these beers.
        noses: How many cover it today, in words; "" where it isn't critical.
        is_weak: Whether fewer cover it than the rulebook asks for.
        by_kind: Names with their counts, by the words for the kind of gap; only those that occur.
    """

    label: str
    is_critical: bool
    noses: str
    is_weak: bool
    by_kind: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class AheadLine:
    """How long it takes, with sessions like the one proposed.

    Attributes:
        person_id: Whose; "" for the panel.
        who: Name, or the panel.
        open: Open critical compounds, in words.
        decided: Sessions until all of them are decided.
        seat: Sessions until the seat is settled; "" where it is not asked.
    """

    person_id: str
    who: str
    open: str
    decided: str
    seat: str


@dataclass(frozen=True)
class NextView:
    """The page.

    Attributes:
        family: Beer family.
        families: Those to choose from.
        people: Everybody on the panel.
        who: The person it is for; None for the panel.
        answer: First half of the sentence on top.
        catch: The half that needs a person.
        lead: One or two sentences.
        jugs: The proposal.
        missing: Sentences on what would be poured and can't be.
        mixed: How much of what could be told and taught this session does, in a sentence.
        dearest: The dearest gaps, one by one; of a person, every gap.
        all_alike: Said in place of single gaps where nobody had a glass that counts; else "".
        gaps: Gaps by compound, critical ones first.
        ahead: The panel first, then everybody; of a person, that person.
        notes: What the figures rest on.
        most_glasses: How many glasses everybody may get.
        glasses: How many were asked for, within that.
        wish: What the plan starts from; None if nothing is proposed.
        start_at: Place of what is to be done first ("people", "shelf"); "" if nothing hinders.
    """

    family: Choice
    families: tuple[Choice, ...]
    people: tuple[Choice, ...]
    who: str | None
    answer: str
    catch: str
    lead: str
    jugs: tuple[JugLine, ...] = ()
    missing: tuple[str, ...] = ()
    mixed: str = ""
    dearest: tuple[GapLine, ...] = ()
    all_alike: str = ""
    gaps: tuple[CompoundGaps, ...] = ()
    ahead: tuple[AheadLine, ...] = ()
    notes: tuple[str, ...] = ()
    most_glasses: int = 0
    glasses: int = 0
    wish: Wish | None = None
    start_at: str = ""
