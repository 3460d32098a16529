"""How a column of a table is written as text in a plain copy, and read from it again."""

from dataclasses import dataclass
from typing import Final

EMPTY: Final = r"\N"


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    Attributes:
        name: Its name.
        type: Its type in SQL.
        may_be_empty: Whether a row may have nothing there.
    """

    name: str
    type: str
    may_be_empty: bool


def csv_column(column: Column) -> str:
    r"""SQL for a column's text: \N for nothing, one more \ before a text that begins with one."""
    name = f'"{column.name}"'
    if column.type == "TIMESTAMP":
        text = f"strftime({name}, '%Y-%m-%dT%H:%M:%S.%fZ')"
    elif column.type == "VARCHAR":
        text = rf"case when starts_with({name}, '\') then '\' || {name} else {name} end"
    else:
        text = f"{name}::varchar"
    return rf"coalesce({text}, '{EMPTY}')"


def column_of_csv(column: Column) -> str:
    """SQL for a column's value from its text in a plain copy; what `csv_column` wrote."""
    name = f'"{column.name}"'
    if column.type == "TIMESTAMP":
        text = f"strptime({name}, '%Y-%m-%dT%H:%M:%S.%fZ')"
    elif column.type == "VARCHAR":
        text = rf"case when starts_with({name}, '\') then {name}[2:] else {name} end"
    else:
        text = f"{name}::{column.type}"
    return rf"case when {name} <> '{EMPTY}' then {text} end"
