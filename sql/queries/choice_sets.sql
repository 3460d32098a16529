-- choice_sets: forced-choice sets of one panellist, with their level.
-- Params:  $person_id, $until_on
-- Grain:   one row per answered set.
-- Used by: steps.records

select compound, family, method, session_on, session_id, total_level, outcome = 'right' as is_right
from scored_answer
where person_id = $person_id
  and method <> 'naming'
  and not is_blank
  and session_on <= $until_on
order by compound, session_on, session_id, total_level;
