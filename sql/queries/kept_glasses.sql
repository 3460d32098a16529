-- kept_glasses: every glass of one person in sessions that are over, with what they said of it.
-- Purpose: for them and their copy; what is in a glass of an open session stays unsaid.
-- Params:  $person_id
-- Grain:   one row per serving, oldest first.
-- Used by: steps.kept_about, steps.own_copy

select
    session_on,
    session.label                       as session_label,
    coalesce(blind_code, '')            as code,
    position,
    method,
    coalesce(compound.label, '')        as what_was_in_it,
    coalesce(kind, '')                  as kind,
    coalesce(words, '')                 as words,
    rating::varchar                     as rating,
    serving_id in (select serving_id from known_aside) as is_aside
from known_serving
join known_person on known_person.spelled_id = known_serving.person_id
join sample using (sample_id)
join sitting using (sitting_id)
join session using (session_id)
left join known_answer using (serving_id)
left join compound on compound.compound = sample.compound
where known_person.person_id = $person_id
  and session_id not in (select session_id from known_open_session)
order by session_on, session.label, position, serving_id;
