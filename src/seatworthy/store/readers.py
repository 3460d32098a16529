"""Counts who reads a store, so that its file can be let go of between two reads."""

import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager


class Readers:
    """Lets readers in, any number at a time, and shuts them out for a moment when asked."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._inside = 0
        self._is_shut = False

    @contextmanager
    def one(self) -> Iterator[None]:
        """Be one of the readers; waits while they are shut out."""
        with self._changed:
            self._changed.wait_for(lambda: not self._is_shut)
            self._inside += 1
        try:
            yield
        finally:
            with self._changed:
                self._inside -= 1
                self._changed.notify_all()

    @contextmanager
    def shut_out(self, wait_s: float) -> Iterator[bool]:
        """Let nobody else in, and wait for those inside.

        Args:
            wait_s: How long, in seconds.

        Yields:
            Whether nobody is inside.
        """
        with self._changed:
            self._is_shut = True
            ends = time.monotonic() + wait_s
            while self._inside and (left := ends - time.monotonic()) > 0:
                self._changed.wait(left)
            is_empty = not self._inside
        try:
            yield is_empty
        finally:
            with self._changed:
                self._is_shut = False
                self._changed.notify_all()
