-- ballot_talk_answers: what was said of some servings after the talk.
-- Params:  $servings
-- Grain:   one row per answer after the talk, oldest first.
-- Used by: steps.ballot_seats

select serving_id, kind, words
from talk_answer
where list_contains($servings::varchar[], serving_id)
order by entry_no;
