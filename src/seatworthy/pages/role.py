"""Who looks at the pages, asked anew whenever the page script runs."""

import time
from urllib.parse import urlsplit

import streamlit as st

from seatworthy.network.settings import network_settings
from seatworthy.pages import source
from seatworthy.steps.leader_tickets import TICKET_COOKIE, role_of
from seatworthy.steps.roles import LEADER, Role


def role_now() -> Role | None:
    """The leader, a brewer, or nobody whom the pages are for.

    On one machine without a network there is no passphrase, and whoever sits at it is the leader.
    """
    if not network_settings().is_lan:
        return LEADER
    ticket = st.context.cookies.get(TICKET_COOKIE, "")
    return role_of(source.the_desk(), ticket, time.time())


def asked_path() -> str:
    """The last part of the address in the browser, "" for the first page."""
    return urlsplit(st.context.url or "").path.rstrip("/").rpartition("/")[2]
