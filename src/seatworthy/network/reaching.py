"""Whether phones can reach this machine: its addresses, and what usually stands in the way."""

import ipaddress
import socket
import tomllib
from dataclasses import dataclass
from importlib.resources import files
from typing import Final

# Kept for documentation, so nobody has it; a datagram socket that is told it sends nothing yet.
_NOWHERE: Final = ("192.0.2.1", 9)


@dataclass(frozen=True)
class Remedy:
    """One usual reason why a phone cannot reach the table's computer.

    Attributes:
        sign: What is seen on the phone.
        cause: Why.
        steps: What to do, a sentence each.
    """

    sign: str
    cause: str
    steps: tuple[str, ...]


def lan_addresses() -> tuple[str, ...]:
    """This machine's IPv4 addresses in its networks, the one used for most things first.

    Nothing is sent to anybody to find out. Empty where there is no network.
    """
    found = [*_towards_others(), *_of_own_name()]
    return tuple(dict.fromkeys(address for address in found if _is_reachable(address)))


def remedies(port: int) -> tuple[Remedy, ...]:
    """What to look at when a phone shows nothing, the commonest first.

    Args:
        port: On which the server listens.
    """
    read = tomllib.loads((files(__package__) / "remedies.toml").read_text("utf-8"))
    return tuple(
        Remedy(
            one["sign"],
            one["cause"].format(port=port),
            tuple(step.format(port=port) for step in one["steps"]),
        )
        for one in read["remedy"]
    )


def _towards_others() -> list[str]:
    try:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            probe.connect(_NOWHERE)
            return [probe.getsockname()[0]]
    except OSError:
        return []


def _of_own_name() -> list[str]:
    try:
        found = socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)
    except OSError:
        return []
    return [str(address[4][0]) for address in found]


def _is_reachable(address: str) -> bool:
    ip = ipaddress.ip_address(address)
    return not (ip.is_loopback or ip.is_unspecified or ip.is_multicast)
