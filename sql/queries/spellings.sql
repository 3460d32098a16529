-- spellings: every spelling ever used and whom it stands for.
-- Params:  (none)
-- Grain:   one row per spelling.
-- Used by: steps.people

select written.spelling, known_person.spelled_id, known_person.person_id, main.spelling as stands_for
from known_person
join person_name as written on written.person_id = known_person.spelled_id
join person_name as main on main.person_id = known_person.person_id
order by stands_for, written.spelling;
