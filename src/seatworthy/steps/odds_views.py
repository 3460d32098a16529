"""What a rulebook does to people before anybody is judged by it, as a page shows it.

Chances are fractions. "In a year" begins without any evidence and ends on the last day poured.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class OddsRow:
    """What a rule says of one kind of person.

    Attributes:
        who: The kind of person, as it follows "people who" or "of ten".
        truth: The figure by which they are meant: true rate of right answers or of false calls,
            or how many times the limit; the rule's words say which.
        met_at_end: Met when the year ends.
        ever_met: Met on one day of the year at least.
        not_met_at_end: Not met when the year ends.
        ever_not_met: Not met on one day of the year at least.
        too_little_at_end: Too little evidence when the year ends.
    """

    who: str
    truth: float
    met_at_end: float
    ever_met: float
    not_met_at_end: float
    ever_not_met: float
    too_little_at_end: float


@dataclass(frozen=True)
class RuleOdds:
    """One rule of a rulebook and five kinds of people.

    Attributes:
        rule: What it is called on screens.
        kind: Its ``by``, or its section.
        rows: From the worst of them to the best.
        sentence: What it comes to, of ten people each.
        how: How the chances were found: exact, or simulated and how often.
        assumed: What was taken for granted besides constant rates.
        asked_for: Whether a seat asks for it; if not it is only shown.
    """

    rule: str
    kind: str
    rows: tuple[OddsRow, ...]
    sentence: str
    how: str
    assumed: str
    asked_for: bool


@dataclass(frozen=True)
class SeatRow:
    """What becomes of one kind of person in all critical compounds together.

    Attributes:
        who: The kind of person.
        truth: The figure by which they are meant in every critical compound, as in `OddsRow`.
        critical_met: Enough critical compounds met when the year ends.
        critical_not_met: More not met than the rule allows.
        seat: A seat: whatever else is asked for met too.
        start_up_seat: The same while the family has few seats; None without such a rule.
        others: Chance that whatever else is asked for is met.
    """

    who: str
    truth: float
    critical_met: float
    critical_not_met: float
    seat: float
    start_up_seat: float | None
    others: float


@dataclass(frozen=True)
class PanelOdds:
    """What becomes of a panel on which everybody is good.

    Attributes:
        people: Number of people.
        seats: How many of them have a seat when the year ends, on average.
        can_sit: Chance that they make a panel: the quorum, and every critical compound covered.
        sentence: What it comes to.
        how: Exact, or simulated and how often.
    """

    people: int
    seats: float
    can_sit: float
    sentence: str
    how: str

    @property
    def unable_to_sit(self) -> float:
        """Chance that the rulebook leaves a panel of good people unable to sit."""
        return 1 - self.can_sit


@dataclass(frozen=True)
class RulebookOdds:
    """What all rules of a rulebook do in a year.

    Attributes:
        glasses: Counted glasses of one compound that one person gets in the year.
        sessions: Sessions in the year.
        blanks: Blanks that one person gets in the year.
        rules: Compound rule, further rules, false calls, duplicates, deviation, order; attendance
            is no matter of chance.
        seat: From the guesser to the good.
        seat_sentence: What the seat rule comes to.
        seat_assumed: What was taken for granted.
        panel: The panel.
    """

    glasses: int
    sessions: int
    blanks: int
    rules: tuple[RuleOdds, ...]
    seat: tuple[SeatRow, ...]
    seat_sentence: str
    seat_assumed: str
    panel: PanelOdds
