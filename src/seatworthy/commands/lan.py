"""--lan: the words of the command, and what is said before phones may come."""

import argparse
import io
import ipaddress
import sys
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final

import segno

from seatworthy.commands.certificate import Certificate, certificate
from seatworthy.commands.command import Said, as_path
from seatworthy.commands.power import sleep_warning
from seatworthy.errors import StoreError
from seatworthy.network.reaching import lan_addresses
from seatworthy.network.settings import OWN_HOSTS, NetworkSettings
from seatworthy.steps.ballot_links import LINK_DAYS

EVERYWHERE: Final = "0.0.0.0"
_OWN_ADDRESSES: Final = ("127.0.0.1", "::1")  # by which a machine calls itself
_SOON_DAYS: Final = 14
_WHO_SEES_WHAT = (
    "With a ballot's link anybody in this network sees that one ballot, and nothing else. "
    "All other pages ask for the passphrase."
)
_HERE_ONLY: Final = (
    "No phone reaches this computer: {address} is what it calls itself. Leave out --address, or name "
    "one that it has in the network. All pages but the ballots ask for the passphrase."
)
_WHITE_ON_BLACK, _AS_BEFORE = "\033[97;40m", "\033[0m"


@dataclass(frozen=True)
class Listening:
    """Where the server listens.

    Attributes:
        address: On which of this machine's addresses.
        host: What other machines, or this one alone, call it.
        others: Further addresses of this machine in its networks.
        certificate: For TLS; None without.
        is_lan: Whether other machines may come.
    """

    address: str = OWN_HOSTS[0]
    host: str = OWN_HOSTS[0]
    others: tuple[str, ...] = ()
    certificate: Certificate | None = None
    is_lan: bool = False

    @property
    def is_reached(self) -> bool:
        """Whether a phone in the same network can come here; not where this machine alone is named."""
        return self.is_lan and self.address not in _OWN_ADDRESSES

    def settings(self, port: int) -> NetworkSettings:
        """What the server is told of it."""
        names = self.certificate.names if self.certificate else ()
        plain = tuple(name for name in names if "*" not in name)
        hosts = (*OWN_HOSTS, self.host, *self.others, *(plain if self.is_lan else ()))
        return NetworkSettings(self.is_lan, tuple(dict.fromkeys(hosts)), self._at(self.host, port))

    def here(self, port: int) -> str:
        """The address that a browser on this machine opens."""
        is_everywhere = self.address == EVERYWHERE and self.certificate is None
        return self._at(OWN_HOSTS[0] if is_everywhere else self.host, port)

    def _at(self, host: str, port: int) -> str:
        scheme = "https" if self.certificate else "http"
        return f"{scheme}://{f'[{host}]' if ':' in host else host}:{port}"


def lan_words(parser: argparse.ArgumentParser) -> None:
    """Add --lan and what goes with it."""
    group = parser.add_argument_group("for phones in the same network")
    group.add_argument(
        "--lan",
        action="store_true",
        help="let other machines in: ballots by their links, the leader's pages by a passphrase",
    )
    group.add_argument(
        "--address", metavar="IP", help="listen on this address of this machine only"
    )
    group.add_argument(
        "--new-passphrase",
        action="store_true",
        help="set another passphrase for the leader's pages",
    )
    group.add_argument(
        "--cert", type=as_path, metavar="FILE", help="a certificate (PEM), for https"
    )
    group.add_argument("--key", type=as_path, metavar="FILE", help="the certificate's key (PEM)")


def listening(said: Said) -> Listening:
    """Where to listen.

    Raises:
        StoreError: if the words don't go together, or something of what they name won't do.
    """
    if not said.lan:
        named = [
            word for word in ("address", "new_passphrase", "cert", "key") if getattr(said, word)
        ]
        if named:
            message = f"--{named[0].replace('_', '-')} goes with --lan. Add --lan, or leave it out."
            raise StoreError(message)
        return Listening()
    if bool(said.cert) != bool(said.key):
        message = "--cert and --key go together: a certificate and its own key. Name both."
        raise StoreError(message)
    found = certificate(said.cert, said.key) if said.cert else None
    hosts = (_own_address(said.address),) if said.address else lan_addresses()
    if not hosts:
        message = (
            "This machine is in no network that phones could reach. Join one, turn on its hotspot, "
            "or name its address with --address."
        )
        raise StoreError(message)
    return Listening(
        said.address or EVERYWHERE, _called(hosts[0], found), hosts, found, is_lan=True
    )


def _own_address(text: str) -> str:
    try:
        return str(ipaddress.ip_address(text))
    except ValueError:
        message = f"“{text}” is not an address like 192.168.1.20. Name one of this machine's."
        raise StoreError(message) from None


def _called(address: str, found: Certificate | None) -> str:
    """The address, unless a certificate is made out for a name instead."""
    names = found.names if found else ()
    named = [name for name in names if "*" not in name and name not in OWN_HOSTS]
    return named[0] if named and address not in names else address


def lan_lines(to: Listening, port: int) -> list[str]:
    """What the leader reads before anybody comes."""
    address = to.settings(port).address
    others = [other for other in to.others if other != to.host]
    if not to.is_reached:
        return [_HERE_ONLY.format(address=to.address)]
    lines = [
        f"Phones in the same network reach this computer at {address}/reach",
        _WHO_SEES_WHAT,
        _encryption(to.certificate),
        sleep_warning(),
    ]
    if others:
        lines.append(
            f"Other addresses of this computer: {', '.join(others)} (choose with --address)."
        )
    return lines


def _encryption(found: Certificate | None) -> str:
    if found is None:
        return (
            f"Plain http: others in this network could read along. A link ends {LINK_DAYS} days after "
            "its session; with strangers in the network use --cert and --key."
        )
    if found.ends_at is None:
        return "Encrypted. The certificate's end could not be read; phones may refuse it."
    days = (found.ends_at - datetime.now(UTC)).days
    ends = f"The certificate ends on {found.ends_at:%d %B %Y}"
    if days < _SOON_DAYS:
        return f"Encrypted. {ends}, SOON: have a new one made before phones refuse it."
    return f"Encrypted. {ends}."


def show_code(address: str) -> None:
    """Draw the address as a QR code where a person looks at the terminal."""
    if not sys.stdout.isatty():
        return
    drawn = io.StringIO()
    segno.make(address, error="m").terminal(drawn, compact=True)
    for line in drawn.getvalue().splitlines():
        print(f"{_WHITE_ON_BLACK}{line}{_AS_BEFORE}")
