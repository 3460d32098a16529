-- proposals: every proposal put before the person concerned.
-- Purpose: a proposal is decided once anything is signed about its seat after it.
-- Params:  (none)
-- Grain:   one row per proposal, in the order of recording.
-- Used by: steps.proposals_put

with stated as (
    select known_proposal.*, known_person.person_id as whose
    from known_proposal
    join known_person on known_person.spelled_id = known_proposal.person_id
),

signed as (
    select known_person.person_id as whose, family, max(known_decision.entry_no) as last_entry
    from known_decision
    join known_person on known_person.spelled_id = known_decision.person_id
    group by known_person.person_id, family
)

select
    proposal_id,
    stated.whose as person_id,
    stated.family,
    state,
    as_of_on,
    until_on,
    rulebook_digest,
    model_version,
    facts_digest,
    stated.entry_no,
    stated.recorded_at,
    coalesce(last_entry > stated.entry_no, false) as is_decided
from stated
left join signed on signed.whose = stated.whose and signed.family = stated.family
order by stated.entry_no;
