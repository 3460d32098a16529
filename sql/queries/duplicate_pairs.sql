-- duplicate_pairs: hidden duplicates of one panellist and whether each pair agrees.
-- Params:  $after_on, $until_on
-- Grain:   one row per panellist x pair.
-- Used by: steps.seen

select person_id, family, compound, is_agreed
from duplicate_pair
where session_on > $after_on
  and session_on <= $until_on
order by person_id, session_on, duplicate_mark;
