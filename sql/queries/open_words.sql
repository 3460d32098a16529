-- open_words: own words of which nobody has said yet what they mean, in sessions that are closed.
-- Params:  (none)
-- Grain:   one row per folded wording, the most frequent first.
-- Used by: steps.words

select words_key, min(words) as words, count(*)::integer as answers
from known_answer
join known_serving using (serving_id)
join sample using (sample_id)
join sitting using (sitting_id)
where kind = 'words'
  and session_id not in (select session_id from known_open_session)
  and words_key not in (select words_key from known_reading)
group by words_key
order by answers desc, words_key;
