import asyncio

from layer_asked import asked, run, scope_of

from seatworthy.network.pace import OF_ONE_LINK, Allowance, Pace
from seatworthy.network.refusals import Refusals

LITTLE = Allowance(
    at_once=5, per_second=2.0, running=2, running_in_all=3, sockets=1, sockets_in_all=2
)


class _Clock:
    def __init__(self):
        self.now = 100.0

    def __call__(self):
        return self.now


def pace_of(clock, allowance=LITTLE):
    """One layer whose state lasts over many requests."""
    made = []

    def make(inside):
        if not made:
            made.append(Pace(inside, Refusals(clock), allowance, clock))
        made[0]._app = inside
        return made[0]

    return make


def test_a_machine_that_asks_too_often_is_told_when_to_come_back():
    clock = _Clock()
    make = pace_of(clock)
    assert [asked(make, scope_of()).status for _ in range(6)] == [200] * 5 + [429]
    refused = asked(make, scope_of())
    assert refused.headers["retry-after"] == "1"
    assert refused.headers["connection"] == "close"
    assert asked(make, scope_of(client="192.0.2.8")).status == 200
    clock.now += 0.5
    assert [asked(make, scope_of()).status for _ in range(2)] == [200, 429]


def test_an_allowance_fills_up_and_not_beyond_itself():
    clock = _Clock()
    make = pace_of(clock)
    for _ in range(5):
        asked(make, scope_of())
    clock.now += 3_600
    assert [asked(make, scope_of()).status for _ in range(6)] == [200] * 5 + [429]


def test_a_table_of_phones_behind_one_address_never_meets_the_limit():
    """Twelve phones that load eight things at once, and again for each of eight glasses, 20 s apart."""
    clock = _Clock()
    make = pace_of(clock, Allowance())
    for _ in range(8):
        assert {asked(make, scope_of("/b/x/1")).status for _ in range(96)} == {200}
        clock.now += 20


def test_the_servers_own_machine_is_not_locked_out_by_others():
    clock = _Clock()
    make = pace_of(clock)
    for _ in range(20):
        asked(make, scope_of())
    own = [asked(make, scope_of(client="127.0.0.1")).status for _ in range(51)]
    assert own == [200] * 50 + [429]


def test_machines_that_are_gone_are_forgotten():
    async def inside(scope, receive, send):
        return None

    clock = _Clock()
    layer = Pace(inside, Refusals(clock), LITTLE, clock)

    async def many():
        for number in range(5_000):
            await layer(scope_of(client=f"10.0.{number // 250}.{number % 250}"), None, None)

    run(many())
    assert len(layer._left) == 2_000
    assert not layer._running


def held_back(kind):
    """Statuses, or close codes, while earlier requests of two machines still wait."""

    async def story():
        clock, going, sent = _Clock(), asyncio.Event(), []

        async def slow(scope, receive, send):
            await going.wait()

        layer = Pace(slow, Refusals(clock), LITTLE, clock)

        async def ask(client):
            async def send(message):
                sent.append((client, message.get("status", message.get("code"))))

            await layer(scope_of(kind=kind, client=client), None, send)

        waiting = []
        for client in (
            "192.0.2.7",
            "192.0.2.7",
            "192.0.2.7",
            "192.0.2.8",
            "192.0.2.9",
            "127.0.0.1",
        ):
            waiting.append(asyncio.ensure_future(ask(client)))
            await asyncio.sleep(0)
        going.set()
        await asyncio.gather(*waiting)
        return [pair for pair in sent if pair[1] is not None], layer

    return run(story())


def test_too_much_at_once_is_refused_for_one_machine_and_in_all():
    sent, layer = held_back("http")
    assert sent == [("192.0.2.7", 503), ("192.0.2.9", 503)]
    assert not layer._running


def test_live_pages_are_counted_apart():
    sent, _ = held_back("websocket")
    assert sent == [("192.0.2.7", 1008), ("192.0.2.7", 1008), ("192.0.2.9", 1008)]


def test_under_one_link_little_is_sent_from_however_many_machines():
    clock = _Clock()
    make = pace_of(clock, Allowance())

    def sent(number, link="x", method="POST", rest="1"):
        scope = scope_of(f"/b/{link}/{rest}", method=method, client=f"192.0.2.{number % 20}")
        return asked(make, scope).status

    at_once = OF_ONE_LINK.at_once
    assert {sent(number, rest="unfit") for number in range(at_once)} == {200}
    assert [sent(0), sent(1, rest="fit"), sent(2, method="DELETE")] == [429, 429, 429]
    assert (sent(0, "y"), sent(0, method="GET"), sent(0, method="HEAD")) == (200, 200, 200)
    clock.now += 1 / OF_ONE_LINK.per_second
    assert [sent(0), sent(0)] == [200, 429]


def test_what_is_sent_elsewhere_is_counted_by_machine_alone():
    clock = _Clock()
    make = pace_of(clock, Allowance())
    tries = [asked(make, scope_of("/door", method="POST")).status for _ in range(200)]
    assert set(tries) == {200}
