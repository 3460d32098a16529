-- mixups: what a panellist said instead, in a window.
-- Purpose: a wrong name that is no one compound's is no mix-up and no miss, and stays out.
-- Params:  $person_id, $after_on, $until_on
-- Grain:   one row per compound served x compound said (null: nothing noticed).
-- Used by: steps.records

select compound, named_compound, sum(glasses)::integer as glasses
from wrong_name
where person_id = $person_id
  and session_on > $after_on
  and session_on <= $until_on
  and (outcome = 'missed' or named_compound is not null)
group by compound, named_compound
order by glasses desc, compound, named_compound;
