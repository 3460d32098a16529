"""Who has opened their ballot, and whom the leader has asked for answers: known while the server runs.

None of this is a fact of the record, so none of it is stored.
"""

import threading
from weakref import WeakKeyDictionary

from seatworthy.steps.desk import Desk
from seatworthy.store.file import Store

Seat = tuple[str, str]

_opened: WeakKeyDictionary[Store, set[Seat]] = WeakKeyDictionary()
_nudged: WeakKeyDictionary[Store, set[Seat]] = WeakKeyDictionary()
_noting = threading.Lock()


def note_opened(desk: Desk, sitting_id: str, person_id: str) -> None:
    """Note that somebody has their ballot before them."""
    with _noting:
        _opened.setdefault(desk.store, set()).add((sitting_id, person_id))


def forget_opened(desk: Desk, sitting_id: str, person_id: str) -> None:
    """Somebody has a new link, which nobody has opened yet."""
    with _noting:
        _opened.get(desk.store, set()).discard((sitting_id, person_id))


def opened(desk: Desk, sitting_id: str, person_id: str) -> bool:
    """Whether a ballot was opened since the server started."""
    with _noting:
        return (sitting_id, person_id) in _opened.get(desk.store, ())


def nudge(desk: Desk, sitting_id: str, person_id: str) -> str:
    """Ask somebody for the answers that are missing; their phone shows it with its next page."""
    with _noting:
        _nudged.setdefault(desk.store, set()).add((sitting_id, person_id))
    return "Their phone says so with the next page that it loads."


def is_nudged(desk: Desk, sitting_id: str, person_id: str) -> bool:
    """Whether somebody was asked and has not answered everything since."""
    with _noting:
        return (sitting_id, person_id) in _nudged.get(desk.store, ())


def forget_nudge(desk: Desk, sitting_id: str, person_id: str) -> None:
    """Stop asking somebody."""
    with _noting:
        _nudged.get(desk.store, set()).discard((sitting_id, person_id))
