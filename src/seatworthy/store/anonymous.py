"""Takes a person's name and free text out of a store; their facts stay under their random ids.

Names and free text stand outside the history, which holds salted digests of the text. So they can go
while the history still adds up. Where a text is gone its salt is gone too, so that nobody can try out
what it said: the salt's column holds the id of the person for whom it went.
"""

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass

import duckdb

from seatworthy.store.person_names import (
    anonymous_name,
    is_taken_away,
    pattern_of,
    spellings_of,
)
from seatworthy.store.recording import Recording

FILE_NAME = "a file whose name was taken away"

# Whose a row is: the table that says so, and the condition.
_WHOSE = {
    "own": ("serving", "serving_id in (select serving_id from serving where person_id in $ids)"),
    "written": ("author", "entry_no in (select entry_no from author where person_id in $ids)"),
    "about": ("person", "person_id in $ids"),
    "proposed": (
        "proposal",
        "proposal_id in (select proposal_id from proposal where person_id in $ids)",
    ),
}
# Free text kept beside its salted digest: table, column, and whose rows go. What a signer gave as the
# reason for somebody else's seat is that one's record; it goes where it names them.
_TEXTS = (
    ("answer", "words", ("own",)),
    ("talk_answer", "words", ("own",)),
    ("set_aside", "reason", ("own", "written")),
    ("remark", "remark", ("own", "written")),
    ("correction", "reason", ("own", "written")),
    ("sample_aside", "reason", ("written",)),
    ("addition", "addition", ()),
    ("proposal_reply", "words", ("proposed",)),
    ("decision", "reason", ("about",)),
    ("vessel_remark", "remark", ("written",)),
    ("call_outcome", "remark", ("written",)),
)
# Own words that stand in the shared vocabulary are nobody's own any more, and stay.
_ANSWERS = ("answer", "talk_answer")
_VOCABULARY = ("synonym", "accepted_words")
_NEVER_NULL = ("addition",)
_FILE_NAMES = ("import_file", "shelf_file")
# What is sealed word for word and what no person is meant by, so that a hit there is no name.
_NO_PLACE = ("person_name", "history", "applied_file")


def make_anonymous(act: Recording, person_ids: Collection[str]) -> None:
    """Record that some spellings are anonymous, and take their names and texts away.

    They are not on the panel any more, and none of them may sign.
    """
    ids = sorted(person_ids)
    signing = act.cursor.execute(
        "select person_id from known_signer where person_id in $ids", {"ids": ids}
    ).fetchall()
    act.add_all(("made_anonymous", {"person_id": one}) for one in ids)
    gone = {"is_panellist": False, "since_on": None}
    act.add_all(("panellist", {"person_id": one, **gone}) for one in ids)
    act.add_all(("signer", {"person_id": one, "is_signer": False}) for (one,) in sorted(signing))
    take_away(act.cursor, person_ids)


def take_away(con: duckdb.DuckDBPyConnection, person_ids: Collection[str]) -> None:
    """Take names, own texts, texts that name them, and PINs out of the tables that are there.

    Args:
        con: A connection that may write; an old store lacks some tables.
        person_ids: Every spelling of the person.
    """
    ids, there = sorted(person_ids), _tables(con)
    for text in _texts(con, ids, there):
        _blank(con, text, ids[0])
    for table in _FILE_NAMES:
        pattern = pattern_of(con, ids, is_file=True)
        if pattern and table in there:
            con.execute(
                f"update {table} set file_name = $gone"
                " where regexp_matches(strip_accents(file_name), $pattern)",
                {"gone": FILE_NAME, "pattern": pattern},
            )
    if "signer_pin" in there:
        con.execute("delete from signer_pin where person_id in $ids", {"ids": ids})
    _rename(con, ids)


def named_ids(con: duckdb.DuckDBPyConnection, person_ids: Iterable[str]) -> list[str]:
    """Which of these spellings still bear a name."""
    return sorted(
        person_id
        for person_id, name in spellings_of(con, sorted(person_ids))
        if not is_taken_away(person_id, name)
    )


def nameless_ids(con: duckdb.DuckDBPyConnection) -> set[str]:
    """Spellings whose name was taken away though no fact of this store says so."""
    rows = con.execute(
        "select person_id, spelling from person_name"
        " where spelling like 'Somebody made anonymous (%'"
        " and person_id not in (select person_id from made_anonymous)"
    ).fetchall()
    return {person_id for person_id, name in rows if is_taken_away(person_id, name)}


