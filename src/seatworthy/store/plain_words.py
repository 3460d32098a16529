"""What a plain copy says of itself: how it is read without Seatworthy, down to every column."""

from collections.abc import Mapping, Sequence
from typing import Final

from seatworthy.errors import StoreDamaged
from seatworthy.store.copying import Manifest
from seatworthy.store.history import SEALED
from seatworthy.store.plain_columns import Column
from seatworthy.store.sql_files import numbered_files

_ABOUT: Final = """\
A PLAIN COPY OF A SEATWORTHY RECORD
===================================

Made {made_at} (UTC). It ends with entry {entry_no}, digest
{digest}.
The tables are number {tables_number}.

This folder holds everything that a brewery recorded of its taste panel: who was served what, what they
answered, and who signed which seat. It is made to be read without Seatworthy, also when no such
program runs any more. NAMES OF PEOPLE ARE IN IT: keep it as carefully as a personnel file.

WHAT LIES HERE
--------------
README.txt       this text
schema.sql       the tables in SQL, with the reasons beside them
tables/X.csv     one file a table, as text
tables/X.parquet the same rows, with types, for programs that read Apache Parquet
manifest.json    rows and digest of every table, types of the columns, SHA-256 of every file
check.py         recomputes rows, digests and history from the CSV alone: python check.py

The CSV and the Parquet file of a table hold the same rows in the same order; either is enough. Nothing in
them is made for spreadsheets: a text that begins with = or + stands as it was typed, and a spreadsheet
may take it for a formula or make a date of a code. For spreadsheets use the files that the pages of
Seatworthy offer.

HOW TO READ THE CSV
-------------------
UTF-8 without a mark at the start; lines end with CR LF, fields are parted by commas, the first line names
the columns; a field with a comma, a quote or a line break stands in double quotes, with its own
quotes doubled (RFC 4180). Line breaks inside a quoted field are the user's own.
  nothing      the two characters \\N. An empty field is a text without a letter, which is not the same.
  text         as it was typed; one that begins with \\ has one more \\ in front of it, to be taken away.
  timestamp    2026-03-14T10:15:00.123456Z, always UTC, always six decimals of a second
  date         2026-03-14, a day at the brewery
  boolean      true or false
  decimal(p,s) exact, with s digits after the point; no number here is a floating-point number
  integer      digits

HOW COLUMNS ARE NAMED
---------------------
  ..._on       a day of truth                         ..._at       a moment
  entry_no     the entry of the table history that recorded the row; recorded_at is its moment
  is_..., has_...  yes or no                          ..._id       a random id, or an id of ours
  ..._ug_l     micrograms in a litre                  ..._ug       micrograms
  ..._ml       millilitres                            ..._ul       microlitres
  ..._g        grams                                  ..._h        hours
  ..._minutes  minutes                                ..._months   months
  ..._percent  percent (by volume where it is alcohol)
  ...level     a multiple of the working threshold    share, chance   from 0 to 1
  ..._digest   SHA-256 in hexadecimal. Of free text: over the salt and the text, one after the other
  ..._salt     random letters put before a text, so that its digest doesn't give it away
A row is a statement, never changed. Of several about the same thing the one with the highest entry_no
holds. person_id stands for a spelling of a name; table person_name has the spelling, same_person says which
stand for one person. Of somebody who was made anonymous no name and no free text is left there; the id
stands in made_anonymous, and where a text is gone its digest stays.

HOW TO RECOMPUTE THE DIGESTS
----------------------------
US is the character 31, RS the character 30, LF the character 10. Text is UTF-8. All digests are SHA-256 in
hexadecimal digits.
1. The text of a value: a timestamp as 2026-03-14 10:15:00.5 (no zeros at the end of the fraction, no point
   where there is none), everything else as in the CSV after the \\ was taken away; nothing is RS.
2. Digest of a table: the texts of all columns of a row, in the order of the table, joined by US; the lines
   sorted by their bytes and joined by LF; a table without rows has "". They stand in manifest.json.
3. Digest of the facts of one entry in one table: likewise over its rows with that entry_no, of
   recorded_at and then the columns listed below as sealed, in that order.
4. facts_digest of an entry: a line for every table that has such rows, "table rows digest" with a space
   between, sorted by their bytes, joined by LF.
5. digest of an entry: entry_no, recorded_at as 2026-03-14 10:15:00.500000 (always six decimals), kind,
   facts, facts_digest and previous_digest joined by US. previous_digest is the digest of the
   entry before, 64 zeros for the first.
Whoever has the digest of an entry on a paper can so prove that nothing recorded up to it was changed. It
doesn't prove that what was typed in was true.

WHO HELD A SEAT ON A DAY
------------------------
1. Of the rows of decision about one person_id and one family, those with from_on on that day or before have
   begun; of them the one with the highest entry_no holds.
2. It is a seat if its state is probation or qualified and the day is not after until_on, plus the days of
   grace if the rulebook in force grants any (grace_days in its text). After that the seat has lapsed.
3. For the record as it stood on an evening leave out every row whose recorded_at is later.
4. Under which rules: rulebook_digest leads to the whole text in rulebook. On what evidence:
   decision_compound has where every compound stood on as_of_on. Each glass of the person is a row of
   serving; its answer has the same serving_id, its sample_id leads by sample, sitting and session to what
   was in it, how strong, and the day. Glasses whose last row in set_aside says true don't count.

BACK INTO SEATWORTHY
--------------------
seatworthy read-plain THIS-FOLDER --store NEW-FILE
makes a store of it, from the Parquet files, or from the CSV where they are missing, and holds every
digest against manifest.json.

THE TABLES
----------
"""

