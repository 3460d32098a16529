"""On which line of a TOML text each of its values stands."""

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

Path = tuple[str | int, ...]  # keys from the top, and the place in a list, from 0

_DEEPEST: Final = 8  # no part of a rulebook lies deeper

_TOKEN: Final = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}'
    r"|'''.*?'{3,5}"
    r'|"(?:\\.|[^"\\\n])*"'
    r"|'[^'\n]*'"
    r"|\#[^\n]*|\n|[\[\]{}=,]"
    r"|[^\s\[\]{}=,.\"'\#]+",
    re.DOTALL,
)


def lines_of_values(text: str) -> Mapping[Path, int]:
    """Find the line of every section, key and list item.

    Args:
        text: TOML that `tomllib` has read; of any other text some lines may be wrong or missing.

    Returns:
        Lines from 1. The n-th ``[[also]]`` stands under ``("also", n)``, from 0, and the second
        item of a list under ``(..., "compounds", 1)``.
    """
    return _Walk().over(text.replace("\r\n", "\n"))


@dataclass
class _Level:
    """Where the walk stands inside one table (`place` is None) or one list."""

    path: Path
    place: int | None = None
    keys: list[str] = field(default_factory=list)
    is_value: bool = False

    @property
    def here(self) -> Path:
        return (*self.path, *self.keys) if self.place is None else (*self.path, self.place)


class _Walk:
    """One walk over the tokens, from the first line to the last."""

    def __init__(self) -> None:
        self.lines: dict[Path, int] = {}
        self.levels = [_Level(())]
        self.repeats: dict[Path, int] = {}
        self.head: list[str] | None = None

    def over(self, text: str) -> Mapping[Path, int]:
        for token, line in _tokens(text):
            if self.head is not None:
                self._in_head(token, line)
            elif token == "[" and len(self.levels) == 1 and not self.levels[0].is_value:
                self.head = [token]
            else:
                self._in_body(token, line)
        if self.head is not None:
            self._in_head("\n", text.count("\n") + 1)
        return self.lines

    def _in_head(self, token: str, line: int) -> None:
        head = self.head or []
        if token != "\n":
            head.append(token)
            return
        keys = [unquoted(part) for part in head if part not in ("[", "]")]
        path = self._repeated(keys) if head[:2] == ["[", "["] else self._within(keys)
        self.levels, self.head = [_Level(path)], None
        self._note(path, line)

    def _within(self, keys: Sequence[str]) -> Path:
        """The path of a head; below a repeated table it is the latest of these."""
        path: Path = ()
        for key in keys:
            path = (*path, key)
            if path in self.repeats:
                path = (*path, self.repeats[path])
        return path

    def _repeated(self, keys: Sequence[str]) -> Path:
        path = (*self._within(keys[:-1]), *keys[-1:])
        self.repeats[path] = self.repeats.get(path, -1) + 1
        return (*path, self.repeats[path])

    def _in_body(self, token: str, line: int) -> None:
        level = self.levels[-1]
        if token == "\n":
            if len(self.levels) == 1:
                level.keys, level.is_value = [], False
        elif token == "=":
            level.is_value = True
        elif token == ",":
            self._next_item(level)
        elif token in "]}":
            self.levels = self.levels[:-1] or self.levels
        elif level.place is None and not level.is_value:
            level.keys.append(unquoted(token))
        else:
            self._note(level.here, line)
            if token in "[{":
                self.levels.append(_Level(level.here, 0 if token == "[" else None))

    def _next_item(self, level: _Level) -> None:
        level.keys, level.is_value = [], False
        if level.place is not None:
            level.place += 1

    def _note(self, path: Path, line: int) -> None:
        for end in range(1, min(len(path), _DEEPEST) + 1):
            self.lines.setdefault(path[:end], line)


def _tokens(text: str) -> Iterator[tuple[str, int]]:
    """Marks, names, strings and line ends with their lines; comments are left out."""
    line = 1
    for match in _TOKEN.finditer(text):
        token = match.group()
        if not token.startswith("#"):
            yield token, line
        line += token.count("\n")


def unquoted(token: str) -> str:
    """A key as it is meant, without quotes."""
    if token[:1] not in ("'", '"'):
        return token
    try:
        return str(tomllib.loads(f"key = {token}")["key"])
    except ValueError:
        return token
