-- rule_glasses: single answers for the rules that count them, those whose meaning is open left out.
-- Purpose: windows and runs are cut in the order of the glasses, so that order rests on what was in the
--          file and at the table, never on an id: day, session, sitting, position, code, sample.
-- Params:  $until_on
-- Grain:   one row per scored glass or forced-choice set with a known level, oldest first; position is
--          its place among all of one panellist's.
-- Used by: steps.glass_facts

select
    scored_answer.serving_id,
    scored_answer.person_id,
    scored_answer.compound,
    scored_answer.family,
    scored_answer.session_on,
    scored_answer.session_id,
    scored_answer.method,
    round(scored_answer.total_level, 6) as level,
    outcome = 'right'                   as is_right,
    row_number() over (
        partition by scored_answer.person_id
        order by
            scored_answer.session_on, session.label, sitting.label, known_serving.position,
            known_serving.blind_code, sample.mark, scored_answer.total_level, scored_answer.method,
            outcome, scored_answer.serving_id
    )                                   as position
from scored_answer
join known_serving using (serving_id)
join sample on sample.sample_id = scored_answer.sample_id
join sitting on sitting.sitting_id = scored_answer.sitting_id
join session on session.session_id = scored_answer.session_id
where not is_blank
  and scored_answer.method <> 'a_not_a'
  and outcome <> 'open'
  and scored_answer.total_level is not null
  and scored_answer.session_on <= $until_on
order by scored_answer.person_id, position;
