"""Starts the page server in this process, on this machine only."""

import os
import socket
import sys
import threading
import time
import urllib.request
import webbrowser
from pathlib import Path

from seatworthy.errors import StoreError
from seatworthy.shipped import shipped
from seatworthy.steps.desk import STORE_VARIABLE

HOST = "127.0.0.1"
FIRST_PORT = 8501
PORTS_TRIED = 50


def open_pages(store: Path, port: int | None, *, browser: bool) -> int:
    """Serve the pages of a store until stopped.

    Args:
        store: The store; it must not be open in this process.
        port: Port on this machine; None for the first free one.
        browser: Whether to open a browser once the pages answer.

    Raises:
        StoreError: if the port is taken.
    """
    from streamlit.web import cli as streamlit_cli

    port = _free_port(port)
    address = f"http://{HOST}:{port}"
    os.environ[STORE_VARIABLE] = str(store.resolve())
    print(f"Open {address} in a browser on this machine. Stop with Ctrl+C.", flush=True)
    if browser:
        threading.Thread(target=_open_when_ready, args=(address,), daemon=True).start()
    sys.argv = [
        "streamlit", "run", str(shipped("app.py")),
        "--server.address", HOST,
        "--server.port", str(port),
        "--server.headless", "true",
        "--logger.hideWelcomeMessage", "true",
    ]  # fmt: skip
    try:
        streamlit_cli.main()
    except SystemExit as end:
        return int(end.code or 0)
    return 0


def _free_port(wanted: int | None) -> int:
    for port in [wanted] if wanted else range(FIRST_PORT, FIRST_PORT + PORTS_TRIED):
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind((HOST, port))
            except OSError:
                continue
            return port
    taken = f"Port {wanted}" if wanted else f"Every port from {FIRST_PORT} on"
    message = f"{taken} is in use on this machine. Name another one with --port."
    raise StoreError(message)


def _open_when_ready(address: str) -> None:
    for _ in range(200):
        try:
            urllib.request.urlopen(f"{address}/_stcore/health", timeout=1).close()
        except OSError:
            time.sleep(0.1)
        else:
            webbrowser.open(address)
            return
