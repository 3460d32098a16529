"""How many more glasses and sessions it takes, in words."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.forecast import Until
from seatworthy.decide.gaps import Ground
from seatworthy.decide.sessions_ahead import (
    SeatNow,
    Sessions,
    until_covered,
    until_decided,
    until_seat,
)
from seatworthy.decide.telling import is_settled
from seatworthy.rules.compound_rules import ChanceRule
from seatworthy.rules.verdict import Standing, counted
from seatworthy.steps.labels import item_label
from seatworthy.steps.next_ground import FAR, Panel
from seatworthy.steps.next_session_views import AheadLine
from seatworthy.steps.sentences import in_sentence, joined, number_word, sentence_start

HARDLY: Final = 0.05
ALWAYS: Final = 0.95
_MIDDLE: Final = (0.1, 0.9)
NOT_TOLD: Final = (
    "These glasses stand at no level that the rule asks for, so they foretell nothing."
)

Places = NDArray[np.intp]


class GlassesAhead:
    """Further glasses of the critical compounds of a panel, until the rule says something."""

    def __init__(self, panel: Panel) -> None:
        self.panel, self.until = panel, panel.until
        self.place = {int(k): n for n, k in enumerate(panel.far_at)}

    def words(self, person: int, compound: int) -> str:
        """How many more glasses one cell takes, and what then; "" where nothing is foretold."""
        if compound not in self.place or not self.is_open(person, compound):
            return ""
        at = person, self.place[compound]
        return _cell_words(self.until, at)

    def is_open(self, person: int, compound: int) -> bool:
        """Whether the verdict is open and a glass can close it."""
        ground, at = self.panel.ground, (person, compound)
        closed = ground.is_met[at] or ground.is_insensitive[at] or not ground.may_taste[at]
        settled = is_settled(ground.chance[at], ground.glasses[at], self.panel.limits)
        return not closed and not bool(settled)

    def open_items(self, person: int) -> list[tuple[tuple[str, ...], int]]:
        """Critical items that are open for somebody, with the compound that would close each."""
        found = []
        for item, places in zip(self.panel.critical, self.panel.ground.items, strict=True):
            own = [k for k in places if self.is_open(person, k)]
            if own and not self.panel.ground.is_met[person, list(places)].any():
                best = max(own, key=lambda k: self.panel.ground.chance[person, k])
                found.append((item, best))
        return found


def glasses_ahead(panel: Panel) -> GlassesAhead | None:
    """What is foretold; None under a rule that counts glasses instead of weighing them."""
    by_chance = isinstance(panel.judged.rulebook.compound, ChanceRule)
    return GlassesAhead(panel) if by_chance else None


def ahead_lines(
    panel: Panel,
    people: Places,
    ahead: GlassesAhead | None,
    per_session: int,
    *,
    with_panel: bool,
) -> tuple[AheadLine, ...]:
    """The panel, then the people with something open.

    Args:
        panel: Everybody.
        people: Places of those asked for.
        ahead: Further glasses; None where nothing is foretold.
        per_session: Glasses at the reference level in a session like the one proposed.
        with_panel: Whether the panel's cover is asked for too.
    """
    if ahead is None or not panel.critical:
        return ()
    lines = [_person_line(ahead, int(n), per_session) for n in people]
    lines = [line for line in lines if line.open or not with_panel]
    return (_panel_line(ahead, per_session), *lines) if with_panel else tuple(lines)


def _person_line(ahead: GlassesAhead, person: int, per_session: int) -> AheadLine:
    panel, items = ahead.panel, ahead.open_items(person)
    labels = [in_sentence(item_label(item, panel.judged.labels)) for item, _ in items]
    cells = np.array([(person, ahead.place[k]) for _, k in items], dtype=np.int64).reshape(-1, 2)
    who = panel.people[person]
    decided = seat = "" if per_session else NOT_TOLD
    if per_session:
        least = _fewest_sessions(panel, who.person_id, items)
        decided = _words(until_decided(ahead.until, cells, per_session, least), "decided now")
        seat = _seat_words(ahead, who.person_id, cells, per_session, least)
    return AheadLine(who.person_id, who.name, sentence_start(joined(labels)), decided, seat)


def _panel_line(ahead: GlassesAhead, per_session: int) -> AheadLine:
    panel = ahead.panel
    missing = panel.ground.missing_noses
    labels = [
        in_sentence(item_label(item, panel.judged.labels))
        for item, few in zip(panel.critical, missing, strict=True)
        if few
    ]
    who = f"The panel covers its list, {number_word(panel.ground.noses_asked)} noses each"
    if not labels:
        return AheadLine("", who, "", "covered now", "")
    if not per_session:
        return AheadLine("", who, sentence_start(joined(labels)), NOT_TOLD, "")
    covered = until_covered(ahead.until, _critical_alone(panel), per_session)
    return AheadLine("", who, sentence_start(joined(labels)), _words(covered, "covered now"), "")


def _critical_alone(panel: Panel) -> Ground:
    """The ground on the axis of the forecast."""
    return panel.ground.of_compounds(panel.far_at)


def _fewest_sessions(panel: Panel, person: str, items: list[tuple[tuple[str, ...], int]]) -> int:
    """Sessions that the rule's days ask for."""
    rule = panel.judged.rulebook.compound
    asked = rule.days if isinstance(rule, ChanceRule) else 1
    days = [
        day.days
        if (day := panel.judged.days.get((person, panel.compounds[k], panel.family)))
        else 0
        for _, k in items
    ]
    return max(1, asked - min(days, default=asked))


