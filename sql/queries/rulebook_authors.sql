-- rulebook_authors: who adopted each rulebook; nobody for the first one of a store.
-- Params:  (none)
-- Grain:   one row per adopted text.
-- Used by: steps.audit_words, steps.rulebook_views

select rulebook_digest, spelling as author
from known_rulebook
left join author using (entry_no)
left join known_person on known_person.spelled_id = author.person_id
left join person_name on person_name.person_id = known_person.person_id;
