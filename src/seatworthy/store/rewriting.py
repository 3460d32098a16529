"""Writes a store's file anew, so that nothing that was deleted from its tables is left in its blocks."""

from pathlib import Path

import duckdb

from seatworthy.errors import StoreDamaged, StoreError
from seatworthy.store.anonymous import make_anonymous, nameless_ids, not_yet_anonymous
from seatworthy.store.anonymous_mark import Mark, read_mark, write_mark
from seatworthy.store.connecting import connect, translated
from seatworthy.store.copying import discard, settle, table_digests, unfinished
from seatworthy.store.file import Store

_WAIT_S = 2.0  # for readers to come to an end


def rewrite_if_due(path: Path) -> bool:
    """Write a closed store's file anew if its list says so.

    Returns:
        Whether nothing deleted is left in it: True also where nothing was due.
    """
    mark = read_mark(path)
    if not mark.is_to_rewrite or not path.exists():
        return True
    if not _rewritten(path):
        return False
    write_mark(path, Mark(mark.person_ids))
    return True


def keep_anonymous(store: Store) -> None:
    """Make those anonymous again whom the list beside a store names, as after an older backup came back.

    Whose name was taken out of a backup while it lay aside is stated anonymous, too.
    """
    mark = read_mark(store.path)
    with store.reading() as cursor:
        ids = not_yet_anonymous(cursor, mark.person_ids | nameless_ids(cursor))
    if ids:
        write_mark(store.path, Mark(mark.person_ids | set(ids), is_to_rewrite=True))
        with store.recording("made anonymous") as act:
            make_anonymous(act, ids)
    if read_mark(store.path).is_to_rewrite:
        rewrite_open(store)


def rewrite_open(store: Store) -> bool:
    """The same for an open store, between two reads; whoever asks meanwhile waits for a moment.

    Returns:
        Whether nothing deleted is left in it; False leaves it for later, as where somebody reads.
    """
    with store.let_go_of_file(_WAIT_S) as is_free:
        return rewrite_if_due(store.path) if is_free else False


def copied_clean(source: Path, target: Path) -> None:
    """Copy what the tables of a closed store hold into a new file, and prove the copy equal.

    Raises:
        StoreError: if it cannot be read or written, or turns out different.
    """
    con = duckdb.connect(":memory:")
    try:
        for path, name, how in ((source, "old", " (read_only)"), (target, "new", "")):
            quoted = str(path).replace("'", "''")
            con.execute(f"attach '{quoted}' as {name}{how}")
        con.execute("copy from database old to new")
    except duckdb.Error as error:
        raise translated(error, source) from error
    finally:
        con.close()
    if _digests(source) != _digests(target):
        message = f"{target} turned out different from {source}; it was not taken."
        raise StoreDamaged(message)


def _rewritten(path: Path) -> bool:
    part = unfinished(path)
    try:
        if not _is_alone(path):
            return False
        copied_clean(path, part)
        settle(part, path)
    except (StoreError, OSError):
        return False
    finally:
        discard(part)
    return True


def _is_alone(path: Path) -> bool:
    """Whether nobody holds the file, and all of it stands in the one file."""
    connect(path).close()  # settles its journal
    return not path.with_name(path.name + ".wal").exists()


def _digests(path: Path) -> dict[str, tuple[int, str]]:
    con = connect(path, read_only=True)
    try:
        return table_digests(con)
    finally:
        con.close()
