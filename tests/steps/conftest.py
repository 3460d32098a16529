"""What tests of the steps ask for: a stocked brewery, a plan for its Thursday, a panel to sign for.

Each is made once and copied for each test, since making one takes longer than most tests.
"""

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import benched
import pytest
import release_sittings
import seated
import thursday

from seatworthy.steps.desk import Desk, open_desk
from seatworthy.steps.planning import record_plan

# What a test may ask for, and the fixture whose store has it already; the first one counts. A module
# may name further ones of its own, in the same way; they go first.
STARTS = {
    "dosed_session": "with_dosed_session",
    "bench": "with_bench",
    "session_id": "with_session",
    "closed_release": "with_closed_release",
    "tasted": "with_tasted",
    "people": "with_people",
}


@dataclass(frozen=True)
class Made:
    """A closed store, and what a test wants to know of it."""

    path: Path
    found: object


@pytest.fixture(scope="session")
def with_people(tmp_path_factory: pytest.TempPathFactory, stocked: Path) -> Made:
    """A stocked brewery; found are its nine people, person id by first name."""
    folder = tmp_path_factory.mktemp("people")
    return _made(stocked, folder, lambda desk: thursday.set_up(desk, folder))


@pytest.fixture(scope="session")
def with_session(tmp_path_factory: pytest.TempPathFactory, with_people: Made) -> Made:
    """The same with a plan; found is the session's id."""
    folder = tmp_path_factory.mktemp("session")
    return _made(with_people.path, folder, lambda desk: thursday.planned(desk, with_people.found))


@pytest.fixture(scope="session")
def with_bench(tmp_path_factory: pytest.TempPathFactory, with_people: Made) -> Made:
    """The same with a bench and no plan; found are the stocks, their ids by compound."""
    return _made(with_people.path, tmp_path_factory.mktemp("bench"), benched.set_up)


@pytest.fixture(scope="session")
def with_dosed_session(
    tmp_path_factory: pytest.TempPathFactory, with_people: Made, with_bench: Made
) -> Made:
    """The same with a plan dosed from it in bottles, nothing dosed yet; found is its id."""
    return _made(
        with_bench.path,
        tmp_path_factory.mktemp("dosed"),
        lambda desk: record_plan(desk, benched.wish(desk, with_people.found)),
    )


@pytest.fixture(scope="session")
def with_tasted(tmp_path_factory: pytest.TempPathFactory, with_people: Made) -> Made:
    """The same with a release sitting at which everybody has answered; found is the session's id."""
    folder = tmp_path_factory.mktemp("tasted")
    return _made(
        with_people.path, folder, lambda desk: release_sittings.tasted(desk, with_people.found)
    )


@pytest.fixture(scope="session")
def with_closed_release(tmp_path_factory: pytest.TempPathFactory, with_people: Made) -> Made:
    """The same with one that is closed; found is the session's id."""
    folder = tmp_path_factory.mktemp("closed")
    return _made(
        with_people.path, folder, lambda desk: release_sittings.closed(desk, with_people.found)
    )


@pytest.fixture(scope="session")
def made_from(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Made]:
    """Make a further store, for a module's own starts, from one that is made: ``set_up(desk)``."""
    return lambda start, set_up: _made(start.path, tmp_path_factory.mktemp("further"), set_up)


@pytest.fixture
def desk(request: pytest.FixtureRequest, tmp_path: Path, stocked: Path) -> Iterator[Desk]:
    """A desk of one's own, at a brewery that has what the test asks for."""
    start = _start(request)
    path = tmp_path / "panel.duckdb"
    shutil.copyfile(request.getfixturevalue(start).path if start else stocked, path)
    opened = open_desk(path)
    if start:
        opened.today = lambda: thursday.TODAY  # type: ignore[method-assign]
    yield opened
    opened.close()


@pytest.fixture
def people(desk: Desk, with_people: Made) -> dict[str, str]:
    """Person id by first name, of nine people at a brewery whose shelf is stocked."""
    return dict(with_people.found)


@pytest.fixture
def bench(desk: Desk, people: dict[str, str], with_bench: Made) -> dict[str, str]:
    """Stock id by compound, of a bench at the same brewery."""
    return dict(with_bench.found)


@pytest.fixture
def dosed_session(
    desk: Desk, people: dict[str, str], bench: dict[str, str], with_dosed_session: Made
) -> str:
    """A session whose doses are worked out in bottles; nothing is dosed yet."""
    return with_dosed_session.found


@pytest.fixture
def session_id(
    request: pytest.FixtureRequest, desk: Desk, people: dict[str, str], with_session: Made
) -> str:
    """A planned session of two sittings and 72 glasses."""
    is_there = _start(request) == "with_session"
    return with_session.found if is_there else thursday.planned(desk, people)


@pytest.fixture
def tasted(desk: Desk, with_tasted: Made) -> str:
    """A release sitting at which everybody has answered, and two called DMS in Tank 12."""
    return with_tasted.found


@pytest.fixture
def closed_release(desk: Desk, with_closed_release: Made) -> str:
    """A release sitting that is closed: five tasters, each with two check glasses."""
    return with_closed_release.found


@pytest.fixture(scope="session")
def brewery(tmp_path_factory: pytest.TempPathFactory) -> seated.Brewery:
    """A brewery with answers enough to sign on, closed; see `seated.opened` for a copy."""
    return seated.build(tmp_path_factory.mktemp("brewery"))


def _made(start: Path, folder: Path, set_up: Callable[[Desk], object]) -> Made:
    """A copy of a store with more in it."""
    path = folder / "panel.duckdb"
    shutil.copyfile(start, path)
    desk = open_desk(path)
    desk.today = lambda: thursday.TODAY  # type: ignore[method-assign]
    found = set_up(desk)
    desk.close()
    return Made(path, found)


def _start(request: pytest.FixtureRequest) -> str | None:
    """The fixture whose store has what the test asks for, unless its module makes its own."""
    own = getattr(request.module, "STARTS", {})
    used = (
        name for name in (*own, *STARTS)
        if name in request.fixturenames and (name in own or not hasattr(request.module, name))
    )  # fmt: skip
    return {**STARTS, **own}.get(next(used, ""))
