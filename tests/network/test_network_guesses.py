import asyncio
import logging

import pytest
from layer_asked import answer_of, run, scope_of

from seatworthy.network.guesses import (
    LONGEST_WAIT_S,
    MISSES_IN_ALL,
    MISSES_OF_ONE,
    WAITING_IN_ALL,
    WAITING_OF_ONE,
    GuessGuard,
)
from seatworthy.network.refusals import Refusals


class _Table:
    """A guard with a clock of its own; a link holds if its secret is "right"."""

    def __init__(self, *, is_asleep=False):
        self.now, self.slept, self.is_asleep = 1_000.0, [], is_asleep
        self.woken = None
        self.guard = GuessGuard(
            self.inside, Refusals(lambda: self.now), lambda: self.now, self.sleep
        )

    async def sleep(self, seconds):
        self.slept.append(seconds)
        if self.is_asleep:
            await self.woken.wait()

    async def inside(self, scope, receive, send):
        status = 200 if scope["path"].startswith("/b/right") else 404
        await send({"type": "http.response.start", "status": status, "headers": []})
        await send({"type": "http.response.body", "body": b"inside"})

    async def ask(self, path, client="192.0.2.7"):
        return (await answer_of(lambda _: self.guard, scope_of(path, client=client))).status


def test_a_few_wrong_links_are_answered_at_once():
    table = _Table()

    async def story():
        return [await table.ask("/b/wrong") for _ in range(MISSES_OF_ONE)]

    assert run(story()) == [404] * MISSES_OF_ONE
    assert table.slept == []


def test_many_are_answered_ever_more_slowly_and_a_right_link_never():
    table = _Table()

    async def story():
        for _ in range(MISSES_OF_ONE + 60):
            await table.ask("/b/wrong")
        before = len(table.slept)
        assert await table.ask("/b/right") == 200
        assert await table.ask("/b/right/3") == 200
        assert len(table.slept) == before

    run(story())
    assert len(table.slept) == 60
    assert table.slept == sorted(table.slept)
    assert 0.1 < table.slept[0] < 0.12
    assert table.slept[-1] == LONGEST_WAIT_S


def test_after_a_quiet_minute_all_is_forgotten():
    table = _Table()

    async def story():
        for _ in range(MISSES_OF_ONE + 5):
            await table.ask("/b/wrong")
        table.now += 61
        table.slept.clear()
        await table.ask("/b/wrong")

    run(story())
    assert table.slept == []


def test_guesses_from_many_machines_are_slowed_down_together():
    table = _Table()

    async def story():
        for number in range(MISSES_IN_ALL + 50):
            await table.ask("/b/wrong", client=f"10.0.0.{number % 200}")

    run(story())
    assert len(table.slept) == 50


def test_ten_thousand_guesses_take_long_while_a_right_link_waits_for_nothing():
    table = _Table()

    async def story():
        for number in range(10_000):
            await table.ask("/b/wrong")
            if number % 1_000 == 0:
                slept = len(table.slept)
                assert await table.ask("/b/right", client="192.0.2.8") == 200
                assert len(table.slept) == slept

    run(story())
    assert sum(table.slept) > 8 * 3_600
    assert len(table.guard._all) <= MISSES_IN_ALL * 4


@pytest.mark.parametrize(("machines", "waiting"), [(1, WAITING_OF_ONE), (90, WAITING_IN_ALL)])
def test_only_so_many_wait_and_the_rest_is_sent_away(machines, waiting):
    table = _Table(is_asleep=True)

    async def story():
        table.woken = asyncio.Event()
        for _ in range(MISSES_IN_ALL + 10):
            table.guard._counted("10.1.1.1")
        for number in range(machines):
            for _ in range(MISSES_OF_ONE):
                table.guard._counted(f"10.0.0.{number}")
        asking = [
            asyncio.ensure_future(table.ask("/b/wrong", client=f"10.0.0.{number % machines}"))
            for number in range(100)
        ]
        await asyncio.sleep(0.05)
        assert await table.ask("/b/right", client="10.0.0.0") == 200
        table.woken.set()
        return await asyncio.gather(*asking)

    statuses = run(story())
    assert statuses.count(404) == waiting
    assert statuses.count(429) == 100 - waiting
    assert not table.guard._waiting


def test_other_addresses_are_none_of_the_guards_business():
    table = _Table()

    async def story():
        for _ in range(100):
            await table.ask("/media/gone")

    run(story())
    assert table.slept == []


def test_no_secret_is_ever_logged(caplog):
    table = _Table()

    async def story():
        for _ in range(100):
            await table.ask("/b/s3cr3t-s3cr3t-s3cr3t/4?find=s3cr3t")

    with caplog.at_level(logging.DEBUG):
        run(story())
    told = [record.getMessage() for record in caplog.records if record.name == "seatworthy.network"]
    assert told == ["Refused, links that open nothing: from 192.0.2.7 at /b"]
    assert "s3cr3t" not in caplog.text


def test_a_refusal_is_told_once_a_minute_for_each_kind_and_machine(caplog):
    now = [0.0]
    refusals = Refusals(lambda: now[0])
    with caplog.at_level(logging.WARNING, "seatworthy.network"):
        for kind, client, later in [
            ("odd address", "192.0.2.7", 0), ("odd address", "192.0.2.7", 59),
            ("odd address", "192.0.2.8", 0), ("strange host", "192.0.2.7", 0),
            ("odd address", "192.0.2.7", 2),
        ]:  # fmt: skip
            now[0] += later
            refusals.tell(kind, scope_of("/x\nforged line\x1b[31m/and/more", client=client))
    assert len(caplog.records) == 4
    assert all("\n" not in r.getMessage() and "\x1b" not in r.getMessage() for r in caplog.records)


def test_the_memory_of_refusals_is_bounded():
    refusals = Refusals(lambda: 0.0)
    logging.getLogger("seatworthy.network").disabled = True
    try:
        for number in range(3_000):
            refusals.tell("odd address", scope_of(client=f"10.0.{number // 250}.{number % 250}"))
    finally:
        logging.getLogger("seatworthy.network").disabled = False
    assert len(refusals._told) == 1_000
