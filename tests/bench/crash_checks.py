"""Starts a store for each act, and looks after a kill whether all that was acknowledged is there, whole."""

import json
import lzma
import shutil
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

import duckdb
import release_sittings
import seated
import thursday
from handed_out import secrets_of
from written import results

from seatworthy.errors import StoreError
from seatworthy.steps.desk import open_desk
from seatworthy.steps.safekeeping import verify
from seatworthy.store.copying import Manifest, check_copy, manifest_path
from seatworthy.store.schema import applied_files

OLD = Path(__file__).resolve().parents[1] / "store" / "old_stores"
ROWS = 24
PEOPLE = ("Ada", "Bo", "Carmen", "Dilek")
# How many rows an act leaves in a table, or none: the query lists what has another number.
HALF = {
    "import": f"""
        select entry_no from (select entry_no, count(*) as n from answer group by entry_no)
        where n <> {ROWS}
        union all
        select entry_no from answer anti join import_file using (entry_no)""",
    "ballot": """
        select entry_no from phone_answer anti join answer using (serving_id, entry_no)
        union all
        select entry_no from answer anti join phone_answer using (serving_id, entry_no)""",
    "close": """
        select session_id from plan anti join sitting using (session_id)
        union all
        select session_id from sitting left join (select sitting_id, count(*) as n from serving join
        sample using (sample_id) group by sitting_id) using (sitting_id) where coalesce(n, 0) <> 4
        union all
        select session_id from session_end semi join plan using (session_id)
        where session_id in (select session_id from sitting join sample using (sitting_id)
        join serving using (sample_id) anti join answer using (serving_id))
        union all
        select session_id from session_end group by session_id having count(*) <> 1""",
    "sign": """
        select decision_id from decision anti join author using (entry_no)
        union all
        select decision_id from decision left join (select decision_id, count(*) as n
        from decision_compound group by decision_id) using (decision_id)
        where coalesce(n, 0) not in (0, (select max(n) from (select count(*) as n
        from decision_compound group by decision_id)))""",
    "release": """
        select label from batch left join (select batch_id, count(*) as n from batch_crew
        group by batch_id) using (batch_id)
        where coalesce(n, 0) <> 4 and label not in ('Tank 12', 'Tank 13')
        union all
        select sitting_id from talk group by sitting_id having count(*) <> 1
        union all
        select serving_id from talk_answer group by serving_id, words having count(*) <> 1""",
    "backup": "select person_id from person anti join person_name using (person_id)",
    "anonymous": """
        select person_id from made_anonymous where person_id not in
        (select person_id from panellist where not is_panellist)
        union all
        select person_id from made_anonymous join person_name using (person_id)
        where spelling similar to 'N[0-9a-f]{32}'
        union all
        select person_id from person_name anti join made_anonymous using (person_id)
        where spelling like 'Somebody made anonymous%'""",
}
THERE = {
    "file": "select count(*) from import_file where file_name = ?",
    "answer": "select count(*) from answer where words = ?",
    "plan": "select count(*) from plan where session_id = ?",
    "answers": """select count(*) = 4 from answer join serving using (serving_id) join sample
        using (sample_id) join sitting using (sitting_id) where session_id = ?""",
    "closed": "select count(*) from session_end where session_id = ? and how = 'closed'",
    "batch": "select count(*) from batch where label = ?",
    "talk": "select count(*) from talk where sitting_id = ? and is_open",
    "after": "select count(*) from talk_answer where words = ?",
    "decision": "select count(*) from decision where decision_id = ?",
}
# All of a kind that there are; a kill may leave one that nobody was told of.
ALL = {
    "file": "select count(*) from import_file",
    "answer": "select count(*) from answer where words like 'word %'",
    "plan": "select count(*) from plan",
    "closed": "select count(*) from session_end",
    "batch": "select count(*) from batch where label not in ('Tank 12', 'Tank 13')",
    "talk": "select count(*) from talk",
    "after": "select count(*) from talk_answer",
    "decision": "select count(*) from decision",
    "nameless": "select count(*) from made_anonymous",
}


