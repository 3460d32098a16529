"""Wrong passphrases: after five from one machine none is read for a while, then for longer."""

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

WRONG_OF_ONE: Final = 5  # before the first wait
WRONG_IN_ALL: Final = 50  # of all other machines together
FIRST_WAIT_S: Final = 30.0
LONGEST_WAIT_S: Final = 15 * 60.0
_FORGOTTEN_S: Final = 60 * 60.0  # after the last try
_REMEMBERED: Final = 1_000
_OWN_MACHINE: Final = ("127.0.0.1", "::1")
_ALL_OTHERS: Final = "*"


@dataclass
class _Tries:
    count: int = 0
    last: float = 0.0
    closed_until: float = 0.0


class DoorTries:
    """Counts tries by machine. The machine of the server is never closed out by others.

    Args:
        clock: Seconds that only grow.
    """

    def __init__(self, clock: Callable[[], float]) -> None:
        self._clock = clock
        self._tries: OrderedDict[str, _Tries] = OrderedDict()

    def wait_s(self, client: str) -> float:
        """Seconds until a passphrase from this machine is read again; 0 for at once."""
        now = self._clock()
        until = [self._tries[key].closed_until for key in _keys(client) if key in self._tries]
        return max(max(until, default=0.0) - now, 0.0)

    def begin(self, client: str) -> None:
        """Count a try before it is read, so that many at once count one by one."""
        now = self._clock()
        for key in _keys(client):
            tries = self._tries.setdefault(key, _Tries())
            self._tries.move_to_end(key)
            if now - tries.last > _FORGOTTEN_S:
                tries.count = 0
            tries.count, tries.last = tries.count + 1, now
            allowed = WRONG_IN_ALL if key == _ALL_OTHERS else WRONG_OF_ONE
            if tries.count >= allowed:
                doublings = min(tries.count - allowed, 10)
                tries.closed_until = now + min(FIRST_WAIT_S * 2**doublings, LONGEST_WAIT_S)
        while len(self._tries) > _REMEMBERED:
            self._tries.popitem(last=False)

    def right(self, client: str) -> None:
        """The passphrase was right: forget this machine's tries."""
        self._tries.pop(client, None)
        others = self._tries.get(_ALL_OTHERS)
        if others is not None and client not in _OWN_MACHINE:
            others.count, others.closed_until = max(others.count - 1, 0), 0.0


def _keys(client: str) -> tuple[str, ...]:
    return (client,) if client in _OWN_MACHINE else (client, _ALL_OTHERS)
