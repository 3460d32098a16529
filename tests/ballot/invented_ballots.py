"""Invented ballots: what the steps would give, and a phone that asks for pages without a network."""

import threading
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from decimal import Decimal
from urllib.parse import urlencode, urlsplit

import anyio
from starlette.applications import Starlette

from seatworthy.ballot.routes import ballot_routes
from seatworthy.steps import ballot_feedback, ballots
from seatworthy.steps.ballot_views import (
    OPEN,
    REVEALED,
    BallotDone,
    BallotGlass,
    BallotView,
    NameOffered,
    OwnAnswer,
    OwnFeedback,
    OwnGlass,
)

SECRET = "abcDEF123-_ghijklmnopq"
DAY = date(2031, 5, 15)  # a Thursday; nothing on a ballot asks what day it is today
_NAMES = (
    ("acetaldehyde", "Acetaldehyde", "green apple", ("apple skin",)),
    ("acetic", "Acetic", "vinegar", ()),
    ("butyric", "Butyric", "baby sick", ()),
    ("caprylic", "Caprylic", "goaty, soap", ("goat",)),
    ("chlorophenol", "Chlorophenol", "plaster", ()),
    ("diacetyl", "Diacetyl", "butter", ("buttery", "popcorn")),
    ("dms", "DMS", "sweetcorn", ("cooked corn",)),
    ("earthy", "Earthy", "cellar", ()),
    ("ethyl_acetate", "Ethyl acetate", "solvent", ()),
    ("ethyl_hexanoate", "Ethyl hexanoate", "aniseed", ()),
    ("geosmin", "Geosmin", "damp earth", ()),
    ("h2s", "Hydrogen sulfide", "rotten egg", ()),
    ("indole", "Indole", "farmyard", ()),
    ("iron", "Iron", "blood, ink", ()),
    ("isoamyl", "Isoamyl acetate", "banana", ()),
    ("isovaleric", "Isovaleric", "old hops", ()),
    ("lightstruck", "Lightstruck", "skunk", ()),
    ("mercaptan", "Mercaptan", "drains", ()),
    ("t2n", "Papery", "cardboard", ("wet paper", "stale")),
    ("phenolic", "4-Vinylguaiacol", "clove", ("Nelke",)),
    ("sour", "Sour", "", ()),
    ("spicy", "Spicy", "pepper", ()),
    ("vanilla", "Vanillin", "vanilla", ()),
    ("yeasty", "Yeasty", "bread dough", ()),
)
NAMES = tuple(NameOffered(*name) for name in _NAMES)


def glass(place, *codes, method="naming", said=None, state="", asked="", answers=None):
    """A glass; answered if something is said of it."""
    return BallotGlass(
        serving_id=f"serving-{place}",
        place=place,
        codes=codes,
        method=method,
        asked=asked,
        state=state or ("answered" if said else "waiting"),
        answer=said,
        answers=(1 if said else 0) if answers is None else answers,
    )


PAPERY = OwnAnswer("words", words="Papery", sureness="fairly")
SIX = (
    glass(1, "208", said=OwnAnswer("nothing")),
    glass(2, "639", said=PAPERY),
    glass(3, "417"),
    glass(4, "551", "302", "118", method="triangle"),
    glass(5, "774", method="intensity", asked="Diacetyl"),
    glass(6, "926", method="a_not_a", asked="Diacetyl"),
)


def view(**changed):
    """A ballot of six, two of them answered."""
    asked = BallotView(
        name="Anneke Brandt",
        language="en",
        state=OPEN,
        session_on=DAY,
        starts_at=datetime.combine(DAY, time(14)),
        glasses=SIX,
        names=NAMES,
        spits=False,
        alcohol_limit_g=Decimal("8.0"),
        is_own_word=False,
        is_nudged=False,
        expires_on=date(2031, 5, 29),
    )
    return replace(asked, **changed)


def told(place, was, said, outcome, *, level="3", said_label="", note="", codes=None, **more):
    """A glass after the reveal."""
    return OwnGlass(
        place=place,
        codes=codes or (str(200 + place),),
        was=was,
        level=Decimal(level) if was and level else None,
        odd=more.get("odd", ""),
        held_by_others=more.get("held_by_others", False),
        said=said,
        said_label=said_label,
        outcome=outcome,
        note=note,
    )


def feedback(**changed):
    """Seven glasses told."""
    asked = OwnFeedback(
        name="Anneke Brandt",
        language="en",
        session_on=DAY,
        glasses=(
            told(1, "", OwnAnswer("nothing"), "right"),
            told(2, "Papery", OwnAnswer("words", "Acetaldehyde"), "wrong", said_label="Acetaldehyde"),
            told(3, "Diacetyl", OwnAnswer("words", "Diacetyl", sureness="certain"), "right", level="2.5"),
            told(4, "DMS", OwnAnswer("nothing"), "missed"),
            told(5, "Diacetyl", OwnAnswer("words", "theatre foyer"), "open", note="waits"),
            told(6, "Papery", OwnAnswer("picked", picked="302"), "right",
                 codes=("551", "302", "118"), odd="302"),
            told(7, "", OwnAnswer("words", "Sour"), "wrong", said_label="Sour", note="aside"),
            told(8, "Diacetyl", OwnAnswer("rating", rating=Decimal(7)), "rated"),
            told(9, "Geosmin", None, ""),
        ),
        right=3,
        counted=5,
        mixed_up=("Papery", "Acetaldehyde"),
        expires_on=date(2031, 5, 29),
    )  # fmt: skip
    return replace(asked, **changed)


