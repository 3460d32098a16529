"""People's names made short enough for a column of marks, and still telling people apart."""

from collections import Counter
from collections.abc import Sequence


def initials(names: Sequence[str]) -> list[str]:
    """First letters; two letters where people share the first one."""
    shared = Counter(name[:1] for name in names)
    return [name[:1] if shared[name[:1]] == 1 else name[:2] for name in names]
