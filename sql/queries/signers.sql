-- signers: who may sign decisions, and under which spelling that was stated.
-- Params:  (none)
-- Grain:   one row per spelling that may sign, by name.
-- Used by: steps.people, steps.signers

select known_person.person_id, spelling, known_signer.person_id as stated_id
from known_signer
join known_person on known_person.spelled_id = known_signer.person_id
join person_name on person_name.person_id = known_person.person_id
order by spelling, stated_id;
