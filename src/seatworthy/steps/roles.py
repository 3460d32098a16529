"""Who somebody at the pages may be on a network, and which pages a brewer's ticket opens."""

from typing import Final, Literal

Role = Literal["leader", "brewer"]
LEADER: Final = "leader"
BREWER: Final = "brewer"

# The pages of brewers. What isn't listed is closed to them, so a new page is closed by itself.
FIT: Final = "fit-today"
AROUND_A_TABLE: Final = "around-the-table"
WEIGHED: Final = "how-sure"
BREWERS_PAGES: Final = (FIT, AROUND_A_TABLE, WEIGHED)
_ADDRESSES: Final = frozenset({"/", *(f"/{page}" for page in BREWERS_PAGES)})


def is_brewers_page(path: str) -> bool:
    """Whether an address, without what follows its question mark, is one of the brewers' pages."""
    return path in _ADDRESSES
