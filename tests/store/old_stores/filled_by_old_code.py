"""Fills a store with the code of an earlier version, and writes down what that version saw in it.

Started by `make_old_stores.py` with that version's sources and its tests' helpers on the path, so it
imports each part only if the version has it. What is written down is read by SQL and by the version's own
judgement, so that nothing of today's code has a say in it.
"""

import importlib
import json
import sys
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from hashlib import sha256
from pathlib import Path

import duckdb

from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.desk import open_desk
from seatworthy.steps.judging import judge_day

FIRST = date(2026, 6, 1)
COMPOUNDS = ("diacetyl", "dms", "acetaldehyde", "t2n", "h2s")
# Who misses everything for so many weeks, and who came how often.
MISSED, CAME = {"Rosa": 0, "Tim": 0, "Uma": 7, "Vic": 0}, {"Vic": 2}
WEEKS = 8
READ = """
select person_id, session_on, sample_id, compound, outcome, named_compound from scored_answer
order by all
"""


BLOCK = 16384  # bytes; as small as DuckDB's blocks can be, else empty tables fill most of a file


def has(module):
    """A module of that version, or of its tests; None if it had none."""
    try:
        return importlib.import_module(module)
    except ModuleNotFoundError:
        return None


def import_results(desk, folder):
    """Eight weeks of four people, once in own words whose meaning nobody has said."""
    written = importlib.import_module("written")
    rows = []
    for n, (who, missed) in enumerate(MISSED.items()):
        for week in range(CAME.get(who, WEEKS)):
            said = {c: "nothing" if week < missed else c for c in COMPOUNDS}
            if (who, week) == ("Tim", 3):
                said["h2s"] = "a struck match"
            day = (FIRST + timedelta(weeks=week)).isoformat()
            rows += written.flight(day, who, {**said, "blank": "nothing"}, first=100 + 20 * n)
    bring_in_results(desk, written.results(folder / "rows.csv", rows))


def hold_thursday(desk, folder, thursday):
    """A planned session, answered and closed; a sample and a glass of it set aside."""
    people = thursday.set_up(desk, folder)
    sittings = plan_on(thursday, people, 0, "")["sittings"]
    said = {"dms": "acetaldehyde"}
    session_id = thursday.a_session(desk, people, said, sittings=sittings)
    asides = importlib.import_module("seatworthy.steps.asides")
    facts = thursday.facts_of(desk, session_id)
    sample = next(s for s in facts.samples.values() if s.compound == "t2n")
    asides.set_sample_aside(desk, sample.sample_id, "The capsule was cracked.", people["Bo"])
    glass = next(g for g in facts.glasses if g.person_id == people["Ada"])
    asides.set_glass_aside(desk, glass.serving_id, "Drank coffee before.", people["Bo"])
    return people


def plan_on(thursday, people, days, label):
    """What a further session is wished by: one sitting of three."""
    (one, *_) = thursday.wish(people).sittings
    starts_at = one.starts_at + timedelta(days=days)
    sittings = (replace(one, starts_at=starts_at, people=one.people[:3]),)
    day = thursday.TODAY + timedelta(days=days)
    return {"session_on": day, "sittings": sittings, "label": label, "seed": 8 + days}


def state_keeping(desk):
    """How long something keeps."""
    keeping = importlib.import_module("seatworthy.steps.shelf_keeping")
    keeping.state_keeping(desk, "h2s", "6", desk.today())


def sign(desk):
    """On the day after the last week Rosa signs a probation for Tim, and that Vic has left."""
    signers = importlib.import_module("seatworthy.steps.signers")
    deciding = importlib.import_module("seatworthy.steps.decisions")
    today = desk.today
    day = FIRST + timedelta(weeks=WEEKS)
    desk.today = lambda: day
    ids = {name: i for i, name in judge_day(desk).people.items()}
    signers.appoint_signer(desk, ids["Rosa"], "1234")
    signed = {"family": "pale", "signer": ids["Rosa"], "pin": "1234"}
    deciding.sign_decision(
        desk, person_id=ids["Tim"], state="probation", until_on=day + timedelta(days=120),
        reason="Has sat on our panel for years.", **signed,
    )  # fmt: skip
    deciding.sign_decision(
        desk, person_id=ids["Vic"], state="withdrawn", until_on=None,
        reason="Has left the brewery.", **signed,
    )  # fmt: skip
    desk.today = today


def dose(desk, people, thursday, benched):
    """A bench, a session dosed from it and closed, and sets that one person answered."""
    benched.set_up(desk)
    dosing = importlib.import_module("seatworthy.steps.dosing")
    sets = importlib.import_module("planned_sets")
    planning = importlib.import_module("seatworthy.steps.planning")
    plan = plan_on(thursday, people, 0, "Dosed")
    session_id = planning.record_plan(desk, benched.wish(desk, people, **plan))
    dosing.dose_as_planned(desk, session_id, ["A1", "B1", "C1"], people["Bo"])
    other = dosing.OtherDose(amount=Decimal(100))
    dosing.dose_otherwise(desk, session_id, "B1", other, "a shot short", None)
    dosing.take_back_dose(desk, session_id, "C1", "another letter", people["Bo"])
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    thursday.TODAY, was = thursday.TODAY + timedelta(days=40), thursday.TODAY
    set_session = sets.planned(desk, people)
    thursday.TODAY = was
    for glass in sets.sets_of(desk, set_session, people["Ada"])[:2]:
        sets.pick(desk, set_session, glass, glass.blind_code)


