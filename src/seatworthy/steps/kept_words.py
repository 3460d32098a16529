"""What each place of the store keeps about a person, in plain words."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

# By table and column: under which head it is told, what it is called for one and for many. A place that
# stands here for every table with a key to a person is what the page promises; a test holds it to that.
PLACE_WORDS: Final[Mapping[str, tuple[str, str, str]]] = MappingProxyType(
    {
        "person.person_id": ("Name", "spelling put on record", "spellings put on record"),
        "person_name.person_id": ("Name", "name as it is shown", "names as they are shown"),
        "same_person.person_id": (
            "Name", "statement that a spelling is this person",
            "statements that a spelling is this person",
        ),
        "same_person.stands_for": (
            "Name", "spelling taken for this person", "spellings taken for this person",
        ),
        "panellist.person_id": (
            "Panel", "statement of being on the panel or not", "statements of being on the panel or not",
        ),
        "not_served.person_id": (
            "Panel", "statement of what is not to be served, without a reason",
            "statements of what is not to be served, without a reason",
        ),
        "sitting_person.person_id": (
            "Sessions", "statement of being expected, late or away, without a reason",
            "statements of being expected, late or away, without a reason",
        ),
        "serving.person_id": ("Sessions", "glass", "glasses"),
        "spare_taken.person_id": ("Sessions", "spare set of glasses taken", "spare sets of glasses taken"),
        "answer.serving_id": ("Sessions", "answer, with own words", "answers, with own words"),
        "set_pick.serving_id": ("Sessions", "pick out of a set", "picks out of a set"),
        "set_glass.serving_id": ("Sessions", "glass of a set", "glasses of sets"),
        "phone_answer.serving_id": (
            "Sessions", "answer by phone, with how sure", "answers by phone, with how sure",
        ),
        "correction.serving_id": ("Sessions", "answer corrected, with the reason", "answers corrected, with the reason"),
        "set_aside.serving_id": ("Sessions", "glass set aside, with the reason", "glasses set aside, with the reason"),
        "remark.serving_id": ("Sessions", "remark on a glass", "remarks on glasses"),
        "glass_event.serving_id": ("Sessions", "glass spilled or short", "glasses spilled or short"),
        "poured_instead.serving_id": ("Sessions", "glass poured from another jug", "glasses poured from another jug"),
        "talk_answer.serving_id": ("Sessions", "answer after a talk", "answers after a talk"),
        "proposal.person_id": ("Seats", "proposal for a seat", "proposals for seats"),
        "proposal_reply.proposal_id": ("Seats", "reply to a proposal", "replies to proposals"),
        "decision.person_id": ("Seats", "signed decision about a seat", "signed decisions about seats"),
        "decision_compound.decision_id": (
            "Seats", "compound in a signed decision", "compounds in signed decisions",
        ),
        "signer.person_id": ("Signing", "statement of who may sign", "statements of who may sign"),
        "signer_pin.person_id": (
            "Signing", "PIN, of which only a digest is kept", "PINs, of which only digests are kept",
        ),
        "decision.signed_by": ("Signing", "decision signed", "decisions signed"),
        "author.person_id": (
            "Signing", "act in the history that carries the name", "acts in the history that carry the name",
        ),
        "preparer.person_id": ("Preparing", "session prepared", "statements about sessions prepared"),
        "recoding.person_id": ("Preparing", "session whose codes they put on", "sessions whose codes they put on"),
        "vessel_dosed.person_id": ("Preparing", "vessel dosed", "vessels dosed"),
        "vessel_step.person_id": ("Preparing", "step done with a vessel", "steps done with vessels"),
        "batch_crew.person_id": (
            "Release", "statement of the crew of a batch", "statements of the crew of a batch",
        ),
        "chosen_person.person_id": ("Release", "panel they were chosen for", "panels they were chosen for"),
        "weighed_word.person_id": ("Release", "call that was weighed", "calls that were weighed"),
        "ballot_link.person_id": (
            "Ballots", "link to a ballot, of which only a digest is kept",
            "links to ballots, of which only digests are kept",
        ),
        "ballot_language.person_id": (
            "Ballots", "statement of the language their ballot speaks",
            "statements of the language their ballot speaks",
        ),
        "kept_longer.person_id": (
            "This record", "statement of being kept longer", "statements of being kept longer",
        ),
        "person_copy.person_id": ("This record", "copy handed to them", "copies handed to them"),
        "made_anonymous.person_id": ("This record", "spelling made anonymous", "spellings made anonymous"),
    }
)  # fmt: skip
HEADS: Final = (
    "Name", "Panel", "Sessions", "Seats", "Signing", "Preparing", "Release", "Ballots", "This record",
)  # fmt: skip


def place_words(key: str, rows: int) -> tuple[str, str]:
    """Under which head a place is told, and what so many rows of it are called.

    Args:
        key: Table and column.
        rows: How many.
    """
    head, one, many = PLACE_WORDS.get(key, ("This record", key, key))
    return head, one if rows == 1 else many
