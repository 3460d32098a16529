-- blank_counts: blanks and calls per panellist in a window.
-- Params:  $after_on, $until_on
-- Grain:   one row per panellist; those without blanks are absent.
-- Used by: steps.seen

select
    person_id,
    count(*) filter (where not is_possible_background)             as blanks,
    count(*) filter (where is_call and not is_possible_background) as false_calls,
    count(*) filter (where is_possible_background)                 as possible_background
from blank_glass
where session_on > $after_on
  and session_on <= $until_on
group by person_id;
