"""The language in which somebody's ballot speaks."""

from seatworthy.errors import PanelError
from seatworthy.steps.desk import Desk
from seatworthy.steps.people import known_spellings
from seatworthy.steps.signing import sign

LANGUAGES = {"en": "English", "de": "Deutsch", "es": "Español"}
USUAL = "en"


def languages(desk: Desk) -> dict[str, str]:
    """Language by person id, of everybody for whom one was stated."""
    return {row["person_id"]: row["language"] for row in desk.store.rows("panel_languages")}


def speaks(desk: Desk, person_id: str, language: str, by: str | None = None) -> str:
    """State in which language somebody's ballot speaks from now on.

    Args:
        desk: The open store.
        person_id: Whose ballot.
        language: A key of `LANGUAGES`.
        by: Who says so.

    Raises:
        PanelError: if nobody has this id, or there are no texts in the language.
    """
    names = {person: name for name, person in known_spellings(desk).ids.items()}
    if person_id not in names:
        message = "Nobody on the list of people goes by that id. Nothing was recorded."
        raise PanelError(message)
    if language not in LANGUAGES:
        message = f"Ballots speak {', '.join(LANGUAGES.values())}. Nothing was recorded."
        raise PanelError(message)
    with desk.store.recording("language") as act:
        if languages(desk).get(person_id, USUAL) != language:
            sign(act, by)
            act.add("ballot_language", {"person_id": person_id, "language": language})
    return f"{names[person_id]}'s ballot speaks {LANGUAGES[language]}."
