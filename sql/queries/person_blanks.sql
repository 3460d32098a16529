-- person_blanks: every unspiked naming glass of one panellist in a window, oldest first.
-- Params:  $person_id, $after_on, $until_on
-- Grain:   one row per blank.
-- Used by: steps.reasons

select
    serving_id, session_on, family, is_call, is_possible_background,
    coalesce(named_compound, words, '') as said,
    named_compound is not null          as said_a_compound
from blank_glass
where person_id = $person_id
  and session_on > $after_on
  and session_on <= $until_on
order by session_on, serving_id;
