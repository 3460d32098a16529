"""What the leader sees while answers come in: whose, never what was said."""

from dataclasses import dataclass


@dataclass(frozen=True)
class LiveGlass:
    """One glass, or one forced-choice set, with one answer.

    Attributes:
        codes: What stands on it; of a set all its codes from left to right.
        state: "answered", "waiting", "spilled" or "gone" (whoever it is for left, or isn't here).
        is_by_phone: Whether the answer came by phone.
    """

    codes: tuple[str, ...]
    state: str
    is_by_phone: bool


@dataclass(frozen=True)
class LiveSeat:
    """One person at one sitting.

    Attributes:
        state: "expected", "late", "left" or "absent".
        glasses: In the order of serving.
        has_link: Whether a link was ever handed out for this seat.
        is_opened: Whether somebody opened it since the program started, or answered by it.
        is_nudged: Whether the leader asks for what is missing.
    """

    sitting_id: str
    person_id: str
    name: str
    state: str
    glasses: tuple[LiveGlass, ...]
    has_link: bool
    is_opened: bool
    is_nudged: bool

    @property
    def answered(self) -> int:
        """How many glasses are answered."""
        return sum(glass.state == "answered" for glass in self.glasses)

    @property
    def waiting(self) -> int:
        """How many answers are still to come."""
        return sum(glass.state == "waiting" for glass in self.glasses)

    @property
    def expected(self) -> int:
        """How many answers there will be."""
        return self.answered + self.waiting

    @property
    def is_on_paper(self) -> bool:
        """Whether they answer on paper: answers are in, and nobody opened their ballot."""
        return self.answered > 0 and not self.is_opened


@dataclass(frozen=True)
class LiveSitting:
    """One sitting with everybody who has glasses there, by name."""

    sitting_id: str
    label: str
    is_over: bool
    seats: tuple[LiveSeat, ...]


@dataclass(frozen=True)
class LiveView:
    """A session while it is tasted.

    Attributes:
        is_open: Whether answers may still come in.
        has_phones: Whether somebody has a link, or answered by phone.
        answer: How many answers are in.
        catch: Who is missing, or what is next; "" where there is nothing to say.
    """

    session_id: str
    is_open: bool
    has_phones: bool
    answer: str
    catch: str
    sittings: tuple[LiveSitting, ...]

    @property
    def seats(self) -> tuple[LiveSeat, ...]:
        """Everybody at every sitting."""
        return tuple(seat for sitting in self.sittings for seat in sitting.seats)

    @property
    def answered(self) -> int:
        """How many answers are in."""
        return sum(seat.answered for seat in self.seats)

    @property
    def is_all_in(self) -> bool:
        """Whether no answer is waited for any more."""
        return not any(seat.waiting for seat in self.seats)

    @property
    def is_shown(self) -> bool:
        """Whether there is something to follow: answers may come in, and by phone."""
        return self.is_open and self.has_phones

    def is_opened(self, sitting_id: str, person_id: str) -> bool:
        """Whether somebody opened the ballot of this seat, or answered by it."""
        return any(
            seat.is_opened
            for seat in self.seats
            if (seat.sitting_id, seat.person_id) == (sitting_id, person_id)
        )
