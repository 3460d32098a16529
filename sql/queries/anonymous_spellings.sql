-- anonymous_spellings: every spelling that was made anonymous.
-- Params:  (none)
-- Grain:   one row per spelling.
-- Used by: steps.anonymous_copies, steps.anonymous_people, steps.panel, steps.people, steps.who_sits

select made_anonymous.person_id, known_person.person_id as stands_for, made_anonymous.recorded_at
from made_anonymous
cross join known_moment
join known_person on known_person.spelled_id = made_anonymous.person_id
where made_anonymous.recorded_at <= known_at
order by made_anonymous.recorded_at, made_anonymous.person_id;
