"""The sentence on top of the page on the panel over time."""

from collections.abc import Sequence
from dataclasses import dataclass

from seatworthy.decide.slipping import Shortfall, more_calls_than_before
from seatworthy.steps.month_views import AttendanceRow, CompoundMonths, MonthRow
from seatworthy.steps.sentences import in_sentence, joined, number_word, sentence_start


@dataclass(frozen=True)
class Lately:
    """What the sentence is made of.

    Attributes:
        panel: All compounds together, lately.
        compounds: Every compound, what slips first.
        months: The calendar months, oldest first.
        window: How many of the last months are "lately".
        attendance: Everybody who came.
    """

    panel: Shortfall
    compounds: Sequence[CompoundMonths]
    months: Sequence[MonthRow]
    window: int
    attendance: Sequence[AttendanceRow]


def months_sentences(lately: Lately) -> tuple[str, str, str]:
    """Answer, catch (what needs a person, else "") and lead."""
    return _answer(lately), _catch(lately), _lead(lately)


def _answer(lately: Lately) -> str:
    found, months = lately.panel, number_word(lately.window)
    if not found.glasses and any(row.glasses for row in lately.months[-lately.window :]):
        return (
            f"Too little was poured before the last {months} months to say whether the panel moved"
        )
    if not found.glasses:
        return f"Too little was poured in the last {months} months to say whether the panel moved"
    counts = f"{found.right} of {found.glasses} right in {months} months"
    usual = f"{found.foretold:.0f} would be usual"
    if found.moved > 0:
        return f"The panel finds more than it used to: {counts}, where {usual}"
    if found.moved < 0:
        return f"The panel finds less than it used to: {counts}, where {usual}"
    return f"The panel finds what it usually finds: {counts}, where {usual}"


def _catch(lately: Lately) -> str:
    slips, jugs = _found(lately, "together"), _found(lately, "one_day")
    if slips:
        what = f"{joined(slips)} {'falls' if len(slips) == 1 else 'fall'} short for everybody"
        return f"{what}, so suspect the stock, not the people."
    if jugs:
        return f"everybody fell short of {joined(jugs)} on one day, so suspect that jug first."
    if lately.panel.moved < 0:
        return (
            "no one compound explains it, so ask what changed for all: glasses, room, beer, hour."
        )
    if _calls_rose(lately):
        return "something is called in more blanks than before."
    return ""


def _lead(lately: Lately) -> str:
    recent, before = _blanks(lately)
    words = []
    if recent[1]:
        told = f"Calls in blanks: {recent[0]} of {recent[1]} lately"
        words.append(f"{told}, {before[0]} of {before[1]} before." if before[1] else f"{told}.")
    ones = _found(lately, "one")
    if ones:
        words.append(f"{sentence_start(joined(ones))}: fewer right, and it rests on one taster.")
    came = sum(row.attended for row in lately.attendance)
    held = sum(row.held for row in lately.attendance)
    if held:
        words.append(f"In twelve months {came} of {held} places at the table were taken.")
    return " ".join(words)


def _found(lately: Lately, finding: str) -> list[str]:
    return [in_sentence(one.label) for one in lately.compounds if one.finding == finding]


def _calls_rose(lately: Lately) -> bool:
    recent, before = _blanks(lately)
    return more_calls_than_before(*recent, *before)


def _blanks(lately: Lately) -> tuple[tuple[int, int], tuple[int, int]]:
    """Calls and blanks of the last months and of those before them."""
    split = len(lately.months) - lately.window
    return tuple(
        (sum(row.false_calls for row in some), sum(row.blanks for row in some))
        for some in (lately.months[split:], lately.months[:split])
    )
