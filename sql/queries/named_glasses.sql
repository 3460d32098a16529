-- named_glasses: what everybody called the glasses with something in them, up to one day.
-- Params:  $until_on
-- Grain:   one row per answered naming glass of known level.
-- Used by: steps.next_mix_ups, steps.noses

select person_id, compound, family, session_on, total_level, background_level, outcome, named_compound
from scored_answer
where not is_blank
  and method = 'naming'
  and outcome <> 'open'
  and total_level is not null
  and session_on <= $until_on
order by session_on, person_id, serving_id;
