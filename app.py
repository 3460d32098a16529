"""The entry: fonts, security headers, host check, and the name of the page script; nothing else."""

from pathlib import Path

import streamlit as st
from starlette.middleware import Middleware
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.routing import Mount
from starlette.staticfiles import StaticFiles

import seatworthy.pages
from seatworthy.pages.look import FONT_ROUTE
from seatworthy.pages.shield import OWN_HOSTS, OwnOrigins, SecurityHeaders

_PAGES = Path(seatworthy.pages.__file__).parent

app = st.App(
    _PAGES / "script.py",
    routes=[Mount(FONT_ROUTE, StaticFiles(directory=_PAGES / "fonts"))],
    middleware=[
        Middleware(TrustedHostMiddleware, allowed_hosts=OWN_HOSTS),
        Middleware(OwnOrigins),
        Middleware(SecurityHeaders),
    ],
)
