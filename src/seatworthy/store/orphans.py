"""Looks through every table for what no key and no check of DuckDB's guards.

Which columns name a row of another table, hold a day or a moment is read from the store itself, so
that a new table is looked through without a word here.
"""

from collections.abc import Iterator, Mapping
from typing import Final

import duckdb

# A column of this name holds a row's name of that table, in that column of it. Of entry_no, which every
# fact has, the history itself says what is missing.
_OWNERS: Final[Mapping[str, tuple[str, str]]] = {
    "person_id": ("person", "person_id"),
    "stands_for": ("person", "person_id"),
    "signed_by": ("person", "person_id"),
    "compound": ("compound", "compound"),
    "beer": ("base_beer", "beer"),
    "family": ("beer_family", "family"),
    "session_id": ("session", "session_id"),
    "repeats": ("session", "session_id"),
    "sitting_id": ("sitting", "sitting_id"),
    "sample_id": ("sample", "sample_id"),
    "serving_id": ("serving", "serving_id"),
    "stock_id": ("stock", "stock_id"),
    "made_from": ("stock", "stock_id"),
    "pipette_id": ("pipette", "pipette_id"),
    "container_id": ("container", "container_id"),
    "batch_id": ("batch", "batch_id"),
    "rulebook_digest": ("rulebook", "rulebook_digest"),
    "proposal_id": ("proposal", "proposal_id"),
    "decision_id": ("decision", "decision_id"),
    "weighing_id": ("weighed_call", "weighing_id"),
    "panel_id": ("chosen_panel", "panel_id"),
}
_EARLIEST: Final = "1900-01-01"

Columns = list[tuple[str, str, str]]


def strange_rows(con: duckdb.DuckDBPyConnection) -> Iterator[str]:
    """Sentences for rows that name nothing on record, or stand at a time that cannot be."""
    columns = _columns(con)
    for count, sentence in con.execute(_question(con, columns)).fetchall():
        yield f"{sentence}: {count} {'row' if count == 1 else 'rows'}."


def _columns(con: duckdb.DuckDBPyConnection) -> Columns:
    return con.execute(
        "select table_name, column_name, data_type from duckdb_columns()"
        " semi join (select table_name from duckdb_tables()"
        " where database_name = current_database() and not temporary) using (table_name)"
        " where database_name = current_database() and schema_name = 'main'"
        " order by table_name, column_index"
    ).fetchall()


def _question(con: duckdb.DuckDBPyConnection, columns: Columns) -> str:
    """One query for all of it: a line with a count and a sentence for whatever is found."""
    guarded = _guarded(con)
    owners = {(table, column) for table, column, _ in columns}
    parts = []
    for table, column, type_ in columns:
        owner = _OWNERS.get(column)
        if owner in owners and owner != (table, column) and (table, column) not in guarded:
            parts.append(_orphans(table, column, *owner))
        if type_ in ("DATE", "TIMESTAMP"):
            parts.append(
                f"select count(*) as n, 'table {table} holds days before 1900 in {column}' as s"
                f" from {table} where {column} < '{_EARLIEST}'"
            )
    return f"select n, s from ({' union all '.join(parts)}) where n > 0"


def _orphans(table: str, column: str, owner: str, key: str) -> str:
    sentence = f"table {table} names in {column} what table {owner} doesn’t hold"
    return (
        f"select count(*) as n, '{sentence}' as s from {table} as t"
        f" anti join {owner} as o on t.{column} = o.{key} where t.{column}::varchar <> ''"  # '' says: any
    )


def _guarded(con: duckdb.DuckDBPyConnection) -> set[tuple[str, str]]:
    """Columns of which DuckDB itself refuses an orphan."""
    rows = con.execute(
        "select table_name, unnest(constraint_column_names) from duckdb_constraints()"
        " where constraint_type = 'FOREIGN KEY' and database_name = current_database()"
    ).fetchall()
    return {(table, column) for table, column in rows}
