"""Why a store can't be opened: who holds it, since when, and what to do."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from seatworthy.commands.errand import owner_of
from seatworthy.commands.note import Note, is_locked, note_path, read_note
from seatworthy.commands.processes import RunningProcess, running_process
from seatworthy.errors import StoreBusy
from seatworthy.steps.places import is_on_network

_NOTHING_TO_DELETE: Final = (
    "The lock goes with that process, also if it crashes: nothing has to be deleted, and {wal} must not "
    "be, since it may hold what was recorded last. Nothing was changed."
)
_ALONE: Final = (
    "“{command}” needs the store for itself, so nobody may have it open. Stop it with Ctrl+C where it "
    "runs, say this again, and then open it anew. Nothing was changed."
)
_MUTE: Final = (
    "It doesn't answer. If it is just being closed, say this again in a moment; if it hangs, end "
    "process {process}."
)
_ELSEWHERE: Final = (
    "{path} has been open on another machine, {machine}, since {since}, and lies on a drive of the "
    "network: two machines at once would damage it. Stop Seatworthy there (Ctrl+C). If that machine "
    "is off, or no longer uses the store, delete the note {note} (that one alone, never {wal}) and say "
    "this again. Nothing was changed."
)


def check_free(store: Path) -> None:
    """Refuse a store that another process holds, also where the database's own lock would let us in.

    Raises:
        StoreBusy: if its owner answers, or holds the note's lock, or is another machine's.
    """
    note = read_note(store)
    if note is None:
        return
    if not note.is_of_this_machine:
        if is_on_network(store):
            raise StoreBusy(_told(_ELSEWHERE, store, note), store)
    elif is_locked(store) or owner_of(store) is not None:
        message = f"{store} is open in another process (number {note.process})."
        raise StoreBusy(message, store.resolve(), note.process)


def explained(busy: StoreBusy, command: str, *, is_alone: bool) -> StoreBusy:
    """The same refusal with all that is known of who holds the store.

    Args:
        busy: What was found.
        command: What was asked for.
        is_alone: Whether that can't be done where the store is open.
    """
    if busy.path is None:
        return busy
    note = read_note(busy.path)
    if note is not None and not note.is_of_this_machine and busy.process is None:
        return busy
    is_owner = note is not None and busy.process in (None, note.process)
    who = _owner(note) if note is not None and is_owner else _other(busy)
    says = [f"{busy.path} is open in another process ({who})."]
    if note is not None and is_owner and is_alone and owner_of(busy.path) is not None:
        return _again(busy, [*says, _ALONE.format(command=command)])
    if note is not None and is_owner:
        says.append(_MUTE.format(process=note.process))
    else:
        says.append("Close it there (Ctrl+C where Seatworthy runs), then say this again.")
    return _again(busy, [*says, _NOTHING_TO_DELETE.format(wal=f"{busy.path}.wal")])


def since_words(moment: datetime, now: datetime | None = None) -> str:
    """A moment as it is said on this machine: today by the hour, else with its day."""
    here, today = moment.astimezone(), (now or datetime.now(UTC)).astimezone().date()
    return f"{here:%H:%M}" if here.date() == today else f"{here:%Y-%m-%d %H:%M}"


def _again(busy: StoreBusy, says: list[str]) -> StoreBusy:
    return StoreBusy(" ".join(says), busy.path, busy.process, busy.program)


def _owner(note: Note) -> str:
    since = since_words(datetime.fromisoformat(note.opened_at))
    return f"number {note.process}: Seatworthy, at {note.address}, since {since}"


def _other(busy: StoreBusy) -> str:
    if busy.process is None:
        return "the system doesn't say which; perhaps on another machine"
    found = running_process(busy.process) or RunningProcess(Path(busy.program).name, None)
    name = f": {found.name}" if found.name else ""
    since = f", since {since_words(found.started_at)}" if found.started_at else ""
    return f"number {busy.process}{name}{since}"


def _told(text: str, store: Path, note: Note) -> str:
    return text.format(
        path=store,
        machine=ascii(note.machine)[1:-1],
        since=f"{datetime.fromisoformat(note.opened_at).astimezone():%Y-%m-%d %H:%M}",
        note=note_path(store).name,
        wal=f"{store.name}.wal",
    )
