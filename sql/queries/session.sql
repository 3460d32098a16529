-- session: one session with its plan, its beer and how it ended.
-- Params:  $session_id
-- Grain:   one row, or none; without a plan it was brought in from a file.
-- Used by: steps.planning, steps.session_facts

select
    session.session_id,
    session.session_on,
    session.label,
    session.recorded_at       as planned_at,
    plan.purpose,
    plan.beer,
    known_beer.label          as beer_label,
    known_beer.family,
    known_family.label        as family_label,
    plan.volume_ml,
    plan.abv_percent,
    plan.has_control,
    plan.spits,
    plan.spat_share,
    plan.alcohol_limit_g,
    plan.most_glasses,
    plan.seed,
    plan.repeats,
    session_end.how,
    session_end.recorded_at   as ended_at,
    session.session_id in (select session_id from release_session) as is_release,
    coalesce(known_recoding.is_recoded, false) as is_recoded,
    known_recoding.person_id  as recoded_by
from session
left join plan using (session_id)
left join known_beer on known_beer.beer = plan.beer
left join known_family using (family)
left join session_end using (session_id)
left join known_recoding using (session_id)
where session.session_id = $session_id;
