-- words_said: how often some words were said in sessions that are closed.
-- Params:  $words_key
-- Grain:   one row.
-- Used by: steps.accepted_words

select count(*)::integer as answers, count(distinct session_id)::integer as sessions
from known_answer
join known_serving using (serving_id)
join sample using (sample_id)
join sitting using (sitting_id)
where kind = 'words'
  and words_key = $words_key
  and session_id not in (select session_id from known_open_session);
