-- person_yes_no: one panellist's A/not-A answers in a window.
-- Params:  $person_id, $after_on, $until_on
-- Grain:   one row.
-- Used by: steps.own_history

select
    (count(*) filter (where not is_blank))::integer                       as spiked,
    (count(*) filter (where not is_blank and outcome = 'right'))::integer as hits,
    (count(*) filter (where is_blank))::integer                           as blanks,
    (count(*) filter (where is_blank and outcome = 'wrong'))::integer     as false_alarms
from scored_answer
where method = 'a_not_a'
  and person_id = $person_id
  and session_on > $after_on
  and session_on <= $until_on;
