"""The ``seatworthy`` command."""

import io
import sys
from collections.abc import Sequence


def main(words: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; no traceback ever reaches the user."""
    _speak_anyway()
    try:
        from seatworthy.commands.running import run_words  # takes as long as a hand to Ctrl+C
    except KeyboardInterrupt:
        return 130
    return run_words(sys.argv[1:] if words is None else words)


def _speak_anyway() -> None:
    """Let no letter that a terminal lacks stop a report about what was done."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


if __name__ == "__main__":
    sys.exit(main())
