-- person_glasses: every glass of one panellist with something in it, oldest first.
-- Params:  $person_id, $until_on, $after_on, $lowest_level, $highest_level
-- Grain:   one row per answered serving; is_counted tells those that count for a seat.
-- Used by: steps.feedback, steps.record_rows

select
    serving_id,
    compound,
    family,
    method,
    session_on,
    total_level,
    background_level,
    outcome,
    coalesce(named_compound, words, '') as said,
    named_compound is not null          as said_a_compound,
    coalesce(
        method = 'naming'
        and outcome <> 'open'
        and session_on > $after_on
        and round(total_level, 6) between $lowest_level and $highest_level,
        false
    ) as is_counted
from scored_answer
where person_id = $person_id
  and not is_blank
  and session_on <= $until_on
order by session_on, compound, total_level, serving_id;