class InventedSteps:
    """Stands in for the steps: one link, one ballot, and what becomes of the next form.

    Attributes:
        view: The ballot; None for a link that opens nothing.
        feedback: After the reveal.
        done: Outcome and fault of the next form.
        forms: What was sent, with its place.
        says: "unfit" and "fit", in the order in which they were said.
    """

    def __init__(self):
        self.view, self.feedback, self.done = view(), None, ("kept", "")
        self.forms, self.says, self.fault = [], [], None

    def _found(self, secret):
        if self.fault is not None:
            raise self.fault
        return self.view if secret == SECRET else None

    def ballot(self, desk, secret):
        """As in `steps.ballots`."""
        return self._found(secret)

    def answer(self, desk, secret, place, form):
        """As in `steps.ballots`; the form is kept."""
        found = self._found(secret)
        self.forms.append((place, form))
        return found and BallotDone(*self.done, found)

    def not_fit(self, desk, secret):
        """As in `steps.ballots`."""
        self.says.append("unfit")
        return self._found(secret)

    def fit_after_all(self, desk, secret):
        """As in `steps.ballots`."""
        self.says.append("fit")
        return self._found(secret)

    def own_feedback(self, desk, secret):
        """As in `steps.ballot_feedback`."""
        return self.feedback if secret == SECRET else None

    def stand_in(self, monkeypatch):
        """Take the place of the steps for one test."""
        for name in ("ballot", "answer", "not_fit", "fit_after_all"):
            monkeypatch.setattr(ballots, name, getattr(self, name))
        monkeypatch.setattr(ballot_feedback, "own_feedback", self.own_feedback)

    def reveal(self, **changed):
        """Close the session; what came of it is told."""
        self.view, self.feedback = view(state=REVEALED), feedback(**changed)


@dataclass(frozen=True)
class Page:
    """What a phone gets."""

    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def text(self):
        """The page as a phone reads it."""
        return self.body.decode()

    @property
    def location(self):
        """Where the phone is sent on to."""
        return self.headers["location"]


class Phone:
    """Asks an app for pages as a server would, without a network.

    Args:
        desk_of: Gives the open desk.

    Attributes:
        hangs_up: Whether it goes before it has sent its form.
    """

    def __init__(self, desk_of=lambda: None):
        self.hangs_up = False
        self.app = Starlette(routes=ballot_routes(desk_of))

    def get(self, address, **headers):
        """Ask for a page."""
        return self._ask("GET", address, b"", headers)

    def post(self, address, *pairs, **fields):
        """Send a form: fields by name, those with a name twice as pairs."""
        body = urlencode([*pairs, *fields.items()], errors="surrogatepass").encode()
        return self._ask("POST", address, body, {})

    def send(self, method, address, body=b"", **headers):
        """Ask in any way."""
        return self._ask(method, address, body, headers)

    def _ask(self, method, address, body, headers):
        """In a thread of its own, since the browser's tests run a loop in theirs."""
        found = []
        thread = threading.Thread(
            target=lambda: found.append(anyio.run(self._asked, method, address, body, headers))
        )
        thread.start()
        thread.join()
        return found[0]

    async def _asked(self, method, address, body, headers):
        parts, sent, received = urlsplit(address), [], [body]
        named = [
            (name.replace("_", "-").encode(), str(value).encode())
            for name, value in headers.items()
        ]
        scope = {
            "type": "http", "http_version": "1.1", "method": method, "scheme": "http",
            "path": parts.path, "raw_path": parts.path.encode("utf-8", "surrogatepass"), "root_path": "",
            "query_string": parts.query.encode(), "headers": [(b"host", b"testserver"), *named],
            "client": ("127.0.0.1", 1), "server": ("testserver", 80),
        }  # fmt: skip

        async def receive():
            if received and not self.hangs_up:
                return {"type": "http.request", "body": received.pop(), "more_body": False}
            return {"type": "http.disconnect"}

        async def send(message):
            sent.append(message)

        await self.app(scope, receive, send)
        start = sent[0]
        written = {name.decode(): value.decode() for name, value in start["headers"]}
        text = b"".join(message.get("body", b"") for message in sent[1:])
        return Page(start["status"], written, text)


def address(rest=""):
    """Where a page of the invented ballot stands."""
    return f"/b/{SECRET}" + (f"/{rest}" if rest != "" else "")
