"""What people wrote, made fit to be shown, and folded to be found again."""

import re
import unicodedata
from collections.abc import Sequence
from typing import Final

from seatworthy.steps.ballot_views import NameOffered

FIND_LENGTH: Final = 60
_RIGHT_TO_LEFT: Final = frozenset({"R", "AL", "AN"})
_JOINED, _MAY_BREAK = "\u2060", "\u00ad"  # no line ends here; one may, with a hyphen
_APART, _APART_END = "\u2068", "\u2069"  # whatever runs the other way inside, the rest stays put


def shown(text: str) -> str:
    """A text without what can't be seen; one that runs from right to left can't turn its neighbours.

    Marks that change the direction of what follows, and control characters, are left out.
    """
    kept = "".join(letter for letter in text if _is_seen(letter))
    turns = any(unicodedata.bidirectional(letter) in _RIGHT_TO_LEFT for letter in kept)
    return f"{_APART}{kept}{_APART_END}" if turns else kept


def _is_seen(letter: str) -> bool:
    category = unicodedata.category(letter)
    turns = category == "Cf" and unicodedata.bidirectional(letter) != "BN"
    return not turns and category not in ("Cc", "Cs")


def well_broken(name: str) -> str:
    """A compound's name for narrow places: a line ends after a part of it, never after its number.

    "2-Phenylethanol" may end a line after "2-Phenyl", and stands whole where there is room.
    """
    joined = re.sub(r"(?<=\d)-(?=\w)", f"-{_JOINED}", name)
    return re.sub(r"(?:yl(?=[a-z]{4})|ane(?=dione))", rf"\g<0>{_MAY_BREAK}", joined)


def folded(text: str) -> str:
    """A wording without accents, capitals and punctuation, single spaces between."""
    bare = unicodedata.normalize("NFKD", text.casefold())
    kept = (
        letter if letter.isalnum() else " " for letter in bare if not unicodedata.combining(letter)
    )
    return " ".join("".join(kept).split())


def found_names(names: Sequence[NameOffered], find: str) -> tuple[NameOffered, ...]:
    """Names of which every word that is looked for is a part, in their order.

    Args:
        names: The list.
        find: As it was typed; nothing to look for finds nothing.
    """
    wanted = folded(find).split()
    if not wanted:
        return ()
    return tuple(name for name in names if all(word in _all_of(name) for word in wanted))


def _all_of(name: NameOffered) -> str:
    return folded(" ".join((name.label, name.word, *name.wordings)))
