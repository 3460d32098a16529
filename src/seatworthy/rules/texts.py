"""The texts of the rulebooks that travel with the program."""

from pathlib import Path

_HERE = Path(__file__).parent
_FOLDERS = ("menu", "examples")


def rulebook_text(name: str) -> str:
    """The TOML of a rulebook on the menu or among the worked examples.

    Raises:
        ValueError: if there is none of that name.
    """
    for folder in _FOLDERS:
        path = _HERE / folder / f"{name}.toml"
        if path.exists():
            return path.read_text(encoding="utf-8")
    msg = f"There is no rulebook called {name!r}."
    raise ValueError(msg)
