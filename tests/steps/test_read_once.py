"""What is kept from one act to the next is what would be read anew."""

from collections import OrderedDict

import pytest
import seated
import thursday

from seatworthy.steps.answers import enter_answer
from seatworthy.steps.asides import set_glass_aside
from seatworthy.steps.facts_text import facts_digest
from seatworthy.steps.judging import judge_day
from seatworthy.steps.proposals import put_forward
from seatworthy.steps.session_facts import SessionFacts, session_facts
from seatworthy.steps.signers import change_pin
from seatworthy.steps.table import sitting_over

READ = ("sittings", "samples", "glasses", "seated", "spares", "preparers", "names", "labels",
        "methods", "outcomes")  # fmt: skip


@pytest.fixture
def signing(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        yield desk


def parts(facts):
    return {part: getattr(facts, part) for part in READ}


def answered(desk, session_id, person, said="diacetyl"):
    key, code = thursday.code_of(desk, session_id, person, "diacetyl")
    assert enter_answer(desk, session_id, key, code, said).outcome == "kept"


def test_after_an_answer_a_session_reads_as_from_the_record(desk, session_id, people):
    parts(session_facts(desk, session_id))
    for name in ("Ada", "Bo"):
        answered(desk, session_id, people[name])
        kept = session_facts(desk, session_id)
        assert "samples" in vars(kept)  # was not read again
        assert parts(kept) == parts(SessionFacts(desk, kept.head))
    assert sum(glass.kind is not None for glass in kept.glasses) == 2


def test_after_another_act_everything_is_read_anew(desk, session_id, people):
    answered(desk, session_id, people["Ada"])
    sitting_over(desk, session_facts(desk, session_id).sittings[0].sitting_id)
    facts = session_facts(desk, session_id)
    assert "samples" not in vars(facts)
    assert facts.sittings[0].is_over


def test_one_session_is_kept_however_many_answers_come(desk, session_id, people):
    for name in people:
        answered(desk, session_id, people[name])
    assert len(desk.sessions) == 1


def test_signing_changes_no_verdict_and_no_facts(signing, brewery):
    who = brewery.ids["Ada"], seated.FAMILY
    signing.judged = OrderedDict()  # one that minds the version
    before, judged = signing.evidence_version, judge_day(signing)
    digest = facts_digest(signing, *who, seated.TODAY)
    put_forward(signing, *who, by=None)
    change_pin(signing, brewery.ids["Lee"], seated.PIN, "5678")
    assert signing.evidence_version == before < signing.counted_version
    assert judge_day(signing) is judged
    signing.digests.clear()
    assert facts_digest(signing, *who, seated.TODAY) == digest


def test_what_is_evidence_is_judged_and_digested_anew(signing, brewery):
    who = brewery.ids["Ada"], seated.FAMILY
    before, digest = signing.evidence_version, facts_digest(signing, *who, seated.TODAY)
    glass = signing.store.rows("facts", person_id=who[0], until_on=seated.TODAY)
    serving = next(row["fact"].split("\x1f")[1] for row in glass if row["fact"].startswith("glass"))
    set_glass_aside(signing, serving, reason="poured twice", by=brewery.ids["Lee"])
    assert signing.evidence_version == signing.counted_version > before
    assert facts_digest(signing, *who, seated.TODAY) != digest
