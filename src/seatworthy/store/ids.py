"""Names of sessions, sittings, samples and servings: digests of what they are.

The same formula stands in ``sql/recording/results.sql``, so that a glass that was planned here and
one that a file tells of are known by the same name.
"""

from datetime import date
from hashlib import sha256


def session_name(session_on: date, session_key: str) -> str:
    """Id of a session: its day and its folded label."""
    return _named("session", session_on.isoformat(), session_key)


def sitting_name(session_on: date, session_key: str, sitting_key: str) -> str:
    """Id of a sitting: its session and its own folded label."""
    return _named("sitting", session_on.isoformat(), session_key, sitting_key)


def planned_sample_name(sitting_id: str, mark: str) -> str:
    """Id of a planned sample: its sitting and the letter of its vessel."""
    return _named("planned sample", sitting_id, mark)


def coded_serving_name(sitting_id: str, person_id: str, method: str, code: str) -> str:
    """Id of a glass with a code: its sitting, its person, the method and the code."""
    return _named(sitting_id, person_id, method, f"code {code}")


def _named(*parts: str) -> str:
    return sha256("\x1f".join(parts).encode()).hexdigest()[:16]
