"""A certificate and its key: whether they fit, for which names, and until when."""

import ssl
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from seatworthy.errors import StoreError

_KEY_FAULT = "KEY_VALUES_MISMATCH"


@dataclass(frozen=True)
class Certificate:
    """A certificate that can be used.

    Attributes:
        cert: Its file.
        key: The file of its key.
        names: Names and addresses it is made out for, in lower case; empty if that can't be read.
        ends_at: Its end (UTC); None if that can't be read.
    """

    cert: Path
    key: Path
    names: tuple[str, ...]
    ends_at: datetime | None


def certificate(cert: Path, key: Path) -> Certificate:
    """Read a certificate and its key.

    Raises:
        StoreError: if a file is missing, is no certificate or key, or the two don't belong together.
    """
    for file, what in ((cert, "certificate (--cert)"), (key, "key (--key)")):
        if not file.is_file():
            message = f"There is no file {file} for the {what}. Name one in PEM form."
            raise StoreError(message)
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    try:
        server.load_cert_chain(cert, key, password=_no_password)
    except (ssl.SSLError, OSError, ValueError) as error:
        raise StoreError(_fault(cert, key, error)) from error
    said = _said_by(server, cert)
    names = tuple(name.lower() for _, name in said.get("subjectAltName", ()))
    ends = said.get("notAfter")
    ends_at = datetime.fromtimestamp(ssl.cert_time_to_seconds(ends), UTC) if ends else None
    return Certificate(cert.resolve(), key.resolve(), names, ends_at)


def _no_password() -> str:
    message = "the key is locked with a password"
    raise ValueError(message)


def _fault(cert: Path, key: Path, error: Exception) -> str:
    if isinstance(error, ssl.SSLError) and error.reason == _KEY_FAULT:
        return f"{key} is not the key of {cert}. Name the key that was made with the certificate."
    if isinstance(error, ValueError):
        return f"{key} is locked with a password. Name a key without one."
    reason = getattr(error, "reason", None) or getattr(error, "strerror", None) or error
    return (
        f"{cert} and {key} cannot be used ({reason}). Both must be in PEM form, the key unlocked."
    )


def _said_by(server: ssl.SSLContext, cert: Path) -> dict:  # type: ignore[type-arg]
    """What a client reads in the certificate, found by greeting ourselves in memory.

    Empty if a client would not take it, as one that has ended.
    """
    client = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    client.check_hostname = False
    client.verify_flags |= ssl.VERIFY_X509_PARTIAL_CHAIN
    client.load_verify_locations(cert)
    to_server, to_client = ssl.MemoryBIO(), ssl.MemoryBIO()
    asking = client.wrap_bio(to_client, to_server)
    answering = server.wrap_bio(to_server, to_client, server_side=True)
    for _ in range(10):
        for side in (asking, answering):
            try:
                side.do_handshake()
            except ssl.SSLWantReadError:
                continue
            except ssl.SSLError:
                return {}
    return asking.getpeercert() or {}
