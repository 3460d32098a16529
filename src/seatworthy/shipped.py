"""Where the files lie that travel with the program: SQL, the sample brewery, the app's entry."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def shipped(name: str) -> Path:
    """Path of a shipped file or folder, installed as a wheel or run from a checkout.

    Args:
        name: Path below the top folder of the project, such as ``sql/queries`` or ``app.py``.

    Raises:
        ValueError: if nothing of that name is shipped.
    """
    for top in (_PACKAGE / "_data", _PACKAGE.parents[1]):
        if (top / name).exists():
            return top / name
    message = f"{name} is not part of this installation"
    raise ValueError(message)
