"""Sixty phones answer ten glasses each within a minute, while the leader's board is drawn anew.

    python tests/bench/bench_ballots.py [--seconds 60]

A real server over the sample brewery; every phone fetches its page and sends its form. The reference is
an empty route of the same server (its health), asked all the while: the ratio of the 95th percentiles
must stay under 20. Beside it one reader redraws the board every two seconds, and another asks for the
board of a day that nobody asked for yet, which judges everybody anew.
"""

import argparse
import asyncio
import http.client
import os
import socket
import subprocess
import sys
import tempfile
import threading
import time
import urllib.request
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "steps"))
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from table_of_sixty import GLASSES, PEOPLE, set_up
from websockets.asyncio.client import connect

from seatworthy.steps.desk import open_desk

MOST = 20.0
_Times = list[float]


def main() -> int:
    """Run it, print the figures, and fail where an answer is lost or the ratio is too high."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--seconds", type=float, default=60.0)
    seconds = parser.parse_args().seconds
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "panel.duckdb"
        secrets = set_up(path)
        port, server = _serve(path)
        try:
            _warm(port, secrets)
            times = _run(port, secrets, seconds)
        finally:
            server.terminate()
            server.wait(20)
        desk = open_desk(path)
        cursor = desk.store.cursor()
        stored = cursor.execute("select count(*), count(distinct serving_id) from phone_answer")
        answers, glasses = stored.fetchone() or (0, 0)
        desk.close()
    reference = _p95(times["empty route"])
    for what, took in times.items():
        ratio = _p95(took) / reference
        print(
            f"{what:28} {len(took):6d} x  median {1000 * _middle(took):7.1f} ms  "
            f"p95 {1000 * _p95(took):7.1f} ms {ratio:8.1f} x reference"
        )
    wanted = PEOPLE * GLASSES
    print(f"{answers} answers to {glasses} glasses stored, {wanted} sent")
    ratio = max(_p95(times[what]) for what in ("ballot fetched", "ballot sent")) / reference
    return int(answers != wanted or glasses != wanted or ratio > MOST)


def _serve(path: Path) -> tuple[int, subprocess.Popen[bytes]]:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "seatworthy.cli", "open", "--no-browser"]
    server = subprocess.Popen(
        [*command, "--port", str(port), "--store", str(path)],
        stdout=subprocess.DEVNULL, env={**os.environ},
    )  # fmt: skip
    for _ in range(300):
        try:
            urllib.request.urlopen(f"http://127.0.0.1:{port}/_stcore/health", timeout=1).close()
        except OSError:
            time.sleep(0.1)
        else:
            return port, server
    server.kill()
    message = "the server did not start"
    raise RuntimeError(message)


def _warm(port: int, secrets: list[str]) -> None:
    """One look at the board and at one ballot, so that nothing is measured that happens once."""
    asyncio.run(_redraw(port, "", time.monotonic() + 0.1, 0.0, []))
    _fetch(port, f"/b/{secrets[0]}/1")


def _run(port: int, secrets: list[str], seconds: float) -> dict[str, _Times]:
    names = ("empty route", "ballot fetched", "ballot sent", "leader's board", "a day judged anew")
    times: dict[str, _Times] = {name: [] for name in names}
    until = time.monotonic() + seconds
    jobs: list[Callable[[], None]] = [
        lambda secret=secret, n=n: _phone(port, secret, n, seconds, times)
        for n, secret in enumerate(secrets)
    ]
    jobs += [
        lambda: _probe(port, until, times["empty route"]),
        lambda: asyncio.run(_redraw(port, "", until, 2.0, times["leader's board"])),
        lambda: asyncio.run(_judge_days(port, until, times["a day judged anew"])),
    ]
    threads = [threading.Thread(target=job) for job in jobs]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return times


def _phone(port: int, secret: str, number: int, seconds: float, times: dict[str, _Times]) -> None:
    """Ten glasses in the time there is, each phone a little later than the one before."""
    pause = seconds / (GLASSES + 1)
    start = time.monotonic() + pause * number / PEOPLE
    for place in range(1, GLASSES + 1):
        time.sleep(max(0.0, start + pause * (place - 1) - time.monotonic()))
        times["ballot fetched"].append(_fetch(port, f"/b/{secret}/{place}"))
        times["ballot sent"].append(_fetch(port, f"/b/{secret}/{place}", b"what=nothing&seen=0"))


def _fetch(port: int, path: str, form: bytes | None = None) -> float:
    """Seconds until the whole answer is there; a form that is not stored raises."""
    started = time.perf_counter()
    con = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    if form is None:
        con.request("GET", path)
    else:
        headers = {"Content-Type": "application/x-www-form-urlencoded"}
        con.request("POST", path, form, headers)
    answer = con.getresponse()
    answer.read()
    con.close()
    if answer.status != (200 if form is None else 303):
        message = f"{answer.status} for a ballot"
        raise RuntimeError(message)
    return time.perf_counter() - started


def _probe(port: int, until: float, times: _Times) -> None:
    while time.monotonic() < until:
        times.append(_fetch(port, "/_stcore/health"))
        time.sleep(0.05)


async def _redraw(port: int, query: str, until: float, pause: float, times: _Times) -> None:
    """Draw the board again and again in one reader's connection."""
    async with connect(
        f"ws://127.0.0.1:{port}/_stcore/stream", subprotocols=["streamlit"], max_size=None,
        origin=f"http://127.0.0.1:{port}",
    ) as socket_:  # fmt: skip
        while time.monotonic() < until:
            times.append(await _rerun(socket_, query))
            await asyncio.sleep(pause)


async def _judge_days(port: int, until: float, times: _Times) -> None:
    day = date.today()
    while time.monotonic() < until:
        day -= timedelta(days=3)
        await _redraw(port, f"on={day}", time.monotonic() + 0.01, 1.0, times)


async def _rerun(socket_: object, query: str) -> float:
    started = time.perf_counter()
    asked = BackMsg()
    asked.rerun_script.query_string = query
    await socket_.send(asked.SerializeToString())
    while True:
        told = ForwardMsg()
        told.ParseFromString(await socket_.recv())
        if told.WhichOneof("type") == "script_finished":
            return time.perf_counter() - started


def _p95(times: _Times) -> float:
    return sorted(times)[int(0.95 * (len(times) - 1))]


def _middle(times: _Times) -> float:
    return sorted(times)[len(times) // 2]


if __name__ == "__main__":
    sys.exit(main())
