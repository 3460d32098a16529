"""Is a refusal clear? It says where, what was found, and what to do; a vague sentence is none.

The rule is made so that a new sentence of the kind "invalid value" does not pass it.
"""

import re
from collections.abc import Iterable
from typing import Final, NoReturn

from seatworthy.errors import FileRefused, PanelError, PlanRefused

# Words that tell somebody what to do, or what would have done.
_REMEDY: Final = re.compile(
    r"\b(add|ask|bring|break|check (that|whether|its)|choose|correct|enter|expected|fill|format the|give"
    r"|keep|known (are|is)|go by|judge|knows|dose it|leave|let|lie between|lies from|look at|lower|make|must|name (a|one|the|at)|needs?|one of"
    r"|open (another|it|that|the|talk)|plan (one|fewer|a|two)|pour|put|raise|read (it|the code)|say|save|send|shorten|split|take|tell|tick"
    r"|try|turn|type|unmerge|use|wait|widen|write)\b"
    r"|\bthe (sections|keys) are\b|\bat (the )?(most|least|latest|earliest)\b"
    r"|\bfrom [\d.]+ to \d|\bis (answered with|a whole number from)\b"
    r"|already\. Nothing was recorded\.$",  # there is nothing left to do
    re.IGNORECASE,
)
# What was found: quoted, a number, or that there is nothing.
_FOUND: Final = re.compile(
    r"“|\"|\d|'|\b(empty|missing|no|none|nothing|nobody|not|without|twice|already|both|several|too)\b"
    r"|\b(found|unterminated|unclosed)\b",
    re.IGNORECASE,
)
# Or it is told in words before the remedy: "A batch is poured to be judged: plan ..."
_TOLD: Final = re.compile(
    r"^(?!.{0,12}\b(invalid|wrong|bad|error|illegal|failed)\b)\w.{12,}?[:;.,] .{4,}", re.IGNORECASE
)
# What a sentence without a line must speak of, to say where.
_OF_A_FILE: Final = re.compile(
    r"\b(file|workbook|sheet|text|encoding|beer|compounds?|column|header|cells?|MB|TOML|UTF|row)\b"
    r"|\[\[?\w+|^(name|version|about|counts_from|follows) must be "
)
_SEEN: Final = "\n\u200c\u200d"  # a line end, and what some scripts spell with
_SHORTEST: Final = 12
_LONGEST: Final = 1500


def faults_of(refused: PanelError) -> tuple[str, ...]:
    """The single sentences of a refusal, without their lines, which are no part of what was found."""
    if isinstance(refused, FileRefused):
        return tuple(fault.text for fault in refused.faults)
    if isinstance(refused, PlanRefused):
        return refused.faults
    return (str(refused),)


def unclear(refused: PanelError) -> str:
    """What is wrong with a refusal; "" if it is clear."""
    if isinstance(refused, FileRefused):
        for fault in refused.faults:
            if fault.line is None and not _OF_A_FILE.search(fault.text):
                return f"says no line and no part of the file: {fault.text}"
            if fault.line is not None and fault.line < 1:
                return f"there is no line {fault.line}: {fault.text}"
    found = faults_of(refused)
    if not found:
        return "refuses without a fault"
    return next(filter(None, map(vague, found)), "")


def vague(sentence: str) -> str:
    """What a sentence leaves out; "" if it says what was found and what to do."""
    if not _SHORTEST <= len(sentence) <= _LONGEST:
        return f"has {len(sentence)} characters: {sentence[:200]}"
    if hidden := [
        letter for letter in sentence if not letter.isprintable() and letter not in _SEEN
    ]:
        return f"shows hidden characters {hidden[:3]!r}: {sentence!r}"
    if not (_FOUND.search(sentence) or _TOLD.search(sentence)):
        return f"doesn't say what was found: {sentence}"
    if not _REMEDY.search(sentence):
        return f"doesn't say what to do: {sentence}"
    return ""


def fail(broken: str) -> NoReturn:
    """Say which promise was broken."""
    raise AssertionError(broken)


def check_clear(refused: PanelError) -> None:
    """Raise where a refusal is not clear."""
    if wrong := unclear(refused):
        fail(wrong)


def check_all(broken: Iterable[str]) -> None:
    """Raise with the promises that were broken, if any."""
    if found := list(broken):
        fail("; ".join(found))
