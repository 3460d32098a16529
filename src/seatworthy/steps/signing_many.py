"""Signs at once whatever is proposed and takes nothing from anybody, with one PIN."""

from collections.abc import Sequence

from seatworthy.errors import PanelError
from seatworthy.steps.decision_views import ProposalView, SignerView
from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.desk import Desk
from seatworthy.steps.sentences import number_word, sentence_start


def plain_proposals(waiting: Sequence[ProposalView]) -> tuple[ProposalView, ...]:
    """Proposals that grant or renew, and to which nobody has asked for a recheck."""
    return tuple(
        one for one in waiting
        if not one.is_adverse and not (one.put and (one.put.recheck_open or one.put.facts_changed))
    )  # fmt: skip


def signed_together(
    waiting: Sequence[ProposalView], signers: Sequence[SignerView]
) -> tuple[ProposalView, ...]:
    """Plain proposals that somebody else than the person concerned may sign."""
    return tuple(
        one for one in plain_proposals(waiting)
        if not signers or any(signer.person_id != one.person_id for signer in signers)
    )  # fmt: skip


def sign_as_proposed(desk: Desk, shown: Sequence[ProposalView], *, signer: str, pin: str) -> str:
    """Sign proposals as they were shown, each as a decision of its own; the signer's own are left.

    Args:
        desk: The open store.
        shown: Proposals as the signer saw them; one whose facts changed since is refused.
        signer: Who signs.
        pin: Their PIN.

    Returns:
        A sentence that says how many were signed, and what was left.

    Raises:
        PanelError: with the first refusal; what was signed before it stands, and the sentence
            says so.
    """
    others = [one for one in plain_proposals(shown) if one.person_id != signer]
    for done, one in enumerate(others):
        try:
            sign_decision(
                desk,
                person_id=one.person_id,
                family=one.family,
                state=one.proposed,
                until_on=one.until_on,
                signer=signer,
                pin=pin,
                expected_facts_digest=one.facts_digest,
            )
        except PanelError as error:
            before = f"{_seats(done)} signed before this. " if done else ""
            message = f"{before}{one.name}: {error}"
            raise PanelError(message) from error
    left = len(plain_proposals(shown)) - len(others)
    own = " Nobody signs for themselves: the signer's own wait for somebody else." if left else ""
    return f"{_seats(len(others))} signed as proposed.{own}"


def _seats(number: int) -> str:
    many = sentence_start(number_word(number)) if number else "No"
    return f"{many} {'seat is' if number == 1 else 'seats are'}"
