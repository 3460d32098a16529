-- session_words: own words of one session of which nobody has said yet what they mean.
-- Purpose: how often each was said and nothing of the glasses, since the leader reads it before the
--          session is closed. What is said of a beer to be released stays sealed until its talk.
-- Params:  $session_id
-- Grain:   one row per folded wording, the most frequent first.
-- Used by: steps.accepted_words

select words_key, min(words) as words, count(*)::integer as answers
from known_answer
join known_serving using (serving_id)
join sample using (sample_id)
join sitting using (sitting_id)
where kind = 'words'
  and session_id = $session_id
  and words_key not in (select words_key from known_reading)
  and (
      session_id not in (select session_id from known_release)
      or session_id not in (select session_id from known_open_session)
      or sitting_id in (select sitting_id from known_talk)
  )
group by words_key
order by answers desc, words_key;
