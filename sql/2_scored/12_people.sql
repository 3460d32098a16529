-- known_panellist, known_not_served: who is on the panel, and what they are not to be served.
-- Purpose: the last statement about each person holds, whatever spelling it was made under; what
--          any spelling of somebody is not to be served, they are not to be served.
-- Grain:   known_panellist one row per person anybody said it of; known_not_served one row per
--          person x thing in force.
-- Reads:   panellist, not_served, known_person
-- Used by: queries/panel_people, queries/panel_not_served

create or replace view known_panellist as
select
    known_person.person_id,
    arg_max(is_panellist, entry_no) as is_panellist,
    arg_max_null(since_on, entry_no) as since_on
from panellist
join known_person on known_person.spelled_id = panellist.person_id
where panellist.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by known_person.person_id;

create or replace view known_not_served as
select distinct known_person.person_id, kind, what
from (
    select person_id, kind, what
    from not_served
    where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
    group by person_id, kind, what
    having arg_max(is_in_force, entry_no)
) as stated
join known_person on known_person.spelled_id = stated.person_id;