def not_yet_anonymous(con: duckdb.DuckDBPyConnection, person_ids: Iterable[str]) -> list[str]:
    """Which of these are on record here and not made anonymous."""
    rows = con.execute(
        "select person_id from person where person_id in $ids"
        " and person_id not in (select person_id from made_anonymous) order by person_id",
        {"ids": sorted(person_ids)},
    ).fetchall()
    return [person_id for (person_id,) in rows]


def texts_to_go(con: duckdb.DuckDBPyConnection, person_ids: Collection[str]) -> int:
    """How many texts would go."""
    ids, found = sorted(person_ids), 0
    for text in _texts(con, ids, _tables(con)):
        row = con.execute(
            f"select count(*) from {text.table}"
            f" where coalesce({text.column}, '') <> '' and ({text.where})",
            text.params or None,
        ).fetchone()
        found += row[0] if row else 0
    return found


def sealed_places(
    con: duckdb.DuckDBPyConnection, person_ids: Collection[str]
) -> Iterator[tuple[str, str, int]]:
    """Where a name stands in what is sealed word for word, and so cannot be taken away.

    Yields:
        Table, column and number of rows.
    """
    ids = sorted(person_ids)
    pattern = pattern_of(con, ids)
    if not pattern:
        return
    free = {(table, column) for table, column, _ in _TEXTS}
    free |= {(table, "words_key") for table in _ANSWERS}
    free |= {(table, "file_name") for table in _FILE_NAMES}
    columns = con.execute(
        "select table_name, column_name from duckdb_columns() where data_type = 'VARCHAR'"
        " and database_name = current_database() and schema_name = 'main' and table_name in"
        " (select table_name from duckdb_tables() where database_name = current_database())"
        " and not ends_with(column_name, '_id') and not ends_with(column_name, '_digest')"
        " order by table_name, column_index"
    ).fetchall()
    parts = [
        f"select '{table}', '{column}', count(*) from {table}"
        f" where regexp_matches(strip_accents({column}), $pattern)"
        for table, column in columns
        if table not in _NO_PLACE and (table, column) not in free
    ]
    rows = con.execute(" union all ".join(parts), {"pattern": pattern}).fetchall()
    yield from sorted(row for row in rows if row[2])


@dataclass(frozen=True)
class _Text:
    """A column of free text, and the condition of the rows in which it goes."""

    table: str
    column: str
    where: str
    params: dict[str, object]


def _texts(
    con: duckdb.DuckDBPyConnection, ids: Sequence[str], there: Collection[str]
) -> Iterator[_Text]:
    """Where texts stand that go, in the tables that are there."""
    shared = "".join(
        f" and words_key not in (select words_key from {table})"
        for table in _VOCABULARY
        if table in there
    )
    for table, column, whose in _TEXTS:
        if table not in there:
            continue
        is_answer = table in _ANSWERS
        where = [_WHOSE[each][1] for each in whose if _WHOSE[each][0] in there]
        params: dict[str, object] = {"ids": list(ids)} if where else {}
        if pattern := pattern_of(con, ids, is_whole=is_answer):
            where.append(f"regexp_matches(strip_accents({column}), $pattern)")
            params["pattern"] = pattern
        if where:
            all_of_them = f"({' or '.join(where)}){shared if is_answer else ''}"
            yield _Text(table, column, all_of_them, params)


def _blank(con: duckdb.DuckDBPyConnection, text: _Text, for_whom: str) -> None:
    """Take a text away where it stands; its salt gives place to the id for which it went."""
    column = text.column
    gone = "''" if text.table in _NEVER_NULL else "null"
    key = f", {column}_key = null" if text.table in _ANSWERS else ""
    con.execute(
        f"update {text.table} set {column} = {gone}, {column}_salt = $for_whom{key}"
        f" where coalesce({column}, '') <> '' and ({text.where})",
        {"for_whom": for_whom, **text.params},
    )


def _rename(con: duckdb.DuckDBPyConnection, ids: Sequence[str]) -> None:
    for person_id, name in spellings_of(con, ids):
        if not is_taken_away(person_id, name):
            con.execute(
                "update person_name set spelling = $name where person_id = $person_id",
                {"name": _free_name(con, person_id), "person_id": person_id},
            )


def _free_name(con: duckdb.DuckDBPyConnection, person_id: str) -> str:
    short = anonymous_name(person_id)
    taken = con.execute(
        "select 1 from person_name where spelling = $name", {"name": short}
    ).fetchone()
    return short.replace(f"({person_id[:4]})", f"({person_id})") if taken else short


def _tables(con: duckdb.DuckDBPyConnection) -> set[str]:
    rows = con.execute(
        "select table_name from duckdb_tables() where database_name = current_database()"
    ).fetchall()
    return {table for (table,) in rows}