def _seat_words(
    ahead: GlassesAhead, person: str, cells: NDArray[np.int64], per_session: int, least: int
) -> str:
    """When the critical compounds settle a seat, and how."""
    panel = ahead.panel
    seat, rule = panel.judged.seats.get((person, panel.family)), panel.judged.rulebook.seat
    standings = list(seat.items.values()) if seat else []
    now = SeatNow(
        met=standings.count(Standing.MET),
        not_met=standings.count(Standing.NOT_MET),
        needed=min(rule.critical_met, len(panel.critical)),
        allowed=rule.critical_not_met,
    )
    found = until_seat(ahead.until, cells, now, per_session, least)
    sessions = found.sessions
    if sessions.high == 0 and sessions.chance == 1:
        return "enough are met" if found.granted else "can't be met without training first"
    words = _words(sessions, "")
    return f"{words}; {times_in_ten(found.granted)} with enough met"


def _words(sessions: Sessions, now: str) -> str:
    """How many sessions, from so many to so many, and how often it takes longer."""
    if sessions.chance < HARDLY:
        return f"hardly ever within {FAR} more glasses of each"
    if sessions.high == 0:
        return now
    if sessions.low == sessions.high:
        span = counted(sessions.low, "more session")
    else:
        span = f"{sessions.low} to {sessions.high} more sessions"
    if sessions.chance >= ALWAYS:
        return span
    return (
        f"{span}, {times_in_ten(sessions.chance)}; else still open after {FAR} more glasses of each"
    )


def times_in_ten(chance: float) -> str:
    """How often of ten times, in words."""
    tens = round(10 * chance)
    if tens == 0:
        return "hardly ever"
    return "nearly always" if tens == 10 else f"{tens} {'time' if tens == 1 else 'times'} in 10"


def _cell_words(until: Until, at: tuple[int, int]) -> str:
    """Glasses until the verdict of one cell, which verdict, and what keeps it open."""
    met, not_met = until.met[at], until.not_met[at]
    along, ever = np.cumsum(met + not_met), float((met + not_met).sum())
    never = (
        f"still open after {FAR} if about {_in_ten(until.rate_if_open[at])} in 10 are named right"
    )
    if ever < HARDLY:
        return sentence_start(f"{never}.")
    low, high = (int(np.searchsorted(along, ever * end)) for end in _MIDDLE)
    span = counted(low, "more glass") if low == high else f"{low} to {high} more glasses"
    then = f"{span}: met {times_in_ten(float(met.sum()))}, not met {times_in_ten(float(not_met.sum()))}"
    return f"{then}." if ever > ALWAYS else f"{then}; {never}."


def _in_ten(rate: float) -> str:
    return f"{10 * rate:.0f}"
