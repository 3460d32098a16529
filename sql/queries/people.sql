-- people: everybody on record under the name they stand for.
-- Params:  (none)
-- Grain:   one row per person.
-- Used by: steps.people, steps.seen, steps.session_facts, steps.shelf, steps.weighings_kept

select person_id, spelling
from known_person
join person_name using (person_id)
where spelled_id = person_id
order by spelling;
