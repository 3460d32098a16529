import pytest
from layer_asked import asked, scope_of

from seatworthy.network.bodies import FORM_BYTES, UPLOAD_BYTES, Bodies
from seatworthy.network.refusals import Refusals


def bodies(inside):
    return Bodies(inside, Refusals(), arrives_s=0.2, upload_arrives_s=0.4)


def piece(body, *, more):
    return {"type": "http.request", "body": body, "more_body": more}


def posted(path="/b/x/1", *, brings, length=None, method="POST", **headers):
    named = {} if length is None else {"content-length": str(length)}
    return asked(bodies, scope_of(path, method=method, headers=named | headers), brings=brings)


def test_a_form_comes_through_whole():
    got = posted(brings=[piece(b"what=", more=True), piece(b"nothing", more=False)], length=12)
    assert (got.status, got.brought) == (200, b"what=nothing")


@pytest.mark.parametrize("size", [FORM_BYTES, FORM_BYTES + 1])
def test_a_form_has_its_greatest_length(size):
    for length in (size, None):
        got = posted(brings=[piece(b"a" * size, more=False)], length=length)
        assert got.status == (200 if size == FORM_BYTES else 413)
        assert bool(got.reached) is (size == FORM_BYTES)


@pytest.mark.parametrize("length", ["5242880", "9" * 5_000, "-1", "1e3", "²"])
def test_what_announces_too_much_is_not_read_at_all(length):
    got = posted(brings=[None], length=length)
    assert (got.status, got.reached) == (413, [])
    assert got.headers["connection"] == "close"


def test_a_body_without_an_end_is_cut_off_at_the_limit():
    endless = [piece(b"a" * 1_000, more=True) for _ in range(100)]
    got = posted(brings=endless, **{"transfer-encoding": "chunked"})
    assert (got.status, got.reached) == (413, [])
    assert len(endless) == 100


def test_a_form_that_does_not_arrive_is_cut_off():
    got = posted(brings=[piece(b"what=", more=True), None], length=12)
    assert (got.status, got.reached) == (408, [])
    assert got.headers["connection"] == "close"


def test_a_form_that_trickles_is_cut_off_too():
    """Each piece in time, the whole never."""
    import asyncio

    from layer_asked import run

    async def story():
        sent, came = [], []

        async def inside(scope, receive, send):
            sent.append({"status": "reached"})

        async def receive():
            await asyncio.sleep(0.05)
            came.append(1)
            return piece(b"a", more=len(came) < 40)

        async def send(message):
            sent.append(message)

        await bodies(inside)(scope_of("/door", method="POST"), receive, send)
        return sent

    assert run(story())[0]["status"] == 408


def test_a_file_passes_piece_by_piece_and_is_cut_off_where_it_stops():
    path = "/_stcore/upload_file/a/b"
    many = [piece(b"a" * 100_000, more=True), piece(b"b", more=False)]
    got = posted(path, method="PUT", brings=many, length=100_001)
    assert (got.status, len(got.brought)) == (200, 100_001)
    got = posted(path, method="PUT", brings=[piece(b"a", more=True), None], length=100)
    assert (got.status, got.brought) == (408, b"a")
    assert posted(path, method="PUT", brings=[None], length=UPLOAD_BYTES + 1).status == 413


def test_reading_without_a_body_waits_for_none():
    assert asked(bodies, scope_of("/b/x"), brings=[None]).status == 200


def test_reading_with_a_body_is_held_to_the_same():
    got = asked(bodies, scope_of("/b/x", headers={"content-length": "9"}), brings=[None])
    assert got.status == 408


def test_whoever_hangs_up_is_not_answered_for():
    got = posted(brings=[{"type": "http.disconnect"}], length=12)
    assert (got.status, got.brought) == (200, b"")  # the inside learns of it, as from the server


def test_the_upload_limit_lies_above_the_frames_own():
    """So that the frame says why a file is too large; its own reading allows a megabyte of wrapping."""
    from test_network_headers import config

    limit = config()["server"]["maxUploadSize"]
    assert (limit + 1) * 2**20 == UPLOAD_BYTES
