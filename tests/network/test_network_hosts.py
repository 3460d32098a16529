import pytest
from layer_asked import asked, scope_of

from seatworthy.network.hosts import KnownHosts
from seatworthy.network.refusals import Refusals
from seatworthy.network.settings import NetworkSettings, base_address, network_settings


def hosts(inside):
    return KnownHosts(inside, ["127.0.0.1", "localhost", "192.0.2.20", "fe80::1"], Refusals())


@pytest.mark.parametrize("kind", ["http", "websocket"])
@pytest.mark.parametrize(
    ("named", "passed"),
    [
        (["127.0.0.1:8501"], True),
        (["LocalHost:8501"], True),
        (["192.0.2.20"], True),
        (["[fe80::1]:8501"], True),
        ([], False),
        ([""], False),
        (["evil.example:8501"], False),
        (["127.0.0.1.evil.example"], False),
        (["127.0.0.1", "evil.example"], False),
        (["127.0.0.1", "127.0.0.1"], False),
        (["evil.example@127.0.0.1"], False),
        (["127.0.0.1:8501:1"], False),
        (["127.0.0.1/x"], False),
        (["localhost."], False),
        (["localhost\t"], False),
    ],
)
def test_only_by_one_of_its_names_is_the_server_called(kind, named, passed):
    headers = [("host", name) for name in named]
    got = asked(hosts, scope_of(kind=kind, headers=headers))
    assert bool(got.reached) is passed
    if not passed and kind == "http":
        assert got.status == 400


def test_settings_survive_the_way_through_the_environment():
    given = NetworkSettings(True, ("127.0.0.1", "panel.example"), "https://panel.example:8501")
    assert network_settings(given.as_environment()) == given
    assert given.is_encrypted


def test_without_settings_the_server_is_this_machines_alone(monkeypatch):
    found = network_settings({})
    assert not found.is_lan
    assert found.hosts == ("127.0.0.1", "localhost")
    monkeypatch.setenv("SEATWORTHY_ADDRESS", "http://192.0.2.20:8501/")
    assert base_address() == "http://192.0.2.20:8501"


@pytest.mark.parametrize("said", ["", "0", "true", "yes"])
def test_only_one_word_opens_the_server_to_a_network(said):
    assert network_settings({"SEATWORTHY_LAN": said}).is_lan is False
