"""People's names made short enough for a column, and still telling people apart."""

from collections import Counter
from collections.abc import Sequence


def short_names(names: Sequence[str]) -> list[str]:
    """First names; with the last name's initial where two share one, whole where that fails too.

    Args:
        names: As the leader wrote them.

    Returns:
        One short name for each, in the same order.
    """
    firsts = [_first(name) for name in names]
    with_initials = [_with_initial(name) for name in names]
    shared, still_shared = Counter(firsts), Counter(with_initials)
    return [
        first if shared[first] == 1 else longer if still_shared[longer] == 1 else name
        for first, longer, name in zip(firsts, with_initials, names, strict=True)
    ]


def initials(names: Sequence[str]) -> list[str]:
    """First letters; two letters where people share the first one."""
    shared = Counter(name[:1] for name in names)
    return [name[:1] if shared[name[:1]] == 1 else name[:2] for name in names]


def _first(name: str) -> str:
    return name.split()[0] if name.split() else name


def _with_initial(name: str) -> str:
    words = name.split()
    return f"{words[0]} {words[-1][0]}." if len(words) > 1 else name
