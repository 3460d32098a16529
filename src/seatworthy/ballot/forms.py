"""What a phone sends back: a form's fields, read once and with limits."""

from typing import Final
from urllib.parse import parse_qsl

from seatworthy.steps.ballot_views import SURENESS, FormAnswer

LONGEST_BODY: Final = 16 * 1024
MOST_FIELDS: Final = 20
WORDS_LENGTH: Final = 120
_FIELDS: Final = ("what", "words", "rating", "sure", "seen", "when")
_AFTER: Final = "after"  # the talk


class BadForm(Exception):
    """A form that no page of ours sends."""


def read_form(body: bytes) -> FormAnswer:
    """A form as it was sent.

    A sureness that is none of ours counts as not said, and `seen` as unsaid unless it is a count.

    Args:
        body: Fields as browsers write them in a form's body.

    Raises:
        BadForm: if it holds too much, or one field twice with different contents.
    """
    if len(body) > LONGEST_BODY:
        raise BadForm
    try:
        pairs = parse_qsl(
            body.decode("latin-1"), keep_blank_values=True, max_num_fields=MOST_FIELDS,
            encoding="utf-8", errors="replace",
        )  # fmt: skip
    except ValueError as many:
        raise BadForm from many
    fields: dict[str, str] = {}
    for name, value in pairs:
        if name in _FIELDS and fields.setdefault(name, value) != value:
            raise BadForm
    return FormAnswer(
        choice=fields.get("what", ""),
        words=fields.get("words", "").strip(),
        rating=fields.get("rating", ""),
        sureness=_sureness(fields.get("sure", "")),
        seen=_count(fields.get("seen", "")),
        is_after=fields.get("when") == _AFTER,
    )


def _sureness(text: str) -> str:
    return text if text in SURENESS else ""


def _count(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 7 else None
