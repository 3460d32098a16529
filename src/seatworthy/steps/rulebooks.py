"""Rulebooks: which were adopted, what another would say, and adopting a new one."""

from datetime import UTC, date, datetime, timedelta
from hashlib import sha256

from seatworthy.errors import Fault, PanelError, RulebookRefused
from seatworthy.rules.compound import day_text
from seatworthy.rules.reading import read_rulebook
from seatworthy.steps.desk import Desk, InForce, rulebook_row
from seatworthy.steps.signers import check_pin
from seatworthy.steps.signing import sign

FURTHEST_AHEAD = timedelta(days=366)
THIS = "This text"
LONGEST_TEXT = 100_000  # characters


def supposed_rulebook(text: str, shelf: frozenset[str] | None = None, name: str = THIS) -> InForce:
    """A rulebook that nobody has adopted, to see what it would say.

    Args:
        text: Its TOML.
        shelf: Compounds that it may name; None for any.
        name: What to call it in messages.

    Raises:
        RulebookRefused: if it cannot be used.
    """
    text = text.replace("\r\n", "\n")
    if len(text) > LONGEST_TEXT:
        faults = [Fault(None, f"the text is longer than {LONGEST_TEXT:,} characters.")]
        raise RulebookRefused(name, faults)
    book = read_rulebook(name, text, shelf)
    digest = sha256(text.encode()).hexdigest()
    return InForce(book, digest, text, datetime.now(UTC).replace(tzinfo=None))


def compounds_on_shelf(desk: Desk) -> frozenset[str]:
    """Keys of all compounds that a rulebook may name."""
    return frozenset(row["compound"] for row in desk.store.rows("compounds"))


def adopt_rulebook(desk: Desk, text: str, *, signer: str, pin: str) -> str:
    """Adopt a rulebook: it counts from its own date on, and changes no earlier day.

    Args:
        desk: The open store.
        text: Its TOML.
        signer: Who adopts it.
        pin: Their PIN.

    Returns:
        A sentence that says what was done.

    Raises:
        RulebookRefused: if it cannot be used, is on record already, counts from a day that is
            past, or does not carry a version of its own.
        PanelError: if the PIN is wrong.
    """
    supposed = supposed_rulebook(text, compounds_on_shelf(desk))
    with desk.store.recording("rulebook") as act:
        check_pin(desk, signer, pin)
        faults = adoption_faults(desk, supposed)
        if faults:
            raise RulebookRefused(THIS, faults)
        act.add("rulebook", rulebook_row(supposed.text))
        sign(act, signer)
    book = supposed.rulebook
    when = "today" if book.counts_from == desk.today() else day_text(book.counts_from)
    return (
        f"{book.name}, version {book.version}, is adopted and counts from {when} on. "
        f"{_taken_over_by(desk, supposed)}"
        "Earlier days keep the rules they had, and no signed seat changes by it."
    )


def _taken_over_by(desk: Desk, adopted: InForce) -> str:
    """A rulebook on record that counts from a later day and takes over then, "" without one."""
    start = adopted.rulebook.counts_from
    later = [one.rulebook for one in desk.rulebooks() if one.rulebook.counts_from > start]
    if not later:
        return ""
    book = later[0]
    return f"On {day_text(book.counts_from)} {book.name}, version {book.version}, takes over. "


def adoption_faults(desk: Desk, supposed: InForce) -> list[Fault]:
    """What stands in the way of adopting a rulebook that can be read; [] for nothing."""
    book, today = supposed.rulebook, desk.today()
    line = _line(supposed.text, "counts_from")
    faults = []
    if any(one.digest == supposed.digest for one in desk.rulebooks()):
        faults.append(Fault(None, "this very text is adopted already; nothing was recorded."))
        return faults
    if book.counts_from < today:
        faults.append(
            Fault(
                line,
                f"counts_from is {book.counts_from}, which is past; a new rulebook never changes "
                f"yesterday's verdicts. Write {today} or a later day.",
            )
        )
    if book.counts_from > today + FURTHEST_AHEAD:
        faults.append(
            Fault(line, f"counts_from is {book.counts_from}; name a day within a year from today.")
        )
    faults += _version_faults(desk, supposed, today)
    return faults


def _version_faults(desk: Desk, supposed: InForce, today: date) -> list[Fault]:
    book = supposed.rulebook
    used = [
        one.rulebook.version for one in desk.rulebooks() if one.rulebook.name.casefold() == book.name.casefold()
    ]  # fmt: skip
    if not used or book.version > max(used):
        return []
    message = (
        f"version is {book.version}, but “{book.name}” is on record up to version {max(used)}. "
        f"Write version = {max(used) + 1}, so that decisions can name it."
    )
    return [Fault(_line(supposed.text, "version"), message)]


def _line(text: str, key: str) -> int | None:
    """Line of a key at the top of the text."""
    for number, line in enumerate(text.splitlines(), start=1):
        if line.split("=")[0].strip() == key:
            return number
    return None


def check_known(desk: Desk, digest: str) -> InForce:
    """The adopted rulebook with this digest.

    Raises:
        PanelError: if there is none.
    """
    for one in desk.rulebooks():
        if one.digest == digest:
            return one
    message = "No rulebook on record has this digest."
    raise PanelError(message)
