"""The SQL files by name: read once, called by the name of their file."""

from functools import cache
from pathlib import Path

from seatworthy.shipped import shipped


def numbered_files(folder: str) -> list[tuple[int, Path]]:
    """Files of one folder in the order of their numbers: ``01_history.sql`` is number 1."""
    files = shipped(f"sql/{folder}").glob("*.sql")
    return sorted((int(path.name.split("_")[0]), path) for path in files)


@cache
def query_text(name: str, folder: str = "queries") -> str:
    """Text of ``sql/<folder>/<name>.sql``."""
    return shipped(f"sql/{folder}/{name}.sql").read_text(encoding="utf-8")


def parameters(text: str) -> frozenset[str]:
    """Names that a query declares in its ``-- Params:`` line, without their dollar signs."""
    for line in text.splitlines():
        if line.startswith("-- Params:"):
            words = line.removeprefix("-- Params:").replace(",", " ").split()
            return frozenset(word[1:] for word in words if word.startswith("$"))
    return frozenset()
