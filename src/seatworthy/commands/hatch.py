"""Where commands of this machine are taken in while a process holds the store."""

import secrets
import socket
import threading
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final

from seatworthy.commands import wire
from seatworthy.commands.note import own_version
from seatworthy.commands.within import Errand, carried_out
from seatworthy.errors import PanelError
from seatworthy.network.asgi import LOOPBACK
from seatworthy.steps.desk import Desk

OWN_ADDRESS: Final = "127.0.0.1"
HELLO_S: Final = 5.0
ANSWER_S: Final = 300.0  # for somebody who is asked something
WAITS_S: Final = 120.0  # for the command before
GUESTS: Final = 8
_CLOSING_S: Final = 30.0
_LOOKS_UP_S: Final = 1.0
_SECRET_BYTES: Final = 32
_NOBODY_SAID = "Nobody answered what was asked. Nothing was recorded; say the command again."
_OTHER_VERSION = (
    "The store is held by Seatworthy {own}, and this is Seatworthy {theirs}. Stop it where it runs "
    "(Ctrl+C) and open it again, then say this again. Nothing was changed."
)
_BUSY = "Another command is at work where the store is open. Say this again when it is done."
_CLOSING = "The store is just being closed. Say this again in a moment. Nothing was changed."

Run = Callable[[Sequence[str]], int]


class Hatch:
    """Takes commands in, one at a time, from whoever knows the secret.

    It listens on this machine's loopback alone, whatever the pages do, and speaks no HTTP, so that
    no browser can be made to speak to it. Whoever calls hears first that this side knows the secret
    too, and tells nothing before.

    Args:
        desk: The held desk.
        run: Runs a command by its words and returns its exit code.
    """

    def __init__(self, desk: Desk, run: Run) -> None:
        self._desk, self._run = desk, run
        self.secret = secrets.token_hex(_SECRET_BYTES)
        self._turn = threading.Lock()
        self._guests = threading.BoundedSemaphore(GUESTS)
        self._serving: set[threading.Thread] = set()
        self._is_closing = False
        self._listener = socket.create_server((OWN_ADDRESS, 0), backlog=GUESTS)
        self._listener.settimeout(_LOOKS_UP_S)  # not every system wakes who waits when it is closed
        self.port = int(self._listener.getsockname()[1])
        threading.Thread(target=self._listen, daemon=True, name="hatch").start()

    @property
    def is_at_work(self) -> bool:
        """Whether a command is being done."""
        return self._turn.locked()

    def close(self, within_s: float = _CLOSING_S) -> None:
        """Take nothing in any more, and wait for the command that is being done."""
        self._is_closing = True
        with suppress(OSError):
            self._listener.shutdown(socket.SHUT_RDWR)
        self._listener.close()
        if self._turn.acquire(timeout=within_s):
            self._turn.release()
        for thread in list(self._serving):
            if thread.is_alive():
                thread.join(1.0)

    def _listen(self) -> None:
        while not self._is_closing:
            try:
                line, caller = self._listener.accept()
            except TimeoutError:
                continue
            except OSError:
                return
            if caller[0] not in LOOPBACK or not self._guests.acquire(blocking=False):
                line.close()
                continue
            thread = threading.Thread(target=self._greet, args=(line,), daemon=True)
            self._serving.add(thread)
            thread.start()

    def _greet(self, line: socket.socket) -> None:
        try:
            with line, suppress(wire.WireError, TimeoutError):
                asked = self._let_in(line)
                wire.send(line, self._answer(line, asked))
        finally:
            self._guests.release()
            self._serving.discard(threading.current_thread())

    def _let_in(self, line: socket.socket) -> wire.Words:
        """What is asked by one who knows the secret.

        Raises:
            WireError: of anybody else.
        """
        call = wire.text_of(wire.receive(line, wire.HELLO_BYTES, HELLO_S), "call")
        answer = secrets.token_hex(_SECRET_BYTES)
        own = wire.proof(self.secret, "owner", call, answer)
        wire.send(line, {"answer": answer, "proof": own})
        theirs = wire.receive(line, wire.HELLO_BYTES, HELLO_S)
        if not wire.is_proof(wire.text_of(theirs, "proof"), self.secret, "caller", call, answer):
            raise wire.WireError
        return wire.receive(line, wire.ASKED_BYTES, HELLO_S)

    def _answer(self, line: socket.socket, asked: wire.Words) -> wire.Words:
        words, folder = _words_of(asked), Path(wire.text_of(asked, "folder"))
        if Path(wire.text_of(asked, "store")) != self._desk.store.path:
            return {"is_other_store": True}
        if not words:
            return {"is_here": True}
        own, theirs = own_version(), wire.text_of(asked, "version")
        if own != theirs:
            return {"refused": _OTHER_VERSION.format(own=own, theirs=theirs[:40])}
        if not self._turn.acquire(timeout=WAITS_S):
            return {"refused": _BUSY}
        try:
            return {"refused": _CLOSING} if self._is_closing else self._do(line, words, folder)
        finally:
            self._turn.release()

    def _do(self, line: socket.socket, words: list[str], folder: Path) -> wire.Words:
        def ask(prompt: str) -> str:
            try:
                wire.send(line, {"asks": prompt, "printed": errand.handed_over()})
                return wire.text_of(wire.receive(line, wire.HELLO_BYTES, ANSWER_S), "said")
            except (wire.WireError, TimeoutError) as error:
                raise PanelError(_NOBODY_SAID) from error

        errand = Errand(self._desk, folder, ask)
        code = carried_out(errand, self._run, words)
        return {"code": code, "printed": errand.handed_over()}


def _words_of(asked: wire.Words) -> list[str]:
    words = asked.get("words")
    if not isinstance(words, list) or not all(isinstance(word, str) for word in words):
        raise wire.WireError
    return words
