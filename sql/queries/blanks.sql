-- blanks: every blank up to one day, and whether something was called in it.
-- Params:  $until_on
-- Grain:   one row per blank glass; those the beer may explain are left out.
-- Used by: steps.seen

select person_id, family, session_on, is_call, sample_id, named_compound
from blank_glass
where session_on <= $until_on
  and not is_possible_background
order by session_on, person_id, serving_id;
