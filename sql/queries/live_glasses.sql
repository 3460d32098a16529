-- live_glasses: whose answers of one session are in, and whether they came by phone.
-- Purpose: what was poured and what was said are not asked for, so that it may stand on a screen that
--          others see.
-- Params:  $session_id
-- Grain:   one row per serving, in the order of sittings, names and places.
-- Used by: steps.live_table

with glass as (
    select
        serving.serving_id,
        serving.position,
        serving.blind_code,
        sample.sitting_id,
        known_person.person_id
    from serving
    join sample using (sample_id)
    join sitting using (sitting_id)
    join known_person on known_person.spelled_id = serving.person_id
    where sitting.session_id = $session_id
),

in_set as (
    select serving_id, list(blind_code order by place) as codes
    from set_glass
    where serving_id in (select serving_id from glass)
    group by serving_id
),

said as (
    select serving_id, max(entry_no) as entry_no
    from answer
    where serving_id in (select serving_id from glass)
    group by serving_id
),

happened as (
    select serving_id, arg_max(kind, entry_no) as event
    from glass_event
    where serving_id in (select serving_id from glass)
    group by serving_id
),

linked as (
    select distinct ballot_link.sitting_id, known_person.person_id
    from ballot_link
    join known_person on known_person.spelled_id = ballot_link.person_id
    where ballot_link.sitting_id in (select sitting_id from glass)
)

select
    glass.serving_id,
    glass.sitting_id,
    sitting.label                                       as sitting,
    coalesce((
        select arg_max(is_over, entry_no)
        from sitting_over
        where sitting_over.sitting_id = glass.sitting_id
    ), false)                                           as is_over,
    glass.person_id,
    spelling                                            as name,
    coalesce(known_seated.state, 'expected')            as state,
    coalesce(in_set.codes, [glass.blind_code])          as codes,
    said.entry_no is not null                           as is_answered,
    phone_answer.entry_no is not null                   as is_by_phone,
    coalesce(happened.event, '')                        as event,
    linked.person_id is not null                        as has_link,
    session_end.how is null                             as is_open
from glass
join sitting using (sitting_id)
join person_name using (person_id)
left join known_seated
    on known_seated.sitting_id = glass.sitting_id and known_seated.person_id = glass.person_id
left join in_set using (serving_id)
left join said using (serving_id)
left join phone_answer
    on phone_answer.serving_id = glass.serving_id and phone_answer.entry_no = said.entry_no
left join happened using (serving_id)
left join session_end on session_end.session_id = sitting.session_id
left join linked on linked.sitting_id = glass.sitting_id and linked.person_id = glass.person_id
order by (
    select arg_max(starts_at, entry_no)
    from sitting_time
    where sitting_time.sitting_id = glass.sitting_id
) nulls last, sitting.label, glass.sitting_id, lower(spelling), glass.person_id, glass.position;
