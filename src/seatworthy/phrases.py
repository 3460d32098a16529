"""Every standing phrase a person reads, once for pages, paper and the command.

A sentence with numbers is made where its numbers are known; here stand the words that recur.
"""

from collections.abc import Collection, Mapping
from types import MappingProxyType
from typing import Final

STANDING_WORDS: Final = MappingProxyType(
    {
        "met": "met",
        "not_met": "not met",
        "too_little": "too little evidence",
        "insensitive": "doesn't smell it",
        "no_glasses": "no glass that counts yet",
    }
)

STATE_WORDS: Final = MappingProxyType(
    {
        "candidate": "not started",
        "trainee": "in training",
        "probation": "on probation",
        "qualified": "on the panel",
        "paused": "paused",
        "suspended": "off the panel for now",
        "lapsed": "lapsed",
        "withdrawn": "left the panel",
    }
)
OUTCOME_WORDS: Final = MappingProxyType(
    {
        "right": "named right",
        "wrong": "another name",
        "open": "noticed, no name",
        "missed": "not noticed",
    }
)

# The key to the marks where some of the answers are picks of a set.
WITH_SETS_WORDS: Final = MappingProxyType(
    {**OUTCOME_WORDS, "right": "named or picked right", "missed": "not noticed or picked wrong"}
)

# The same of a glass that asked whether a compound is there.
ANSWERED_WORDS: Final = MappingProxyType(
    {"right": "answered right", "wrong": "answered wrong", "missed": "answered wrong"}
)

# The same where no name was asked for.
PICKED_WORDS: Final = MappingProxyType({"right": "picked right", "wrong": "picked wrong"})
YES_NO_WORDS: Final = MappingProxyType({"right": "said yes", "missed": "said no"})

METHOD_WORDS: Final = MappingProxyType(
    {
        "naming": "name what is there",
        "3afc": "one of three (3-AFC)",
        "triangle": "triangle",
        "duo_trio": "duo-trio",
        "2afc": "one of two (2-AFC)",
        "a_not_a": "A or not A",
        "intensity": "intensity",
    }
)

HOW_TO_READ_A_STRIP: Final = (
    "The darker the strip, the surer we are. The tick is the best single guess; the fine line holds "
    "eight chances in ten. Line wholly right of the dashes: met, once glasses and days suffice. "
    "Wholly left: not met. Across them: too little evidence."
)
HOW_TO_READ_GLASSES: Final = (
    "Multiple of the working threshold, with its nine-in-ten band. The line knows every glass, later "
    "ones too; a verdict of a past day stood on less. Each glass at the level it really "
    "had; those in other beers aren't drawn. Disc: named or picked right; half: another name or the "
    "wrong pick; dot in a ring: noticed, no name; ring: not noticed. "
    "Paler: not one of the counted glasses."
)
HOW_TO_READ_WEIGHTS: Final = (
    "Left of it today: how much of what such a glass with such an answer would say if it were poured today "
    "is left; age takes from it, and so does another beer, from some answers more than from others. "
    "Speaks: by how much it changes the odds that the "
    "compound is named right often enough, beside all the others: glasses that say the same share it, and "
    "an old hit among misses can make the newest hits look like luck. Not counted: informs the "
    "estimate, counts for no seat."
)
NO_MIXUPS: Final = "No wrong name and no miss in the last 12 months."

CARE: Final = (
    "Tasting is voluntary and for people of age; no driving or machine work after a session. Local "
    "codes, the compounds' safety data sheets and medical advice come first."
)
SUPPORTS: Final = "This tool supports a decision; it never releases beer."

# The first steps on an empty store: the page, and what is done there.
START_PAGES: Final = (
    ("shelf", "Shelf", "your brewery, a base beer, and a working threshold for each compound"),
    ("people", "People", "who is on the panel, and what somebody is not to be served"),
    (
        "plan",
        "Plan a session",
        "who comes, what is poured; codes, orders and papers are made for you",
    ),
    ("sessions", "Sessions", "what is planned, and what it waits for"),
)
START_COMMANDS: Final = (
    ("seatworthy import results.csv", "brings in results you have already"),
    ("seatworthy demo", "opens an invented brewery to look around in"),
)

# Heads of the board for today, and for another day.
SITTING_HEADS: Final = ("Can sit today", "Not today", "noses<br>today")
SITTING_HEADS_THEN: Final = ("Could sit that day", "Not that day", "noses<br>that day")
MEETING_HEADS: Final = ("Meet the seat rule today", "Not today", "noses<br>today")
MEETING_HEADS_THEN: Final = ("Met the seat rule that day", "Not that day", "noses<br>that day")

HOW_TO_TYPE: Final = (
    "Type the first letters of what is written beside a code; Enter saves and goes on. 0 stands for "
    "nothing, ? for something without a name. Not in this order? Type the code in either cell: it is "
    "checked at its last digit and takes you to its glass."
)
HOW_TO_TYPE_RELEASE: Final = (
    "Type 0 for as it should be; else the first letters of what is written beside the code, or ? where "
    "it is not as it should be and has no name. Enter saves and goes on."
)
HOW_TO_TYPE_SETS: Final = (
    "A row with several codes is a set: type the code that was circled; Enter saves and goes on."
)
HOW_TO_TYPE_ASKED: Final = (
    "A glass that asks how strong something is takes a whole number from 0 to 10; one that asks whether "
    "it is there, or is a certain beer, takes y or n."
)
NO_SUCH_SESSION: Final = "There are no sheets of that session. Open it from the list of sessions."
REASON_FOR_AN_AUDITOR: Final = (
    "An auditor will read it; nothing about anybody's health belongs here. Whoever signs stands on the "
    "list of people; a leader who doesn't taste is added there and taken off the panel."
)

