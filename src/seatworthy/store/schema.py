"""Brings a file to the present shape: numbered table files once each, views anew at each opening."""

import re
from datetime import UTC, datetime
from hashlib import sha256

import duckdb

from seatworthy.errors import StoreDamaged, StoreNewer
from seatworthy.store.sql_files import numbered_files

VIEW_FOLDERS = ("2_scored", "3_evidence")


def newest_number() -> int:
    """Number of the newest table file that this version knows."""
    return max(number for number, _ in numbered_files("1_tables"))


def applied_files(con: duckdb.DuckDBPyConnection) -> dict[int, tuple[str, str]]:
    """Table files a store has run: number to (name, digest); empty for a new file."""
    try:
        rows = con.execute("select number, name, digest from applied_file").fetchall()
    except duckdb.CatalogException:  # no such table; to look it up takes ten times as long
        return {}
    return {number: (name, digest) for number, name, digest in rows}


def check_shape(applied: dict[int, tuple[str, str]], where: str) -> None:
    """Refuse a store that a later version wrote, or whose table files are not ours.

    Raises:
        StoreNewer: if it has run a table file that this version does not know.
        StoreDamaged: if a file it ran differs from the one shipped under that number.
    """
    if applied and max(applied) > newest_number():
        message = (
            f"{where} was written by a later version of Seatworthy (its tables are number "
            f"{max(applied)}, this version knows {newest_number()}). Install that version; "
            "nothing was changed."
        )
        raise StoreNewer(message)
    for number, path in numbered_files("1_tables"):
        if number in applied and applied[number][1] != _digest(path.read_text(encoding="utf-8")):
            message = (
                f"{where} was made with another text of {path.name} than this version ships. "
                "Restore the last backup, or install the version that made it."
            )
            raise StoreDamaged(message)


def bring_up_to_date(con: duckdb.DuckDBPyConnection) -> list[str]:
    """Run the table files that are missing, each with its record in one transaction.

    Returns:
        Names of the files that ran.
    """
    applied = applied_files(con)
    ran = []
    for number, path in numbered_files("1_tables"):
        if number not in applied:
            _run_table_file(con, number, path.name, path.read_text(encoding="utf-8"))
            ran.append(path.name)
    _renew_views(con)
    return ran


def make_tables(con: duckdb.DuckDBPyConnection, newest: int) -> None:
    """Make the tables up to a number, empty, with no record that their files ran.

    For a store that gets all its rows from a copy, that record among them.
    """
    texts = [
        path.read_text(encoding="utf-8")
        for number, path in numbered_files("1_tables")
        if number <= newest
    ]
    _in_one_transaction(con, texts)


def is_up_to_date(con: duckdb.DuckDBPyConnection) -> bool:
    """Whether a file has every table and view of this version, so that it can be read as it is."""
    applied = applied_files(con)
    has_tables = all(number in applied for number, _ in numbered_files("1_tables"))
    return has_tables and _has_present_views(con)


def _renew_views(con: duckdb.DuckDBPyConnection) -> None:
    """Make the views anew unless they are those that the present texts make.

    The first view carries two digests as its comment: of the texts, and of what was made from them.
    """
    if not _has_present_views(con):
        texts = _view_texts()
        _in_one_transaction(con, texts)
        comment = f"{_digest(''.join(texts))} {_views_as_they_are(con)}"
        _in_one_transaction(con, [f"comment on view known_moment is '{comment}'"])


def _view_texts() -> list[str]:
    return [
        path.read_text(encoding="utf-8")
        for folder in VIEW_FOLDERS
        for _, path in numbered_files(folder)
    ]


def _has_present_views(con: duckdb.DuckDBPyConnection) -> bool:
    made_from = con.execute(
        "select comment from duckdb_views()"
        " where database_name = current_database() and view_name = 'known_moment'"
    ).fetchall()
    return made_from == [(f"{_digest(''.join(_view_texts()))} {_views_as_they_are(con)}",)]


def _views_as_they_are(con: duckdb.DuckDBPyConnection) -> str:
    """Digest of the words of every view in the store; DuckDB writes some lists in any order."""
    rows = con.execute(
        "select view_name, sql from duckdb_views()"
        " where database_name = current_database() and not internal order by view_name"
    ).fetchall()
    words = (sorted(re.findall(r"\w+|[^\w\s]", sql)) for _, sql in rows)
    return _digest("\n".join(" ".join(each) for each in words))


def _run_table_file(con: duckdb.DuckDBPyConnection, number: int, name: str, text: str) -> None:
    now = datetime.now(UTC).replace(tzinfo=None)
    record = f"insert into applied_file values ({number:d}, '{name}', '{_digest(text)}', '{now}')"
    _in_one_transaction(con, [text, record])


def _in_one_transaction(con: duckdb.DuckDBPyConnection, texts: list[str]) -> None:
    con.execute("begin")
    try:
        for text in texts:
            con.execute(text)
        con.execute("commit")
    except BaseException:
        con.execute("rollback")
        raise


def _digest(text: str) -> str:
    return sha256(text.replace("\r\n", "\n").encode()).hexdigest()
