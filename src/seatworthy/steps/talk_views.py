"""What the page of a release sitting is given of the talk: who said what, before it and after."""

from dataclasses import dataclass


@dataclass(frozen=True)
class SaidLine:
    """One person's word on one beer.

    Attributes:
        name: Whose.
        before, after: What they said, in words; "" if nothing.
        is_changed: Whether they say something else after the talk.
        is_crew: Whether they made it, and are not independent of it.
    """

    name: str
    before: str
    after: str
    is_changed: bool
    is_crew: bool


@dataclass(frozen=True)
class BeerTalk:
    """One batch at one sitting, once the talk is open.

    Attributes:
        sample_id: Of its jug; a call on it is weighed by this id.
        label: "Tank 12, House Pils".
        sentence: What was said before and after, and that it is to be weighed; never a verdict.
        lines: By name.
    """

    sample_id: str
    label: str
    sentence: str
    lines: tuple[SaidLine, ...]


@dataclass(frozen=True)
class GlassAfter:
    """One glass of which something was said before the talk.

    Attributes:
        serving_id: The glass.
        label: "Ada Moran, 417".
        after: What is on record since the talk, in words; "" if nothing.
    """

    serving_id: str
    label: str
    after: str


@dataclass(frozen=True)
class SittingTalk:
    """The talk of one sitting.

    Attributes:
        is_open: Whether it was opened: what was said before it stands from then on.
        missing: Whose answers are missing, in one sentence; "" if none is.
        beers: What was said of each batch; empty until the talk is open or the session closed.
        glasses: Glasses of which something may be said after the talk; empty until it is open.
        may_take_back: Whether opening it may be taken back: nobody has said anything after it.
    """

    sitting_id: str
    label: str
    is_open: bool
    missing: str
    beers: tuple[BeerTalk, ...]
    glasses: tuple[GlassAfter, ...]
    may_take_back: bool


@dataclass(frozen=True)
class TalkView:
    """A release sitting's talk; `is_running` until the session is closed or called off."""

    session_id: str
    is_running: bool
    sittings: tuple[SittingTalk, ...]
