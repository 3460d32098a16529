"""A brewery in which one person's very rare name stands everywhere it can, and then is to be gone."""

import shutil
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import seated
from written import flight, results

from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.desk import Desk, open_desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.people import known_spellings, merge_people
from seatworthy.steps.proposals import put_forward, reply
from seatworthy.steps.signers import appoint_signer, dismiss_signer
from seatworthy.steps.signing import salted, sign

NAME, OTHER = "Zyxwvina Qrstumpf", "Zyxwvina Q"
PARTS = (b"Zyxwvina", b"Qrstumpf", b"zyxwvina", b"qrstumpf")
OWN = "cellar of my aunt"
_MISSED = {"Lee": 0, NAME: 0, "Bo": 9}


@dataclass
class Named:
    """The built store, closed, with person ids by name."""

    path: Path
    ids: dict[str, str]


def build(folder: Path) -> Named:
    """Ten weeks of three people, seats proposed and signed, and texts by and about the rare name."""
    desk = open_desk(folder / "panel.duckdb")
    rows = []
    for n, (who, missed) in enumerate(_MISSED.items()):
        rows += seated.flights(range(seated.WEEKS), who, n, missed)
    last = (seated.FIRST + timedelta(weeks=seated.WEEKS - 1)).isoformat()
    rows += flight(last, NAME, {"vanillin": OWN, "geosmin": "earthy"}, first=900)
    rows += flight(last, OTHER, {"geosmin": "nothing"}, first=950)
    rows += flight(last, "Bo", {"vanillin": "my own words"}, first=960)
    rows += seated.flights(range(2), "Cleo", 3)
    bring_in_results(desk, results(folder / "zyxwvina.csv", rows), new_people=["*"])
    seated.at(desk, seated.TODAY)
    merge_people(desk, OTHER, NAME)
    ids = {name: i for i, name in judge_day(desk).people.items()}
    desk.judged = seated.Kept()  # what is signed changes no verdict
    _sign(desk, ids)
    _write(desk, ids)
    desk.close()
    return Named(desk.store.path, {**ids, OTHER: _spelled(desk.store.path, OTHER)})


def copied(named: Named, folder: Path) -> Desk:
    """A desk of one's own at a copy."""
    path = folder / "panel.duckdb"
    shutil.copyfile(named.path, path)
    desk = open_desk(path)
    seated.at(desk, seated.TODAY)
    return desk


def _spelled(path: Path, name: str) -> str:
    desk = open_desk(path)
    try:
        return known_spellings(desk).ids[name]
    finally:
        desk.close()


def _sign(desk: Desk, ids: dict[str, str]) -> None:
    """Zyxwvina may sign for a while and signs about Bo; she holds a seat for a day and leaves."""
    appoint_signer(desk, ids["Lee"], seated.PIN)
    appoint_signer(desk, ids[NAME], "7777", ids["Lee"], seated.PIN)
    for who, signer, pin, reason in (
        ("Bo", NAME, "7777", "Comes again in autumn."),
        ("Cleo", "Lee", seated.PIN, "As Zyxwvina asked."),
    ):
        decide(desk, ids[who], ids[signer], pin, reason, "withdrawn")
    put = put_forward(desk, ids[NAME], seated.FAMILY, ids["Lee"], state="withdrawn")
    reply(desk, put, "remark", "I would rather wait.", by=ids[NAME])
    for state in ("probation", "withdrawn"):
        decide(desk, ids[NAME], ids["Lee"], seated.PIN, "Moves away this year.", state)
    dismiss_signer(desk, ids[NAME], ids["Lee"], seated.PIN)


def decide(
    desk: Desk, who: str, signer: str, pin: str, reason: str, state: str, **more: object
) -> None:
    """Sign a seat for sixty days, or another state without an end."""
    until = seated.TODAY + timedelta(days=60) if state == "probation" else None
    sign_decision(
        desk, person_id=who, family=seated.FAMILY, state=state, until_on=until, signer=signer,
        pin=pin, reason=reason, **more,
    )  # fmt: skip


def _write(desk: Desk, ids: dict[str, str]) -> None:
    with desk.store.reading() as cursor:
        glass = dict(
            cursor.execute(
                "select person_id, min(serving_id) from serving group by person_id"
            ).fetchall()
        )
        (sitting,) = cursor.execute("select max(sitting_id) from sitting").fetchone()
    mine, bos = glass[ids[NAME]], glass[ids["Bo"]]
    with desk.store.recording("corrected") as act:
        act.add("remark", {"serving_id": mine, **salted("remark", "Tasted of soap.")})
        act.add("correction", {"serving_id": bos, **salted("reason", "I misread it.")})
        sign(act, ids[NAME])
    with desk.store.recording("set aside") as act:
        row = {"serving_id": bos, "is_aside": False}
        act.add("set_aside", {**row, **salted("reason", "smelled of Qrstumpf, said Bo")})
        act.add("remark", {"serving_id": bos, **salted("remark", "A remark of Bo's own.")})
        sign(act, ids["Bo"])
    with desk.store.recording("links") as act:
        for n, who in enumerate((NAME, "Bo")):
            link = {"link_digest": f"{n}" * 64, "sitting_id": sitting, "person_id": ids[who]}
            act.add("ballot_link", {**link, "expires_at": act.recorded_at + timedelta(days=3)})
