"""Judges whether somebody comes often enough, and was seen lately."""

from dataclasses import dataclass
from datetime import date

from seatworthy.rules.compound import day_text
from seatworthy.rules.person_rules import AttendanceRule
from seatworthy.rules.verdict import Standing, Verdict, counted, percent

RULE = "attendance"


@dataclass(frozen=True, slots=True)
class Attended:
    """Sessions of one panellist in the window.

    Attributes:
        offered: Sessions held since the person's first one, within the window.
        attended: Of these, sessions with an answer of theirs.
        last_on: Day of the last one ever.
    """

    offered: int
    attended: int
    last_on: date


def is_long_absent(seen: Attended, today: date, rule: AttendanceRule) -> bool:
    """Whether the person was last seen too long ago."""
    return (today - seen.last_on).days > rule.longest_absence_days


def judge_attendance(seen: Attended, today: date, rule: AttendanceRule) -> Verdict:
    """Met, not met or too little evidence on coming to sessions."""
    offered = counted(seen.offered, "session")
    sentence = f"{seen.attended} of {offered} in {rule.months} months attended"
    if is_long_absent(seen, today, rule):
        days = (today - seen.last_on).days
        return Verdict(
            RULE,
            Standing.NOT_MET,
            f"Last seen {days} days ago, on {day_text(seen.last_on)}; "
            f"{rule.longest_absence_days} are allowed.",
            "A short recheck brings them back; an absence is no fault.",
        )
    if seen.offered < rule.sessions:
        missing = rule.sessions - seen.offered
        more = counted(missing, "more session")
        return Verdict(RULE, Standing.TOO_LITTLE, f"{sentence}.", f"Judged after {more}.")
    if seen.attended >= rule.share * seen.offered:
        return Verdict(RULE, Standing.MET, f"{sentence}; {percent(rule.share)} are asked for.")
    way = f"The next {counted(_sessions_missing(seen, rule), 'session')} in a row would meet it."
    sentence = f"{sentence}; {percent(rule.share)} are asked for."
    return Verdict(
        RULE, Standing.NOT_MET, sentence, way.replace("next 1 session in a row", "next session")
    )


def _sessions_missing(seen: Attended, rule: AttendanceRule) -> int:
    """Fewest coming sessions, all attended, that bring the share up."""
    more = 0
    while seen.attended + more < rule.share * (seen.offered + more) and more < 100:
        more += 1
    return more
