-- rule_glasses: single answers for the rules that count them, those whose meaning is open left out.
-- Params:  $until_on
-- Grain:   one row per scored glass or forced-choice set with a known level, oldest first.
-- Used by: steps.glass_facts

select
    serving_id,
    scored_answer.person_id,
    compound,
    family,
    session_on,
    session_id,
    scored_answer.method,
    coalesce(position, 0) as position,
    round(total_level, 6) as level,
    outcome = 'right'     as is_right
from scored_answer
join known_serving using (serving_id)
where not is_blank
  and scored_answer.method <> 'a_not_a'
  and outcome <> 'open'
  and total_level is not null
  and session_on <= $until_on
order by session_on, serving_id;
