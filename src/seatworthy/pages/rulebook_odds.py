"""What a rulebook does to people in a year at this panel's pace, before anybody is judged by it."""

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.figures import percent
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import listing
from seatworthy.steps.desk import InForce
from seatworthy.steps.odds_views import OddsRow, RulebookOdds, RuleOdds, SeatRow
from seatworthy.steps.panel_pace import Pace
from seatworthy.steps.rulebook_views import odds_of

_CLASS = "odds brief"


def show_odds(other: InForce, title: str, which: str) -> None:
    """Draw the odds of every rule, of a seat and of a panel.

    Args:
        other: The rulebook.
        title: What stands above them.
        which: What sets this place apart from another on the same page.
    """
    odds, pace = odds_of(source.the_desk(), other)
    head = tag("h2", escaped(title))
    lead = tag("p", escaped(f"{odds.panel.sentence} {odds.seat_sentence}"), class_="lead")
    note = tag("p", escaped(_pace_words(odds, pace)), class_="note")
    st.html(paper(head, lead, note, class_="proof"))
    with st.expander(f"Rule by rule ({which})"):
        st.html(paper(_seat_table(odds), *(_rule(rule) for rule in odds.rules), class_="proof"))


def _pace_words(odds: RulebookOdds, pace: Pace) -> str:
    whose = "As this panel poured in the last year" if pace.is_measured else "At a usual pace"
    return (
        f"{whose}: {odds.glasses} counted glasses of a compound, {odds.sessions} sessions and "
        f"{odds.blanks} blanks a person, looked at after every session, beginning without evidence. "
        "People are invented and their rates constant; nobody's answers enter."
    )


def _seat_table(odds: RulebookOdds) -> str:
    heads = ("A seat, for people who", "Critical met", "Too many not met", "Seat at the year's end",
             "While the family has few seats")  # fmt: skip
    note = tag("p", escaped(odds.seat_assumed), class_="note")
    return tag("h3", "A seat") + listing(heads, [_seat(row) for row in odds.seat], _CLASS) + note


def _seat(row: SeatRow) -> tuple[str, ...]:
    early = "" if row.start_up_seat is None else percent(row.start_up_seat)
    chances = (row.critical_met, row.critical_not_met, row.seat)
    return (escaped(row.who), *(percent(chance) for chance in chances), early)


def _rule(rule: RuleOdds) -> str:
    heads = ("People who", "Met at the end", "Ever met", "Not met at the end", "Ever not met",
             "Too little at the end")  # fmt: skip
    name = rule.rule if rule.asked_for else f"{rule.rule} (shown only)"
    words = escaped(f"{rule.sentence} {rule.how[:1].upper()}{rule.how[1:]}. {rule.assumed}")
    rows = [_row(row) for row in rule.rows]
    title = tag("h3", escaped(name[:1].upper() + name[1:]))
    return title + tag("p", words, class_="note") + listing(heads, rows, _CLASS)


def _row(row: OddsRow) -> tuple[str, ...]:
    chances = (row.met_at_end, row.ever_met, row.not_met_at_end, row.ever_not_met,
               row.too_little_at_end)  # fmt: skip
    return (escaped(row.who), *(percent(chance) for chance in chances))
