-- session_glasses: every glass of one session, with what was said and what became of it.
-- Purpose: is_known tells whether somebody has said what own words mean; named_compound is the one
--          compound that they name, right_for what they may mean. All three hang on the words alone and
--          never on the glass: pages show them before the session is closed.
-- Params:  $session_id
-- Grain:   one row per serving.
-- Used by: steps.session_facts

select
    known_serving.serving_id,
    known_person.person_id,
    planned.sitting_id,
    known_serving.sample_id,
    known_serving.planned_sample_id,
    known_serving.method,
    known_serving.position,
    known_serving.blind_code,
    known_serving.duplicate_mark,
    known_answer.kind,
    known_answer.words,
    known_answer.rating,
    known_set_pick.blind_code              as picked,
    known_reading.names_one                as named_compound,
    known_reading.words_key is not null    as is_known,
    known_reading.right_for,
    coalesce(known_glass_event.kind, '')   as event,
    known_glass_aside.serving_id is not null as is_glass_aside,
    coalesce(known_glass_aside.is_unasked, false) as is_own_aside,
    known_serving.serving_id in (select serving_id from known_aside) as is_aside
from known_serving
join sample as planned on planned.sample_id = known_serving.planned_sample_id
join sitting on sitting.sitting_id = planned.sitting_id
join known_person on known_person.spelled_id = known_serving.person_id
left join known_answer on known_answer.serving_id = known_serving.serving_id
left join known_set_pick on known_set_pick.serving_id = known_serving.serving_id
left join known_reading using (words_key)
left join known_glass_event on known_glass_event.serving_id = known_serving.serving_id
left join known_glass_aside on known_glass_aside.serving_id = known_serving.serving_id
where sitting.session_id = $session_id
order by planned.sitting_id, known_person.person_id, position, blind_code;
