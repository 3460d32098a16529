import pytest
from layer_asked import asked, scope_of

from seatworthy.network.paths import PlainPaths, is_open
from seatworthy.network.refusals import Refusals


def paths(inside):
    return PlainPaths(inside, Refusals())


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "/record",
        "/record/",
        "/b/uJ3_-aZ09/3",
        "/_stcore/stream",
        "/_stcore/upload_file/0c6f-1a/2b-3",
        "/media/5f1b.pdf",
        "/static/js/index.Bq-1_x.js",
        "/component/seatworthy.answer_grid/index.js",
    ],
)
def test_a_plain_address_passes(path):
    assert asked(paths, scope_of(path)).status == 200
    assert asked(paths, scope_of(path, kind="websocket")).reached


@pytest.mark.parametrize(
    "path",
    [
        "//",
        "//b/x",
        "/b//x",
        "/b/../record",
        "/b/./x",
        "/b/x/..",
        "/b/x.",
        "/.b/x",
        "/b\\x",
        "/b/x\n",
        "/b/x y",
        "/b/\x00",
        "/b/%2e%2e/record",
        "/ü",
        "b/x",
        "",
        "/" + "a" * 1_000,
    ],
)
def test_an_odd_address_is_refused(path):
    assert asked(paths, scope_of(path)).status == 400
    assert asked(paths, scope_of(path, kind="websocket")).reached == []


@pytest.mark.parametrize("raw", [b"/b%2Fx", b"/b/%2e%2e/record", b"/b/%78", b"/b/..%2frecord"])
def test_an_address_in_escapes_is_refused_whatever_it_means(raw):
    """The server decodes once before it asks; the framework must not see another address than we."""
    from urllib.parse import unquote

    got = asked(paths, scope_of(raw_path=raw, path=unquote(raw.decode())))
    assert (got.status, got.reached) == (400, [])


@pytest.mark.parametrize(
    "path",
    ["/b/x", "/b/x/3", "/ballot-look/1.css", "/fonts/f.woff2", "/door", "/door/leave", "/reach"],
)
def test_ballots_and_the_door_stand_open(path):
    assert is_open(path)


@pytest.mark.parametrize(
    "path",
    [
        "/", "/b", "/B/x", "/ballot", "/board", "/record", "/media/x", "/_stcore/stream", "/doors",
        "/_stcore/upload_file/a/b", "/door/else", "/reach/x", "/_stcore/health/x", "/_stcore/metrics",
        "/_stcore/host-config", "/component/x", "/static/x.js", "/fonts", "/DOOR",
    ],
)  # fmt: skip
def test_everything_else_does_not(path):
    assert not is_open(path)