def answer_by_phone(desk, people, thursday, handed_out):
    """A session whose ballots are handed out; one is answered, and the session stays open."""
    plan = plan_on(thursday, people, 0, "By phone")
    session_id = thursday.planned(desk, people, **plan)
    secret = handed_out.secrets_of(desk, session_id)["Bo Larsen"]
    for place, words in ((1, "a struck match"), (2, "nothing"), (3, "dms")):
        choice = "nothing" if words == "nothing" else ""
        said = handed_out.say(desk, secret, place, choice, "" if choice else words)
        assert said.outcome in ("kept", "asks"), said
    accepted = importlib.import_module("seatworthy.steps.accepted_words")
    accepted.accept_words(desk, "a struck match", ["h2s", "ethanethiol"], by=people["Bo"])


def release(desk, people, release_sittings):
    """A release sitting with its talk, closed, and a call that is weighed and kept."""
    release_sittings.closed(desk, people)
    views = importlib.import_module("seatworthy.steps.weigh_views")
    kept = importlib.import_module("seatworthy.steps.weighings_kept")
    tasted = importlib.import_module("seatworthy.steps.tasted")
    ids = {name: i for i, name in judge_day(desk).people.items()}
    words = tuple(
        tasted.Tasted(ids[who], who, how, what)
        for who, how, what in (("Tim", "named", "dms"), ("Rosa", "named", "dms"), ("Uma", "nothing", None))
    )  # fmt: skip
    kept.keep_weighing(desk, views.Question("pale", "Tank 3", words), ids["Rosa"])


def fill(path, folder):
    """Everything that the version could keep."""
    desk = open_desk(path)
    import_results(desk, folder)
    if thursday := has("thursday"):
        people = hold_thursday(desk, folder, thursday)
        if has("seatworthy.steps.shelf_keeping"):
            state_keeping(desk)
        if has("seatworthy.steps.decisions"):
            sign(desk)
        if benched := has("benched"):
            dose(desk, people, thursday, benched)
        if handed_out := has("handed_out"):
            answer_by_phone(desk, people, thursday, handed_out)
        if releases := has("release_sittings"):
            release(desk, people, releases)
    desk.close()


def table_digests(con):
    """Columns, rows and digest of each table, but for the one that an upgrade adds to."""
    tables = con.execute(
        "select table_name, list(column_name order by column_index) from duckdb_columns()"
        " where database_name = current_database() and schema_name = 'main' and table_name in"
        " (select table_name from duckdb_tables() where database_name = current_database())"
        " and table_name <> 'applied_file' group by table_name order by table_name"
    ).fetchall()
    found = {}
    for table, columns in tables:
        fields = ", ".join(f"coalesce({column}::varchar, chr(30))" for column in columns)
        rows, digest = con.execute(
            "select count(*), coalesce(sha256(string_agg(line, chr(10) order by line)), '')"
            f" from (select concat_ws(chr(31), {fields}) as line from {table})"
        ).fetchone()
        found[table] = {"columns": columns, "rows": rows, "digest": digest}
    return found


def standings(desk, as_of, known_at):
    """Verdict by person, compound and family, and by person and family."""
    judged = judge_day(desk, as_of, known_at)
    cells = {" | ".join(cell): str(verdict.standing) for cell, verdict in judged.cells.items()}
    seats = {" | ".join(s): str(seat.verdict.standing) for s, seat in judged.seats.items()}
    return {**cells, **seats}


def seen(path):
    """What the version sees: its tables, chain, decisions, and readings as of several moments."""
    desk = open_desk(path)
    cursor = desk.store.cursor()
    chain = cursor.execute(
        "select entry_no, recorded_at, digest from history order by 1"
    ).fetchall()
    as_of = desk.day_of(chain[-1][1]) if hasattr(desk, "day_of") else chain[-1][1].date()
    moments = sorted({chain[len(chain) * part // 4 - 1][1] for part in (1, 2, 3, 4)})
    tables = table_digests(cursor)
    signed = cursor.execute("select decision_id, facts_digest from decision").fetchall() if (
        "decision" in tables
    ) else []  # fmt: skip
    found = {
        "tables_number": cursor.execute("select max(number) from applied_file").fetchone()[0],
        "tables": tables,
        "chain": {number: digest for number, _, digest in chain},
        "decisions": dict(signed),
        "as_of": as_of.isoformat(),
        "readings": {moment.isoformat(): reading(desk, moment) for moment in moments},
        "standings": standings(desk, as_of, None),
        "standings_midway": {"known_at": moments[-2].isoformat(), **standings(desk, as_of, moments[-2])},
    }  # fmt: skip
    cursor.close()
    desk.close()
    return found


def reading(desk, moment: datetime):
    """Rows and digest of the answers that are evidence, as the record stood then."""
    rows = desk.store.cursor(moment).execute(READ).fetchall()
    text = "\n".join("\x1f".join(str(value) for value in row) for row in rows)
    return [len(rows), sha256(text.encode()).hexdigest()]


def pack(path):
    """Rewrite the store in small blocks without what was overwritten, by DuckDB's own copy."""
    small = path.with_suffix(".small")
    con = duckdb.connect(str(path))
    con.execute(f"attach '{small}' as small (block_size {BLOCK})")
    con.execute(f"copy from database {path.stem} to small")
    con.execute("detach small")
    con.close()
    small.replace(path)


if __name__ == "__main__":
    store, to = Path(sys.argv[1]), Path(sys.argv[2])
    fill(store, to.parent)
    pack(store)
    to.write_text(json.dumps(seen(store), indent=1), encoding="utf-8")