@dataclass
class Start:
    """A store on which an act is killed, some rounds long.

    Attributes:
        act: Which.
        path: The store.
        words: What the child needs besides.
        told: Every line that was ever acknowledged of it.
        kills: How often it was killed.
        old: What an earlier version saw in it, for an upgrade.
    """

    act: str
    path: Path
    words: tuple[str, ...] = ()
    told: list[list[str]] = field(default_factory=list)
    kills: int = 0
    old: Mapping = field(default_factory=dict)


@dataclass
class Found:
    """What a kill left: sentences about facts that are lost or half, and of a chain that is broken."""

    lost: list[str]
    half: list[str]
    broken: list[str]


class Starts:
    """Makes stores to begin with, each once, and copies them.

    Args:
        folder: Where they lie.
    """

    def __init__(self, folder: Path) -> None:
        self._folder, self._made, self._number = folder, {}, 0

    def have(self, act: str, path: Path, words: tuple[str, ...]) -> None:
        """Begin an act with a store that is there already."""
        self._made[act] = (path, words)

    def new(self, act: str, nth: int = 0) -> Start:
        """A store of one's own for an act.

        Args:
            act: Which.
            nth: Which of several old stores, for an upgrade.
        """
        self._number += 1
        folder = self._folder / f"{self._number:03d}-{act}"
        folder.mkdir()
        path = folder / "panel.duckdb"
        if act == "upgrade":
            return _older(path, nth)
        if act not in self._made:
            self._made[act] = self._make(act)
        made, words = self._made[act]
        shutil.copyfile(made, path)
        if act == "backup":
            (folder / "copies").mkdir()
            words = (str(folder / "copies"),)
        return Start(act, path, words)

    def _make(self, act: str) -> tuple[Path, tuple[str, ...]]:
        folder = self._folder / f"start-{act}"
        folder.mkdir()
        path = folder / "panel.duckdb"
        if act == "sign":
            brewery = seated.build(folder)
            return brewery.path, (brewery.ids["Bo"], brewery.ids["Lee"])
        desk = open_desk(path)
        words = _stocked(desk, act, folder)
        desk.close()
        return path, words


def _stocked(desk, act: str, folder: Path) -> tuple[str, ...]:
    if act == "import":
        return (str(_files(folder / "files")),)
    people = thursday.set_up(desk, folder)
    if act == "release":
        session_id = release_sittings.planned(desk, people)
        release_sittings.tell_all(desk, session_id, release_sittings.SAID)
        sitting, secret = release_sittings.early(desk, session_id), secrets_of(desk, session_id)
        return (sitting, secret["Bo Larsen"], *list(people.values())[:4])
    if act != "ballot":
        return ()
    return tuple(secrets_of(desk, thursday.planned(desk, people)).values())


def _files(folder: Path) -> Path:
    folder.mkdir()
    for number in range(200):
        day = f"{2010 + number // 20}-{1 + number % 20 // 5:02d}-{1 + number % 5:02d}"
        rows = [(day, PEOPLE[i % 4], 100 + i, "dms", 3, "dms") for i in range(ROWS)]
        results(folder / f"{number:03d}.csv", rows)
    return folder


def _older(path: Path, nth: int) -> Start:
    stores = sorted(OLD.glob("store_*.duckdb.xz"))
    packed = stores[nth % len(stores)]
    path.write_bytes(lzma.decompress(packed.read_bytes()))
    told = OLD / packed.name.replace(".duckdb.xz", ".json")
    return Start("upgrade", path, old=json.loads(told.read_text(encoding="utf-8")))


