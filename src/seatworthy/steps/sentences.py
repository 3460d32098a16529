"""The sentences on top of the pages: who, what, and the catch that needs a person."""

from collections.abc import Sequence
from datetime import date

NUMBERS = ("nobody", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine",
           "ten", "eleven", "twelve")  # fmt: skip


def number_word(number: int) -> str:
    """A number as it stands in a sentence: words up to twelve."""
    return NUMBERS[number] if number < len(NUMBERS) else str(number)


def joined(names: Sequence[str], last: str = "and") -> str:
    """Names in a row: Ada; Ada and Bo; Ada, Bo and Carmen."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} {last} {names[-1]}"


def in_sentence(label: str) -> str:
    """A label inside a sentence: small first letter, unless it is an acronym or a formula."""
    is_name = len(label) > 1 and (label[1].isupper() or not label[0].isalpha())
    return label if is_name else label[:1].lower() + label[1:]


def sentence_start(text: str) -> str:
    """The same words with a capital at the start."""
    return text[:1].upper() + text[1:]


def day_in_sentence(day: date, today: date) -> str:
    """14 December; with the year if it is another one."""
    return f"{day.day} {day:%B}" + ("" if day.year == today.year else f" {day.year}")


def day_in_table(day: date, today: date) -> str:
    """14 Dec; with the year if it is another one."""
    return f"{day.day} {day:%b}" + ("" if day.year == today.year else f" {day.year}")


def the_beers(family: str) -> str:
    """A beer family inside a sentence: the pale lagers; our beers."""
    inside = in_sentence(family)
    return inside if inside.startswith("our ") else f"the {inside}"


def who_can_sit(
    can_sit: int,
    family: str,
    past_day: str | None = None,
    *,
    is_signed: bool = True,
    have_lapsed: bool = False,
) -> str:
    """First half of the board's sentence.

    Args:
        can_sit: How many can.
        family: The beer family's label.
        past_day: The day as it stands in a sentence, if it is not today.
        is_signed: Whether seats of the family are signed; else people only meet the rule.
        have_lapsed: Whether seats stood before the day.
    """
    beers = the_beers(family)
    who = sentence_start(number_word(can_sit))
    if not is_signed and can_sit:
        verb = "met" if past_day else "meets" if can_sit == 1 else "meet"
        day = f"on {past_day}" if past_day else "today"
        return f"{who} {verb} the seat rule for {beers} {day}"
    if past_day:
        return f"{who} could sit for {beers} on {past_day}"
    return f"{who} can sit for {beers} {'today' if can_sit or have_lapsed else 'yet'}"


def what_is_weak(weak: Sequence[tuple[str, int]], asked: int) -> str:
    """Second half: the critical compounds that too few cover.

    Args:
        weak: Label and number of people who cover it, weakest first.
        asked: How many the rulebook asks for.
    """
    uncovered = [in_sentence(label) for label, people in weak if people == 0]
    thin = [(in_sentence(label), people) for label, people in weak if people]
    if uncovered:
        return f"{joined(uncovered, 'and')} {_is(uncovered)} covered by nobody."
    if not thin:
        return ""
    labels, people = [label for label, _ in thin], thin[0][1]
    noses = "one nose" if people == 1 else f"{number_word(people)} noses"
    if any(count != people for _, count in thin):
        noses = f"fewer than {number_word(asked)} noses"
    return f"{joined(labels)} {_is(labels)} covered by {noses} only."


def _is(labels: Sequence[str]) -> str:
    return "is" if len(labels) == 1 else "are"