NOBODY_HERE: Final = "Nobody on this panel goes by that address."
CHOOSE_SOMEBODY: Final = "Whose record shall it be?"


def how_to_read_a_cell(lowest: float, highest: float, months: int) -> str:
    """What the numbers, the line and the shading of the board mean.

    Args:
        lowest: Lowest level that counts, a multiple.
        highest: Highest level that counts.
        months: How far back glasses count.
    """
    return (
        f"11/12: named it right in 11 of 12 counted glasses, those poured at {lowest:g} to "
        f"{highest:g} times threshold in the last {months} months. The thick line under a name is "
        "how much of the seat's time is left, or would be if it were signed today. "
        "Shaded cells count today; an empty cell: no glass that counts."
    )


def multiple(level: float) -> str:
    """Write a level or threshold as ``1.2×``: two figures below ten, whole above."""
    return f"{level:.2g}×" if level < 9.95 else f"{level:.0f}×"


def level_range(level: float, off: float) -> tuple[str, str]:
    """Lowest and highest of a level that may be off so much: ("2.8", "3.2"), ("2.97", "3.03").

    As many decimals as make the two ends differ from the middle, and no level below 0.

    Args:
        level: Multiples.
        off: Half the width of the range, more than 0.
    """
    decimals = next((places for places in (1, 2) if off >= 10**-places), 3)
    return f"{max(level - off, 0):.{decimals}f}", f"{level + off:.{decimals}f}"


def outcome_words(method: str, outcome: str) -> str:
    """What became of a glass, in the words of its question."""
    if method == "naming":
        return OUTCOME_WORDS[outcome]
    asked = YES_NO_WORDS if method == "a_not_a" else PICKED_WORDS
    return asked.get(outcome, OUTCOME_WORDS[outcome])


def words_of_marks(methods: Collection[str], *, has_sets: bool) -> Mapping[str, str]:
    """The key to the marks of somebody's glasses.

    Args:
        methods: How they were asked about.
        has_sets: Whether some answers are picks of a set.
    """
    words = dict(WITH_SETS_WORDS if has_sets else OUTCOME_WORDS)
    if "a_not_a" in methods:
        words["right"] = "right"
        words["wrong"] += ", or yes to nothing"
        words["missed"] += ", or no to something"
    if "intensity" in methods:
        words["rated"] = "no mark: rated, neither right nor wrong"
    return words


DECISION_CARE: Final = (
    "Rules propose, a person signs. Illness, leave and not smelling something are no fault. A decision "
    "about somebody's work follows local law and what was agreed with the staff; the person concerned "
    "sees it first and may add a remark or ask for a recheck."
)
NO_SUCH_PROPOSAL: Final = "There is no such proposal. Open it from the list of seats."
NO_SUCH_DECISION: Final = "There is no such decision. Open it from the list of seats."

MISS_NOTE: Final = (
    "How it is counted: everybody by their own answers only; the bottle's level is the same for all who "
    "taste it; given the level they are taken to call independently, blind and before any talk. Whoever "
    "talks first, or tastes warm, adds misses that no sum knows. Somebody without a glass of a compound, "
    "or who doesn't smell it, is not counted on for it; that is no fault. A level is a multiple of the "
    "brewery's working threshold in this kind of beer."
)
MISS_CARE: Final = (
    "A panel that misses little still misses: what leaves the brewery is a person's decision, after the "
    "laboratory where that is due. What this sitting pours comes on top of the alcohol shown."
)

HOW_TO_READ_RUNS = (
    "Each disc is a month's share named right of the glasses that count, none at the foot and all at the "
    "top, a ring where fewer than four were poured; the line is what the days before let expect. The last "
    "three months stand on grey. Amber only where everybody fell short at once; about one compound in a hundred does so by "
    "chance."
)
HOW_TO_READ_MONTHS = (
    "Usual: what each glass was expected to bring by the answers before its day, so that an easier or a "
    "harder month is no news. Model's mean: chance to name a compound at the strength the rulebook asks "
    "about, over all that anybody tasted, as it stood when the month ended. Calls that the beer may explain "
    "are left out."
)
HOW_TO_READ_COVER = (
    "People who meet the compound today and came to such a sitting in the last three months; somebody "
    "who came to both is counted in both, and the whole panel counts who came to neither, too. Amber: fewer "
    "than the rulebook asks for on a panel."
)


def weighed_hundredths(chance: float) -> str:
    """A weighed chance in whole hundredths: ``<1``, ``71`` or ``>99``, since nothing here is certain."""
    if chance < 0.01:
        return "<1"
    return ">99" if chance > 0.99 else f"{100 * chance:.0f}"


def weighed_percent(chance: float) -> str:
    """The same with its sign: ``71%``."""
    return f"{weighed_hundredths(chance)}%"


def weighed_range(limits: tuple[float, float]) -> str:
    """Both limits in whole hundredths: ``38 to 94``; one of them where they read alike: ``<1``."""
    low, high = map(weighed_hundredths, limits)
    return low if low == high else f"{low} to {high}"
