"""Labels for widgets, which tell their options apart by label alone."""

from collections import Counter
from collections.abc import Iterable

from seatworthy.steps.views import Choice


def labels_told_apart(choices: Iterable[Choice]) -> dict[str, str]:
    """Label by key; of equal labels all but the first are numbered."""
    seen: Counter[str] = Counter()
    labels = {}
    for choice in choices:
        seen[choice.label] += 1
        again = seen[choice.label]
        labels[choice.key] = choice.label if again == 1 else f"{choice.label} ({again})"
    return labels
