"""Can your phone reach me? A picture to scan, and what usually stands in the way."""

from typing import Final
from urllib.parse import urlsplit

import streamlit as st

from seatworthy.network.reaching import Remedy, remedies
from seatworthy.network.settings import lan_command
from seatworthy.pages.addresses import SESSIONS, is_for_this_machine_only, reach_address
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.qr_code import qr_picture

_WHERE: Final = ("Ballots on phones",)
_HERE_ANSWER: Final = "No phone can reach this computer now"
_HERE_CATCH: Final = "open it with --lan."
_HERE_LEAD: Final = (
    "Seatworthy listens to this computer alone. Stop it, and start it again with: {command}. "
    "It then asks for a passphrase, which keeps the leader's pages to you."
)
_ANSWER: Final = "Phones in the same network reach this computer"
_CATCH: Final = "see with one before the tasting."
_LEAD: Final = (
    "Scan this with a phone. It opens a page that says that it reached this computer, and nothing "
    "else; no link is needed for it."
)
_PORTS: Final = {"http": 80, "https": 443}


def show() -> None:
    """Draw the picture of the address, and the remedies under it."""
    address = reach_address()
    if is_for_this_machine_only():
        lead = _HERE_LEAD.format(command=lan_command())
        st.html(opening(_WHERE, _HERE_ANSWER, _HERE_CATCH, lead))
    else:
        st.html(opening(_WHERE, _ANSWER, _CATCH, _LEAD))
        picture = qr_picture(address, "This computer's address, to scan")
        st.html(paper(picture, tag("p", tag("code", escaped(address))), class_="big"))
    parts = urlsplit(address)
    found = remedies(parts.port or _PORTS.get(parts.scheme, 0))
    back = tag("p", tag("a", "All sessions", href=SESSIONS, target="_self"), class_="ways")
    st.html(paper(tag("h2", "If nothing comes"), *(_remedy(one) for one in found), back))


def _remedy(remedy: Remedy) -> str:
    steps = "".join(tag("li", escaped(step)) for step in remedy.steps)
    return (
        tag("h3", escaped(remedy.sign))
        + tag("p", escaped(remedy.cause))
        + tag("ul", steps, class_="care")
    )
