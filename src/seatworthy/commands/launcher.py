"""Starts the page server in this process, for this machine alone unless it is told otherwise."""

import errno
import os
import socket
import ssl
import sys
import threading
import time
import urllib.request
import webbrowser
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from seatworthy.commands.lan import Listening, lan_lines, show_code
from seatworthy.errors import StoreError
from seatworthy.network.settings import NetworkSettings
from seatworthy.shipped import shipped
from seatworthy.steps.desk import STORE_VARIABLE

try:
    import resource
except ImportError:  # Windows has no such limit
    resource = None

FIRST_PORT = 8501
PORTS_TRIED = 50
FILES_OPEN: Final = 2_048  # more than `network.patience` lets in


def open_pages(store: Path, port: int, *, browser: bool, to: Listening) -> int:
    """Serve the pages of a store until stopped.

    Args:
        store: The store; this process holds it.
        port: A free port; see `free_port`.
        browser: Whether to open a browser once the pages answer.
        to: Where to listen.
    """
    from click.exceptions import Abort
    from streamlit.web import cli as streamlit_cli

    settings, here = to.settings(port), to.here(port)
    os.environ[STORE_VARIABLE] = str(store.resolve())
    os.environ.update(settings.as_environment())
    os.environ["FORWARDED_ALLOW_IPS"] = ""  # nobody stands before us who could speak for others
    _make_room()
    for line in lan_lines(to, port) if to.is_lan else []:
        print(line)
    if to.is_reached:
        show_code(f"{settings.address}/reach")
    print(f"Open {here} in a browser on this machine. Stop with Ctrl+C.", flush=True)
    if browser:
        threading.Thread(target=_open_when_ready, args=(here,), daemon=True).start()
    sys.argv = ["streamlit", "run", str(shipped("app.py")), *_options(to, port, settings)]
    try:
        streamlit_cli.main(standalone_mode=False)
    except SystemExit as end:
        return int(end.code or 0)
    except Abort:
        print("Stopped.")
    return 0


def _options(to: Listening, port: int, settings: NetworkSettings) -> Sequence[str]:
    options = {
        "server.address": [to.address],
        "server.port": [str(port)],
        "server.headless": ["true"],
        "server.allowedHosts": list(settings.hosts),
        "server.baseUrlPath": [""],  # what `network.paths` holds of addresses stays true
        "server.enableCORS": ["true"],
        "server.enableXsrfProtection": ["true"],
        "browser.serverAddress": [to.host],
        "logger.hideWelcomeMessage": ["true"],
    }
    if to.certificate:
        options["server.sslCertFile"] = [str(to.certificate.cert)]
        options["server.sslKeyFile"] = [str(to.certificate.key)]
    return [word for name, values in options.items() for v in values for word in (f"--{name}", v)]


def _make_room() -> None:
    """Bear many connections, and close those over which no whole request comes."""
    from uvicorn.config import HTTP_PROTOCOLS

    HTTP_PROTOCOLS["auto"] = "seatworthy.network.patience:PatientProtocol"
    if resource is not None:
        soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
        room = FILES_OPEN if hard == resource.RLIM_INFINITY else min(FILES_OPEN, hard)
        if resource.RLIM_INFINITY != soft < room:
            resource.setrlimit(resource.RLIMIT_NOFILE, (room, hard))


def free_port(address: str, wanted: int | None) -> int:
    """A port that nobody listens on.

    Args:
        address: Of this machine, on which to listen.
        wanted: The port that is meant; None for the first free one.

    Raises:
        StoreError: if it is taken, or the address is none of this machine's.
    """
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    for port in [wanted] if wanted else range(FIRST_PORT, FIRST_PORT + PORTS_TRIED):
        with socket.socket(family) as probe:
            if os.name != "nt":  # there it would take a port that another listens on
                probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind((address, port))
            except OSError as error:
                _check_address(address, error)
                continue
            return port
    taken = f"Port {wanted}" if wanted else f"Every port from {FIRST_PORT} on"
    message = f"{taken} is in use on this machine. Name another one with --port."
    raise StoreError(message)


def _check_address(address: str, error: OSError) -> None:
    if error.errno == errno.EADDRNOTAVAIL:
        message = f"{address} is no address of this machine. Leave out --address to see what is."
        raise StoreError(message) from error


def _open_when_ready(address: str) -> None:
    unchecked = ssl.create_default_context()  # our own machine; a name would not fit 127.0.0.1
    unchecked.check_hostname, unchecked.verify_mode = False, ssl.CERT_NONE
    for _ in range(200):
        try:
            urllib.request.urlopen(
                f"{address}/_stcore/health", timeout=1, context=unchecked
            ).close()
        except OSError:
            time.sleep(0.1)
        else:
            webbrowser.open(address)
            return
