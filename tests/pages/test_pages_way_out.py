"""The way out of the leader's pages, where they ask for a passphrase at all."""

from seatworthy.network.settings import LAN_VARIABLE
from seatworthy.pages.frame import footer


def test_on_a_network_every_page_has_the_way_out(monkeypatch):
    monkeypatch.setenv(LAN_VARIABLE, "1")
    assert 'href="/door?to=/"' in footer()


def test_on_this_machine_alone_nobody_is_signed_in(monkeypatch):
    monkeypatch.delenv(LAN_VARIABLE, raising=False)
    assert "/door" not in footer()
