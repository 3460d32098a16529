-- decisions: every signature, with the rulebook it names and the names of those concerned.
-- Params:  (none)
-- Grain:   one row per decision, in the order of signing.
-- Used by: steps.seats

select
    decision_id,
    proposal_id,
    known_person.person_id,
    known_decision.person_id as stated_id,
    whose.spelling           as name,
    known_decision.family,
    label                    as family_label,
    state,
    from_on,
    until_on,
    proposed_state,
    as_of_on,
    known_decision.rulebook_digest,
    known_rulebook.name      as rulebook_name,
    known_rulebook.version   as rulebook_version,
    model_version,
    facts_digest,
    reason,
    signing.person_id        as signer_id,
    signer.spelling          as signer,
    known_decision.entry_no,
    known_decision.recorded_at
from known_decision
join known_person on known_person.spelled_id = known_decision.person_id
join known_person as signing on signing.spelled_id = known_decision.signed_by
left join person_name as whose on whose.person_id = known_person.person_id
left join person_name as signer on signer.person_id = signing.person_id
left join known_family on known_family.family = known_decision.family
left join known_rulebook using (rulebook_digest)
order by known_decision.entry_no;
