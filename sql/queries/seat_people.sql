-- seat_people: everybody with every beer family, and whether they have any answer yet.
-- Params:  $until_on
-- Grain:   one row per person x beer family.
-- Used by: steps.seats

select
    known_person.person_id,
    known_family.family,
    known_person.person_id in (
        select person_id from attendance where session_on <= $until_on
    ) as has_answers
from known_person
cross join known_family
where spelled_id = known_person.person_id
order by known_person.person_id, known_family.family;