_LITTLE_MORE: Final = "    {name:<20} {type}{empty}{sealed}"


def readme(manifest: Manifest, tables: Mapping[str, Sequence[Column]]) -> str:
    """The text of README.txt."""
    number, digest = manifest.last_entry
    start = _ABOUT.format(
        made_at=manifest.made_at,
        entry_no=number,
        digest=digest,
        tables_number=manifest.tables_number,
    )
    return start + "\n".join(
        _about_table(table, columns, manifest.tables[table][0])
        for table, columns in sorted(tables.items())
    )


def schema_text(ran: Sequence[tuple[int, str, str]]) -> str:
    """The table files that a store has run, one after the other.

    Raises:
        StoreDamaged: if one of them is not shipped with this version.
    """
    shipped = dict(numbered_files("1_tables"))
    if strange := [name for number, name, _ in ran if number not in shipped]:
        message = f"The store has run table files that this version doesn't know: {strange}."
        raise StoreDamaged(message)
    return "\n".join(shipped[number].read_text(encoding="utf-8") for number, *_ in ran)


def _about_table(table: str, columns: Sequence[Column], rows: int) -> str:
    sealed = SEALED.get(table, ())
    outside = "" if sealed else "; stands outside the history"
    lines = [f"{table} ({rows} {'row' if rows == 1 else 'rows'}{outside})"]
    for column in columns:
        lines.append(
            _LITTLE_MORE.format(
                name=column.name,
                type=column.type.lower() + _unit(column.name),
                empty=", may be empty" if column.may_be_empty else "",
                sealed=f", sealed {sealed.index(column.name) + 1}" if column.name in sealed else "",
            )
        )
    return "\n".join(lines) + "\n"


_UNITS: Final = (
    ("_ug_l", "micrograms in a litre"),
    ("_ug", "micrograms"),
    ("_ml", "millilitres"),
    ("_ul", "microlitres"),
    ("_g", "grams"),
    ("_h", "hours"),
    ("_minutes", "minutes"),
    ("_months", "months"),
    ("_percent", "percent"),
    ("_at", "UTC"),
    ("_on", "a day at the brewery"),
    ("level", "times the working threshold"),
)


def _unit(name: str) -> str:
    return next((f", {unit}" for end, unit in _UNITS if name.endswith(end)), "")
