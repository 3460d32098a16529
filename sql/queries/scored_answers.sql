-- scored_answers: every answer that informs the model, up to one day.
-- Params:  $until_on
-- Grain:   one row per answer.
-- Used by: steps.seen

select
    person_id, compound, family, session_on, method, outcome, total_level, background_level,
    words, named_compound, sample_id
from scored_answer
where not is_blank
  and session_on <= $until_on
order by session_on, person_id, serving_id;
