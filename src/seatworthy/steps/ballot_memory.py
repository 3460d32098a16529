"""What ballots need again and again, kept in memory: a whole table answers within minutes.

A seat holds until something else than answers is recorded; the answers on it hold until one is typed
from paper, or its own phone sends one. Nothing is kept that was read while an answer was on its way.
"""

import threading
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, TypeVar
from weakref import WeakKeyDictionary

from seatworthy.store.file import Store

T = TypeVar("T")


@dataclass
class _Memory:
    """Seats and their glasses by digest of the link, as they stood after two entries."""

    facts_no: int = -1
    typed_no: int = -1
    seats: dict[str, Any] = field(default_factory=dict)
    glasses: dict[str, Any] = field(default_factory=dict)
    changes: Counter[str] = field(default_factory=Counter)


_memories: WeakKeyDictionary[Store, _Memory] = WeakKeyDictionary()
_lock = threading.Lock()


def seat_kept(store: Store, facts_no: int, digest: str, read: Callable[[], T | None]) -> T | None:
    """A seat as it was read since an entry, else read now; None is not kept.

    Args:
        store: The open store.
        facts_no: The last entry that may have changed a seat, as it was before this call.
        digest: Of the link.
        read: Reads the seat.
    """
    with _lock:
        memory = _memories.setdefault(store, _Memory())
        if memory.facts_no < facts_no:
            memory.facts_no = facts_no
            memory.seats.clear()
            memory.glasses.clear()
        kept = memory.seats.get(digest) if memory.facts_no == facts_no else None
    if kept is not None:
        return kept
    seat = read()
    if seat is not None:
        with _lock:
            if memory.facts_no == facts_no:
                memory.seats[digest] = seat
    return seat


def glasses_kept(store: Store, typed_no: int, digest: str, read: Callable[[], T]) -> T:
    """The answered glasses of a seat as they were read since an entry, else read now.

    Args:
        store: The open store.
        typed_no: The last entry that typed an answer, as it was before this call.
        digest: Of the link.
        read: Reads the glasses.
    """
    with _lock:
        memory = _memories.setdefault(store, _Memory())
        if memory.typed_no < typed_no:
            memory.typed_no = typed_no
            memory.glasses.clear()
        is_now = memory.typed_no == typed_no
        if is_now and digest in memory.glasses:
            return memory.glasses[digest]
        facts_no, changes = memory.facts_no, memory.changes[digest]
    glasses = read()
    with _lock:
        before = (typed_no, facts_no, changes)
        if before == (memory.typed_no, memory.facts_no, memory.changes[digest]) and not changes % 2:
            memory.glasses[digest] = glasses
    return glasses


@contextmanager
def changing(store: Store, digest: str) -> Iterator[Callable[[T], None]]:
    """While it lasts, what is read of a link's glasses is not kept; afterwards it is read anew.

    Not to be entered twice for one link at the same time: the store's lock sees to that. Whoever
    changes them may give the glasses as they stand after it, which are kept unless it fails.

    Yields:
        Takes the glasses as they stand once all is done.
    """
    given: list[T] = []
    with _lock:
        memory = _memories.setdefault(store, _Memory())
        memory.changes[digest] += 1
    try:
        yield given.append
    except BaseException:
        given.clear()
        raise
    finally:
        with _lock:
            memory.changes[digest] += 1
            memory.glasses.pop(digest, None)
            if given:
                memory.glasses[digest] = given[-1]
