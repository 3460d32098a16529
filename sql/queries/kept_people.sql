-- kept_people: when everybody last sat or stated something, until when they are kept all the same, and
--              whether they were made anonymous.
-- Params:  (none)
-- Grain:   one row per person, by name.
-- Used by: steps.retention

with sat as (
    select person_id, max(session_on) as last_sat_on
    from attendance
    group by person_id
),

stated as (
    select known_person.person_id, max(author.recorded_at) as last_stated_at
    from author
    join known_person on known_person.spelled_id = author.person_id
    group by known_person.person_id
),

longer as (
    select known_person.person_id, arg_max(until_on, entry_no) as kept_until_on
    from kept_longer
    join known_person on known_person.spelled_id = kept_longer.person_id
    group by known_person.person_id
)

select
    person.person_id,
    spelling,
    person.recorded_at,
    last_sat_on,
    last_stated_at,
    kept_until_on,
    person.person_id in (select person_id from made_anonymous) as is_anonymous
from person
join known_person on known_person.spelled_id = person.person_id
    and known_person.person_id = person.person_id
join person_name on person_name.person_id = person.person_id
left join sat on sat.person_id = person.person_id
left join stated on stated.person_id = person.person_id
left join longer on longer.person_id = person.person_id
order by spelling;
