"""The note beside a store that is open: who holds it, where its pages are, how commands reach them."""

import json
import os
import platform
import secrets
import uuid
from contextlib import suppress
from dataclasses import asdict, dataclass, fields
from datetime import UTC, datetime
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path
from typing import Final, Self

try:
    import fcntl
except ImportError:  # Windows lets nobody else open a store's file, without our help
    fcntl = None

_LONGEST: Final = 4_096
_MACHINE_ID: Final = Path("/etc/machine-id")


@dataclass(frozen=True)
class Note:
    """What a process that holds a store says of itself.

    Attributes:
        process: Its number.
        machine: Name of its machine.
        machine_key: Tells two machines of one name apart, and knows one that changed its name.
        opened_at: When it opened the store (UTC, ISO).
        address: Of its pages, for a browser on that machine.
        is_lan: Whether phones may come.
        port: Where it listens for commands, on its own machine's loopback.
        secret: Whoever can read this note may send commands.
        version: Of Seatworthy.
    """

    process: int
    machine: str
    machine_key: str
    opened_at: str
    address: str
    is_lan: bool
    port: int
    secret: str
    version: str

    @classmethod
    def of_this_process(cls, address: str, port: int, secret: str, *, is_lan: bool) -> Self:
        """What this process says of itself."""
        now = datetime.now(UTC).isoformat(timespec="seconds")
        machine, key = platform.node(), machine_key()
        return cls(os.getpid(), machine, key, now, address, is_lan, port, secret, own_version())

    @property
    def is_of_this_machine(self) -> bool:
        """Whether the process is, or was, one of this machine's."""
        return self.machine_key == machine_key() or self.machine == platform.node()


class KeptNote:
    """A note that lies beside a store, and a lock on it, as long as this process holds the store.

    The database's own lock goes as soon as anything in this process closes the store's file once
    more (fcntl(2): all locks of a process go with the first close); this one stays.

    Args:
        store: The store.
        note: What the note says.

    Raises:
        OSError: if it can't be written.
    """

    def __init__(self, store: Path, note: Note) -> None:
        self._path, self._note = note_path(store), note
        part = self._path.with_name(f"{self._path.name}.{os.getpid()}-{secrets.token_hex(4)}.part")
        self._file = os.open(part, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600)
        try:
            os.write(self._file, json.dumps(asdict(note), indent=1).encode("utf-8"))
            if fcntl is None:
                self._close()
            else:
                with suppress(OSError):  # a drive without locks
                    fcntl.flock(self._file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            part.replace(self._path)
        except BaseException:
            self._close()
            part.unlink(missing_ok=True)
            raise

    def take_away(self) -> None:
        """Remove the note, unless another process has written its own since."""
        with suppress(OSError):
            if read_note_at(self._path) == self._note:
                self._path.unlink()
        self._close()

    def _close(self) -> None:
        if self._file >= 0:
            os.close(self._file)
            self._file = -1


def note_path(store: Path) -> Path:
    """Where the note of a store lies."""
    store = store.resolve()
    return store.with_name(f"{store.name}.open")


def read_note(store: Path) -> Note | None:
    """The note beside a store, of a living process or a dead one; None if there is none to believe."""
    return read_note_at(note_path(store))


def read_note_at(path: Path) -> Note | None:
    """Like `read_note`, by the note's own path."""
    try:
        if path.is_symlink() or not _is_believed(path) or path.stat().st_size > _LONGEST:
            return None
        said = json.loads(path.read_text(encoding="utf-8"))
        kinds = {one.name: one.type for one in fields(Note)}
        if not isinstance(said, dict) or any(type(said.get(n)) is not k for n, k in kinds.items()):
            return None
        datetime.fromisoformat(said["opened_at"])
        return Note(**{name: said[name] for name in kinds})
    except (OSError, ValueError):
        return None


def is_locked(store: Path) -> bool:
    """Whether a living process of a system that tells so holds the note of a store."""
    if fcntl is None:
        return False
    try:
        file = os.open(note_path(store), os.O_RDONLY)
    except OSError:
        return False
    try:
        fcntl.flock(file, fcntl.LOCK_SH | fcntl.LOCK_NB)
    except BlockingIOError:
        return True
    except OSError:  # the drive knows no locks
        return False
    finally:
        os.close(file)
    return False


def machine_key() -> str:
    """Twelve letters that stay this machine's; nobody can tell the machine from them."""
    try:
        own = _MACHINE_ID.read_text("ascii").strip()
    except (OSError, ValueError):
        own = ""
    return sha256((own or f"{uuid.getnode():x}").encode("ascii")).hexdigest()[:12]


def own_version() -> str:
    """The version of this Seatworthy."""
    return version("seatworthy")


def _is_believed(path: Path) -> bool:
    """Whether the note is ours, or of whom the store is: another's might send us anywhere."""
    if not hasattr(os, "geteuid"):
        return True
    owners = {os.geteuid()}
    with suppress(OSError):
        owners.add(path.with_suffix("").stat().st_uid)
    return path.stat().st_uid in owners
