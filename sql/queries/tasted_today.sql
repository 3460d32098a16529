-- tasted_today: glasses that everybody had, and has still before them, in planned sessions of one day.
-- Purpose: what of alcohol was taken already. A set counts all its glasses, a control is one more.
-- Params:  $session_on
-- Grain:   one row per person x session; sessions called off and people who were absent left out.
-- Used by: steps.alcohol_today

with poured as (
    select
        known_serving.serving_id,
        known_person.person_id,
        session_id,
        greatest(1, coalesce(set_size.glasses, 1)) as glasses,
        known_serving.serving_id in (select serving_id from known_answer) as is_answered
    from known_serving
    join known_person on known_person.spelled_id = known_serving.person_id
    join sample on sample.sample_id = known_serving.planned_sample_id
    join sitting using (sitting_id)
    join session using (session_id)
    left join (
        select serving_id, count(*) as glasses from set_glass group by serving_id
    ) as set_size on set_size.serving_id = known_serving.serving_id
    where session_on = $session_on
      and (sample.sitting_id, known_person.person_id) not in (
          select (sitting_id, person_id) from known_seated where state = 'absent'
      )
)

select
    poured.person_id,
    session.label,
    coalesce(sum(glasses) filter (where is_answered), 0)::integer     as had,
    coalesce(sum(glasses) filter (where not is_answered), 0)::integer as to_come,
    session.session_id in (select session_id from known_open_session) as is_open,
    plan.volume_ml,
    plan.abv_percent,
    plan.has_control,
    plan.spits,
    plan.spat_share,
    plan.alcohol_limit_g
from poured
join session using (session_id)
left join plan using (session_id)
where session.session_id not in (select session_id from session_end where how = 'called_off')
group by all
order by session.label, poured.person_id;
