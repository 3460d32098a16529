"""Where the server listens and by which names it may be called, as the command passes it on."""

import os
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final
from urllib.parse import urlsplit

LAN_VARIABLE: Final = "SEATWORTHY_LAN"
HOSTS_VARIABLE: Final = "SEATWORTHY_HOSTS"
ADDRESS_VARIABLE: Final = "SEATWORTHY_ADDRESS"
COMMAND_VARIABLE: Final = "SEATWORTHY_LAN_COMMAND"
OWN_HOSTS: Final = ("127.0.0.1", "localhost")
_DEFAULT_ADDRESS = "http://127.0.0.1:8501"
_DEFAULT_COMMAND: Final = "seatworthy open --lan"


@dataclass(frozen=True)
class NetworkSettings:
    """How the server stands in its network.

    Attributes:
        is_lan: Whether other machines may reach it; then the leader's pages ask for a passphrase.
        hosts: Names and addresses by which it may be called, without port, in lower case.
        address: What links start with, such as ``http://192.0.2.20:8501``.
    """

    is_lan: bool = False
    hosts: tuple[str, ...] = OWN_HOSTS
    address: str = _DEFAULT_ADDRESS

    @property
    def is_encrypted(self) -> bool:
        """Whether pages travel by TLS."""
        return urlsplit(self.address).scheme == "https"

    def as_environment(self) -> dict[str, str]:
        """The same as environment variables."""
        return {
            LAN_VARIABLE: "1" if self.is_lan else "",
            HOSTS_VARIABLE: ",".join(self.hosts),
            ADDRESS_VARIABLE: self.address,
        }


def network_settings(environment: Mapping[str, str] | None = None) -> NetworkSettings:
    """The settings of this process; without any, this machine alone."""
    found = os.environ if environment is None else environment
    hosts = [host.strip().lower() for host in found.get(HOSTS_VARIABLE, "").split(",")]
    return NetworkSettings(
        is_lan=found.get(LAN_VARIABLE) == "1",
        hosts=tuple(host for host in hosts if host) or OWN_HOSTS,
        address=found.get(ADDRESS_VARIABLE) or _DEFAULT_ADDRESS,
    )


def lan_command() -> str:
    """What is typed to serve the same pages to phones: as they were opened, with --lan."""
    return os.environ.get(COMMAND_VARIABLE) or _DEFAULT_COMMAND


def base_address() -> str:
    """What links to this server start with, without a slash at the end."""
    return network_settings().address.rstrip("/")