def look(start: Start) -> Found:
    """Open the store as a leader would, verify it, and hold it against what was acknowledged."""
    found = Found([], [], [])
    if start.act == "upgrade":
        _look_at_upgrade(start, found)
    try:
        desk = open_desk(start.path)
    except StoreError as error:
        found.broken.append(str(error))
        return found
    try:
        with desk.store.reading() as cursor:
            _look_at_rows(start, cursor, found)
            if start.act == "upgrade" and old_facts(cursor, start.old) != start.old["tables"]:
                found.lost.append("an upgrade changed facts")
        verify(desk)
    except StoreError as error:
        found.broken.append(str(error))
    finally:
        desk.close()
    if start.act in ("backup", "close"):
        _look_at_copies(start, found)
    return found


def change(path: Path, sql: str) -> None:
    """Do something to a store behind its back."""
    con = duckdb.connect(str(path))
    con.execute(sql)
    con.close()


def _look_at_rows(start: Start, cursor: duckdb.DuckDBPyConnection, found: Found) -> None:
    for what, *keys in start.told:
        if what in THERE and cursor.execute(THERE[what], keys[:1]).fetchone()[0] not in (1, True):
            found.lost.append(f"{what} {keys[0]}")
    for what in {what for what, *_ in start.told} & ALL.keys():
        told = sum(line[0] == what for line in start.told)
        (there,) = cursor.execute(ALL[what]).fetchone()
        if not told <= there <= told + start.kills:
            found.half.append(f"{told} of {what} were told of, {there} are there")
    if start.act in HALF:
        found.half += [str(row) for row in cursor.execute(HALF[start.act]).fetchall()]
    if start.act == "anonymous":
        _look_at_names(start, cursor, found)


def _look_at_names(start: Start, cursor: duckdb.DuckDBPyConnection, found: Found) -> None:
    names = {name for (name,) in cursor.execute("select spelling from person_name").fetchall()}
    for what, name, *_ in start.told:
        if what == "nameless" and name in names:
            found.lost.append(f"{name} has a name again")


def _look_at_upgrade(start: Start, found: Found) -> None:
    """Before today's code goes on with it: at the border of a table file, and nothing is gone."""
    con = duckdb.connect(str(start.path))
    try:
        numbers = sorted(applied_files(con))
        if numbers != list(range(1, len(numbers) + 1)):
            found.half.append(f"table files {numbers}")
        if old_facts(con, start.old) != start.old["tables"]:
            found.lost.append("an upgrade that was killed changed facts")
    finally:
        con.close()


def old_facts(con: duckdb.DuckDBPyConnection, told: Mapping) -> dict:
    """Rows and digest of what an upgrade must leave: old columns, entries of old numbers."""
    last = max(int(number) for number in told["chain"])
    found = {}
    for table, was in told["tables"].items():
        fields = ", ".join(f"coalesce({column}::varchar, chr(30))" for column in was["columns"])
        where = f"where entry_no <= {last}" if "entry_no" in was["columns"] else ""
        rows, digest = con.execute(
            "select count(*), coalesce(sha256(string_agg(line, chr(10) order by line)), '')"
            f" from (select concat_ws(chr(31), {fields}) as line from {table} {where})"
        ).fetchone()
        found[table] = {"columns": was["columns"], "rows": rows, "digest": digest}
    return found


def _look_at_copies(start: Start, found: Found) -> None:
    """Every copy that bears its name is good, and those acknowledged are there."""
    folder = Path(start.words[0]) if start.act == "backup" else start.path.parent / "backups"
    copies = sorted(folder.glob("*.duckdb")) if folder.exists() else []
    for copy in copies:
        try:
            check_copy(copy, Manifest.read(manifest_path(copy)), with_history=True)
        except StoreError as error:
            found.half.append(str(error))
    names = {copy.name for copy in copies}
    found.lost += [name for what, name, *_ in start.told if what == "copy" and name not in names]
    closes = sum(what == "copied" for what, *_ in start.told)
    if start.act == "close" and len(copies) < closes:
        found.lost.append(f"{closes} copies after a close were told of, {len(copies)} are there")
