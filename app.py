"""The entry: routes, the layers around the server, and the name of the page script; nothing else."""

import time
from pathlib import Path

import streamlit as st
from starlette.middleware import Middleware
from starlette.routing import Mount
from starlette.staticfiles import StaticFiles

import seatworthy.pages
from seatworthy.ballot.door import door_routes
from seatworthy.ballot.reach import reach_routes
from seatworthy.ballot.routes import ballot_routes
from seatworthy.network.layers import layers
from seatworthy.network.settings import network_settings
from seatworthy.pages.look import FONT_ROUTE
from seatworthy.steps.desk import held_desk
from seatworthy.steps.leader_tickets import is_ticket, role_of
from seatworthy.steps.roles import BREWER

_PAGES = Path(seatworthy.pages.__file__).parent
_SETTINGS = network_settings()


def _is_leader(ticket: str) -> bool:
    return is_ticket(held_desk(), ticket, time.time())


def _is_brewer(ticket: str) -> bool:
    return role_of(held_desk(), ticket, time.time()) == BREWER


app = st.App(
    _PAGES / "script.py",
    routes=[
        Mount(FONT_ROUTE, StaticFiles(directory=_PAGES / "fonts")),
        *ballot_routes(),
        *door_routes(is_locked=_SETTINGS.is_lan, is_encrypted=_SETTINGS.is_encrypted),
        *reach_routes(),
    ],
    middleware=[
        Middleware(layer, **words) for layer, words in layers(_SETTINGS, _is_leader, _is_brewer)
    ],
)
