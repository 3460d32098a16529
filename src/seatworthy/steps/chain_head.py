"""The head of the history: the entry and digest by which a paper can be held against the record."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from seatworthy.steps.desk import Desk
from seatworthy.store.history import NO_ENTRY, broken_entries

_SHOWN: Final = 16  # hex digits on a foot; the whole digest stands on the papers for an audit
_GROUP: Final = 4

HOW_TO_RECOMPUTE: Final = (
    "An entry's digest is the SHA-256, in hexadecimal, of six fields joined by the character 31 (unit "
    "separator): its number; its moment in UTC as YYYY-MM-DD HH:MM:SS with six decimals; its kind; the "
    "number of its facts; the digest of its facts; and the digest of the entry before, 64 zeros for "
    "the first. The digest of the facts is taken over the tables that hold them; seatworthy verify "
    "recomputes all of it from the store."
)


@dataclass(frozen=True)
class ChainHead:
    """The newest entry of a record.

    Attributes:
        entry_no: Its number; 0 before anything was recorded.
        digest: Its whole digest, 64 hexadecimal digits; zeros before anything was recorded.
    """

    entry_no: int
    digest: str

    @property
    def words(self) -> str:
        """As it stands in the foot of a paper, ``record entry 412, 3f9a 51c2 8d7e 0b64``."""
        return f"record entry {self.entry_no}, {grouped(self.digest[:_SHOWN])}"


def grouped(digest: str) -> str:
    """A digest in groups of four, so that an eye finds its place."""
    parts = [digest[at : at + _GROUP] for at in range(0, len(digest), _GROUP)]
    return " ".join(parts)


def chain_head(desk: Desk, known_at: datetime | None = None) -> ChainHead:
    """The newest entry, of those recorded up to a moment (UTC) if one is given."""
    rows = desk.store.rows("chain_head", known_at)
    return ChainHead(rows[0]["entry_no"], rows[0]["digest"]) if rows else ChainHead(0, NO_ENTRY)


def faults_of_history(desk: Desk) -> tuple[str, ...]:
    """A sentence for every entry that does not add up, recomputed from the facts; () if all do."""
    with desk.store.reading() as cursor:
        return tuple(broken_entries(cursor))


def what_it_proves(copy: str = "this paper") -> str:
    """What a digest proves and what not.

    Args:
        copy: What somebody keeps elsewhere.
    """
    return (
        "Anyone with the store or a backup can check that nothing recorded up to this entry was "
        "changed since. It does not prove that what was typed in was true, nor who sat at the "
        f"keyboard, and a copy of {copy} kept elsewhere is what makes a later exchange of the whole "
        "file visible."
    )
